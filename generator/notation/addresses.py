"""Names that stand in addresses and name files: of a pattern's folder, a journal entry, a page."""

import unicodedata

MOST = 100
"""Bytes of a name: a file beside it adds up to a hundred more, and disks take 255."""


def slug(words: str) -> str:
    """Words as they stand in an address: letters and digits of any script, joined by hyphens."""
    kept = "".join(c if c.isalnum() or _is_mark(c) else " " for c in words.casefold())
    return _cut("-".join(unicodedata.normalize("NFC", kept).split())).rstrip("-") or "pattern"


def stands(name: str) -> bool:
    """Whether a name given by the author can stand in an address as it is: no folders, no signs an address gives a meaning."""
    plain = all(c.isalnum() or c in "-_." or _is_mark(c) for c in name)
    return plain and not name.startswith((".", "-")) and not name.endswith(".") and _cut(name) == name


def _is_mark(letter: str) -> bool:
    return unicodedata.category(letter) in ("Mn", "Mc")


def _cut(name: str) -> str:
    return name.encode()[:MOST].decode(errors="ignore")
