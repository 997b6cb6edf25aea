"""Photos made ready for pages: turned upright, scaled to a few widths, in WebP and AVIF with a JPEG for everyone.

Only the picture itself is kept: place, camera and everything else the file tells is left out. A file that is no
picture, or one larger than can be decoded safely, is a finding.
"""

import io
import warnings
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from generator.pages.prose import anchor
from generator.pages.records import Picture

if TYPE_CHECKING:
    from PIL.Image import Image

WIDTHS = (480, 960, 1440)
"""Widths in CSS pixels; the middle one is what every browser can show."""
MOST_PIXELS = 60_000_000
"""A camera's picture has up to about 50 million; a bomb has more."""


class NoPhoto(Exception):
    """The file can't be shown; the message says why, for a finding."""


@dataclass(frozen=True, slots=True)
class Ready:
    """A photo made ready: its record and its files by name, and its cuts for sharing."""

    picture: Picture
    files: Mapping[str, bytes]
    wide: bytes
    tall: bytes


def prepare(data: bytes, name: str, alt: str, *, avif: bool = True) -> Ready:
    """One photo. `name` is its file name beside the pattern; files keep its stem.

    Raises:
        NoPhoto: it is no picture, or too large.
    """
    image = _open(data)
    stem = anchor(name.rpartition(".")[0] or name)
    widths = [width for width in WIDTHS if width < image.width] or []
    widths = [*widths, image.width] if image.width < WIDTHS[-1] else widths or [image.width]
    files: dict[str, bytes] = {}
    lists: dict[str, list[str]] = {}
    for width in widths:
        scaled = (
            image if width == image.width else image.resize((width, max(1, round(image.height * width / image.width))))
        )
        for kind, suffix in (("image/avif", "avif"), ("image/webp", "webp"), ("image/jpeg", "jpg")):
            if kind == "image/avif" and not avif:
                continue
            file = f"{stem}-{width}.{suffix}"
            files[file] = _encode(scaled, suffix)
            lists.setdefault(kind, []).append(f"{file} {width}w")
    shown = min(widths, key=lambda width: abs(width - 960))
    picture = Picture(
        alt=alt,
        src=f"{stem}-{shown}.jpg",
        width=shown,
        height=max(1, round(image.height * shown / image.width)),
        sources=tuple((kind, ", ".join(names)) for kind, names in lists.items() if kind != "image/jpeg"),
        srcset=", ".join(lists["image/jpeg"]),
    )
    return Ready(picture, files, _cut(image, 1200, 630), _cut(image, 1000, 1500))


def _open(data: bytes) -> "Image":
    from PIL import Image, ImageOps, UnidentifiedImageError

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            image = Image.open(io.BytesIO(data))
            if image.width * image.height > MOST_PIXELS:
                raise NoPhoto(f"it has {image.width * image.height // 1_000_000} megapixels, 60 at most can be used")
            image.draft("RGB", (2880, 2880))
            image.load()
            upright = ImageOps.exif_transpose(image) or image
            return _flat(upright)
    except (UnidentifiedImageError, Image.DecompressionBombError, OSError, SyntaxError, ValueError) as error:
        if isinstance(error, Image.DecompressionBombError):
            raise NoPhoto("it is larger than can be decoded safely") from None
        raise NoPhoto("it is not a picture this can read") from None


def _flat(image: "Image") -> "Image":
    """Plain RGB on white, in a new image that carries no metadata along."""
    from PIL import Image

    if image.mode in ("RGBA", "LA", "P", "PA"):
        layer = image.convert("RGBA")
        flat = Image.new("RGB", image.size, "white")
        flat.paste(layer, mask=layer.getchannel("A"))
        return flat
    flat = Image.new("RGB", image.size)
    flat.paste(image.convert("RGB"))
    return flat


def _encode(image: "Image", suffix: str) -> bytes:
    out = io.BytesIO()
    if suffix == "jpg":
        image.save(out, "JPEG", quality=82, optimize=True, progressive=True)
    elif suffix == "webp":
        image.save(out, "WEBP", quality=78, method=4)
    else:
        # One thread: the bytes would otherwise depend on how many cores there are.
        image.save(out, "AVIF", quality=60, speed=8, max_threads=1)
    return out.getvalue()


def _cut(image: "Image", width: int, height: int) -> bytes:
    from PIL import ImageOps

    return _encode(ImageOps.fit(image, (width, height)), "jpg")
