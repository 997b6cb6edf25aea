"""A text's address and title without reading it all: a thousand patterns wait to be looked at, one is."""

import re

from generator.notation.document import slug
from generator.source import Source

_LINE = r"(?mi)^{}\s*:[ \t]*[\"']?(.*?)[\"']?[ \t]*$"


def _value(source: Source, key: str) -> str:
    head = source.text[:4000]
    end = head.find("\n---", 3)
    match = re.search(_LINE.format(key), head[: end if end > 0 else len(head)])
    return match[1] if match else ""


def quick_title(source: Source) -> str:
    """The title as the header gives it; empty without one."""
    return _value(source, "title")


def quick_slug(source: Source) -> str:
    """The address its page will have."""
    name = source.path.rpartition("/")[2]
    return _value(source, "slug") or slug(name[: name.rindex(".")] if "." in name[1:] else name)
