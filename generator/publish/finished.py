"""The record of a worked pattern, packed into one file, so that its page can be printed again without working it.

Plain data, read field by field: what a site's folder holds is never run.
"""

import json
import zlib
from collections.abc import Callable
from dataclasses import dataclass, fields, is_dataclass
from functools import cache
from types import NoneType, UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

from markupsafe import Markup

from generator.pages.records import PatternView

Reader = Callable[[Any], Any]
_LEVEL = 1
"""Of compression: the least is six times as fast as the usual, for a tenth more bytes."""


@dataclass(frozen=True, slots=True)
class Shot:
    """A photo as it was made ready: what it is recognised by, and its files with their sizes in bytes."""

    print: str
    files: tuple[tuple[str, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Finished:
    """What a pattern's page and its picture for sharing are printed from."""

    view: PatternView
    """Without what lies beside the page: files to take along, the picture for sharing."""
    cover: str
    """Its drawing for the picture for sharing, an SVG document; empty where a photo stands in."""
    ground: str
    """`#rrggbb` behind that drawing."""
    photos: tuple[Shot, ...] = ()


def pack(finished: Finished) -> bytes:
    """The record as bytes."""
    text = json.dumps(finished, ensure_ascii=False, separators=(",", ":"), default=_values)
    return zlib.compress(text.encode(), _LEVEL)


def unpack(data: bytes) -> Finished | None:
    """The record again; None where the bytes are damaged."""
    try:
        read: Finished = _reader(Finished)(json.loads(zlib.decompress(data)))
    except (zlib.error, ValueError, TypeError, IndexError, KeyError):
        return None
    return read


def _values(record: Any) -> list[Any]:
    return [getattr(record, one.name) for one in fields(record)]


@cache
def _reader(kind: Any) -> Reader:
    """How a value of a type comes out of its plain form."""
    if kind is Markup:
        return Markup
    if is_dataclass(kind):
        return _record_reader(kind)
    if get_origin(kind) is tuple:
        return _tuple_reader(get_args(kind))
    if get_origin(kind) in (Union, UnionType):
        return _either_reader(get_args(kind))
    return _as_it_is


def _as_it_is(value: Any) -> Any:
    return value


def _record_reader(kind: Any) -> Reader:
    hints = get_type_hints(kind)
    readers = [_reader(hints[one.name]) for one in fields(kind)]

    def read(values: list[Any]) -> Any:
        return kind(*(reader(value) for reader, value in zip(readers, values, strict=True)))

    return read


def _tuple_reader(inner: tuple[Any, ...]) -> Reader:
    if len(inner) == 2 and inner[1] is Ellipsis:
        each = _reader(inner[0])
        return tuple if each is _as_it_is else lambda values: tuple(map(each, values))
    readers = [_reader(one) for one in inner]
    return lambda values: tuple(reader(value) for reader, value in zip(readers, values, strict=True))


def _either_reader(inner: tuple[Any, ...]) -> Reader:
    """A record or nothing; a pair or an empty tuple."""
    reader = _reader(next(one for one in inner if one is not NoneType))
    empty: Any = None if NoneType in inner else ()
    return lambda value: reader(value) if value else empty
