"""Photos made ready for pages: turned upright, scaled to a few widths, in WebP and AVIF with a JPEG for everyone.

Only the picture itself is kept: place, camera and everything else the file tells is left out. A file that is no
picture, or one larger than can be decoded safely, is a finding.
"""

import io
import warnings
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
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
    """A photo made ready: its record and its files by name, and its cuts for sharing, where they were asked for."""

    picture: Picture
    files: Mapping[str, bytes]
    wide: bytes
    tall: bytes


Before = Callable[[str], bytes | None]
"""A file made of the very same photo before, by its name; None where there is none."""
WIDE, TALL = "card.jpg", "pin.jpg"
"""The cuts for sharing, as they are published."""


def _nothing(_: str) -> None:
    return None


def prepare(data: bytes, name: str, alt: str, before: Before = _nothing, *, cut: bool = True) -> Ready:
    """One photo. `name` is its file name beside the pattern; files keep its stem. Without `cut` none is made for sharing.

    Raises:
        NoPhoto: it is no picture, or too large.
    """
    image = cache(lambda: _open(data))
    scaled = cache(lambda width: _scaled(image(), width))
    picture, widths = _plan(_open(data, size_only=True).size, name, alt)
    files = {file: before(file) or _encode(scaled(width), file.rpartition(".")[2]) for file, width in widths.items()}
    if not cut:
        return Ready(picture, files, b"", b"")
    wide, tall = before(WIDE) or _cut(image(), 1200, 630), before(TALL) or _cut(image(), 1000, 1500)
    return Ready(picture, files, wide, tall)


def foresee(data: bytes, name: str, alt: str) -> Picture:
    """What `prepare` will make of a photo, read off its first bytes: nothing is scaled yet.

    Raises:
        NoPhoto: it is no picture, or too large.
    """
    return _plan(_open(data, size_only=True).size, name, alt)[0]


def single(data: bytes, name: str, file: str) -> bytes | None:
    """One of the files that `prepare` makes; None where it makes no such file.

    Raises:
        NoPhoto: it is no picture, or too large.
    """
    width = _plan(_open(data, size_only=True).size, name, "")[1].get(file)
    return _encode(_scaled(_open(data), width), file.rpartition(".")[2]) if width else None


def _plan(size: tuple[int, int], name: str, alt: str) -> tuple[Picture, dict[str, int]]:
    """The picture's record, and the width of every file of it."""
    stem = anchor(name.rpartition(".")[0] or name)
    widths = sorted({*(width for width in WIDTHS if width <= size[0]), min(size[0], WIDTHS[-1])})
    shown = min(widths, key=lambda width: abs(width - 960))
    lists = {
        suffix: ", ".join(f"{stem}-{width}.{suffix} {width}w" for width in widths) for suffix in ("avif", "webp", "jpg")
    }
    picture = Picture(
        alt=alt,
        src=f"{stem}-{shown}.jpg",
        width=shown,
        height=max(1, round(size[1] * shown / size[0])),
        sources=(("image/avif", lists["avif"]), ("image/webp", lists["webp"])),
        srcset=lists["jpg"],
    )
    return picture, {f"{stem}-{width}.{suffix}": width for width in widths for suffix in lists}


def _scaled(image: "Image", width: int) -> "Image":
    if width == image.width:
        return image
    return image.resize((width, max(1, round(image.height * width / image.width))))


def _open(data: bytes, *, size_only: bool = False) -> "Image":
    """The picture upright and plain; for its size alone it is only turned."""
    from PIL import Image, ImageOps, UnidentifiedImageError

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            image = Image.open(io.BytesIO(data))
            if image.width * image.height > MOST_PIXELS:
                raise NoPhoto(f"it has {image.width * image.height // 1_000_000} megapixels, 60 at most can be used")
            image.draft("RGB", (2880, 2880))
            if size_only:
                turned = image.getexif().get(_TURNED, 1) in _ON_ITS_SIDE
                return Image.new("1", image.size[::-1] if turned else image.size)
            image.load()
            upright = ImageOps.exif_transpose(image) or image
            return _flat(upright)
    except (UnidentifiedImageError, Image.DecompressionBombError, OSError, SyntaxError, ValueError) as error:
        if isinstance(error, Image.DecompressionBombError):
            raise NoPhoto("it is larger than can be decoded safely") from None
        raise NoPhoto("it is not a picture this can read") from None


_TURNED, _ON_ITS_SIDE = 0x0112, range(5, 9)
"""EXIF 2.32: the tag of how the camera was held, and its values for sideways."""


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
