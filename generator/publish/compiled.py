"""Templates compiled once and kept, so that the next build or preview need not compile them again.

They lie in the user's own cache folder, never in a studio: what is kept there is run, and a studio may come from
anywhere. Without such a folder templates are compiled each time, and all is well.
"""

import contextlib
import os
import sys
from hashlib import sha256
from pathlib import Path

import jinja2
from jinja2 import BytecodeCache, Environment
from jinja2.bccache import Bucket

from generator.pages import html
from generator.pages.html import Theme
from generator.pages.studio import Studio

PLACE = "SPIRALBOUND_CACHE"
"""Variable that names another folder; set but empty, nothing is kept."""


def environment(theme: Theme, studio: Studio) -> Environment:
    """Jinja for a theme and studio, with what was compiled before."""
    env = html.environment(theme, studio)
    if (folder := _folder()) is not None:
        rules = sha256(Path(html.__file__).read_bytes() + jinja2.__version__.encode() + theme.name.encode())
        env.bytecode_cache = Kept(folder / "templates" / rules.hexdigest()[:16])
    return env


def _folder() -> Path | None:
    """The user's cache folder, as the system has it."""
    if (named := os.environ.get(PLACE)) is not None:
        return Path(named) if named else None
    windows = os.environ.get("LOCALAPPDATA") if sys.platform == "win32" else ""
    base = windows or os.environ.get("XDG_CACHE_HOME") or ""
    if Path(base).is_absolute():
        return Path(base) / "spiralbound"
    try:
        return Path.home() / ".cache" / "spiralbound"
    except RuntimeError:
        return None


class Kept(BytecodeCache):
    """One file a template name: another text under the same name takes its place, so the folder does not grow."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def _file(self, bucket: Bucket) -> Path:
        return self.folder / bucket.key

    def load_bytecode(self, bucket: Bucket) -> None:
        """What was kept; whatever is damaged or of another text is as good as nothing."""
        try:
            with self._file(bucket).open("rb") as file:
                bucket.load_bytecode(file)
        except Exception:  # unmarshalling a damaged file may raise nearly anything
            bucket.reset()

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Keep it, whole or not at all."""
        fresh = self.folder / f"{bucket.key}.{os.getpid()}"
        with contextlib.suppress(OSError):
            self.folder.mkdir(parents=True, exist_ok=True, mode=0o700)
            with fresh.open("wb") as file:
                bucket.write_bytecode(file)
            fresh.replace(self._file(bucket))
