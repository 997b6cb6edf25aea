"""Themes on disk: the studio's own folder `themes/` first, then those that come with the tool."""

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from hashlib import sha256
from pathlib import Path

import generator
from generator.bindery import THEMES, booklet_templates
from generator.diagnostics.record import Checked, Finding, Severity
from generator.pages.html import Theme
from generator.pages.studio import Studio
from generator.source import NOWHERE

OWN = THEMES
"""Themes that come with the tool."""
GROUND = "_ground"
PLAIN = "quire"
_ASSETS = (".css", ".js", ".svg", ".png", ".webp", ".woff2")


@dataclass(frozen=True, slots=True)
class Shelved:
    """A theme with its colours and the folder of its booklet templates."""

    theme: Theme
    colours: Mapping[str, str]
    booklet: Mapping[str, str]


def load_theme(studio: Studio, content: Path) -> Checked[Shelved]:
    """The studio's theme. Gives `theme-missing`; then the plain one stands in."""
    folder = _folder(studio.theme, content)
    findings: tuple[Finding, ...] = ()
    if folder is None:
        span = studio.spans.get("theme", NOWHERE)
        fits = "one of " + ", ".join(themes(content))
        findings = (Finding("theme-missing", Severity.ERROR, f"there is no theme `{studio.theme}`", span, fits),)
        folder = OWN / PLAIN
    ground = OWN / GROUND
    assets = {**_assets(ground), **_assets(folder)}
    theme = Theme.of(folder.name, _texts(folder), _texts(ground), assets)
    return Checked(Shelved(theme, _colours(folder), booklet_templates(folder.name, content)), findings)


def themes(content: Path) -> tuple[str, ...]:
    """Names of all themes within reach, sorted."""
    return tuple(sorted({place.name for shelf in (content / "themes", OWN) for place in _folders(shelf)}))


def _folders(shelf: Path) -> Iterator[Path]:
    if shelf.is_dir():
        yield from (place for place in shelf.iterdir() if place.is_dir() and not place.name.startswith(("_", ".")))


def _folder(name: str, content: Path) -> Path | None:
    if not name or "/" in name or "\\" in name or name.startswith(("_", ".")):
        return None
    return next((shelf / name for shelf in (content / "themes", OWN) if (shelf / name).is_dir()), None)


def _texts(folder: Path) -> dict[str, str]:
    return {file.name: file.read_text(encoding="utf-8") for file in sorted(folder.glob("*.html"))}


def _assets(folder: Path) -> dict[str, bytes]:
    return {file.name: file.read_bytes() for file in sorted(folder.iterdir()) if file.suffix in _ASSETS}


def _colours(folder: Path) -> dict[str, str]:
    file = folder / "theme.toml"
    data = tomllib.loads(file.read_text(encoding="utf-8")) if file.exists() else {}
    return {str(key): str(value) for key, value in data.get("colours", {}).items()}


@cache
def tool_print() -> str:
    """Fingerprint of the tool itself: another version may make other pages."""
    digest = sha256()
    root = Path(generator.__file__).parent
    for file in sorted(root.rglob("*")):
        if file.suffix in (".py", ".toml") and file.is_file():
            digest.update(file.relative_to(root).as_posix().encode() + b"\0" + file.read_bytes() + b"\0")
    return digest.hexdigest()
