"""Sets a template and its data as tagged PDF (PDF/UA-1) or as a picture, with letters that no font has reported.

The typesetter falls back to another font in silence, and refuses a tagged document only where no font has a letter.
So letters are tried in three steps: house fonts, the fonts of this computer, and at last the letter's code point in
print; each step past the first is told. No clock and no network: the time stamp is fixed and packages are not used.
"""

import importlib.util
import json
import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import PurePath
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    import typst

STANDARD: Final = "ua-1"
"""ISO 14289-1, the accessibility standard for PDF."""
SANS = "Atkinson Hyperlegible"
SERIF = "Libertinus Serif"

MOST_TRIES = 6
_LACKING = re.compile(r"(?:the text|disallowed codepoint) `\"(.*?)\"`")
_ESCAPED = re.compile(r"\\u\{([0-9a-fA-F]+)\}")
"""How the typesetter's messages write letters that can't be shown."""


class TypesettingError(Exception):
    """A template of the project itself is wrong. Never caused by a writer's text."""


@dataclass(frozen=True, slots=True)
class Printed:
    """A typeset document, and the letters that were not to be had.

    `borrowed`: letters taken from this computer's own fonts. `absent`: letters no font has, printed as code points.
    """

    content: bytes
    borrowed: tuple[str, ...] = ()
    absent: tuple[str, ...] = ()


def typeset(template: str, data: Mapping[str, Any]) -> Printed:
    """The PDF of a template filled with `data` (reached in the template as `sys.inputs.data`, JSON).

    Raises:
        TypesettingError: the template does not compile for another reason than a missing letter.
    """
    text = json.dumps(data, ensure_ascii=False, sort_keys=True)
    try:
        return Printed(_compile(_compiler(own=False), template, text))
    except _Lacking as lacking:
        borrowed = lacking.letters
    absent: tuple[str, ...] = ()
    for _ in range(MOST_TRIES):
        try:
            made = _compile(_compiler(own=True), template, text)
        except _Lacking as lacking:
            absent += lacking.letters
            for letter in lacking.letters:
                text = text.replace(letter, _code_point(letter))
            continue
        told = tuple(sorted(letter for letter in absent if _code_point(letter)))
        return Printed(made, tuple(letter for letter in borrowed if letter not in absent), told)
    raise TypesettingError(f"letters that can't be replaced: {' '.join(absent[:8])}")


def _code_point(letter: str) -> str:
    """What stands in for a letter that no font has. Joiners and marks of direction say nothing by themselves."""
    return "" if unicodedata.category(letter) == "Cf" else f"U+{ord(letter):04X} "


def outside_house(letters: frozenset[str]) -> tuple[str, ...]:
    """Those of `letters` that the house's sans serif lacks (they are set in another font), sorted."""
    probe = f'#set text(font: "{SANS}", fallback: false)\n#set document(title: "x")\n#set text(lang: "en")\n'
    known = _known_letters()
    new = sorted(letter for letter in letters if letter not in known and not letter.isspace() and letter.isprintable())
    if not new:
        return tuple(sorted(letter for letter in letters if known.get(letter)))
    lacking: tuple[str, ...] = ()
    try:
        _compile(_compiler(own=False), probe + "#json(bytes(sys.inputs.data))", json.dumps(" ".join(new)))
    except _Lacking as found:
        lacking = found.letters
    known.update({letter: letter in lacking for letter in new})
    return tuple(sorted(letter for letter in letters if known.get(letter)))


def picture(svg: str, width: int, height: int, background: str = "#ffffff") -> bytes:
    """An SVG as PNG, fitted into `width` by `height` pixels on a ground of one colour."""
    template = (
        "#let d = json(bytes(sys.inputs.data))\n"
        "#set page(width: d.w * 1pt, height: d.h * 1pt, margin: 0pt, fill: rgb(d.ground))\n"
        f'#set text(font: ("{SANS}", "{SERIF}"))\n'
        '#align(center + horizon, image(bytes(d.svg), format: "svg", width: 100%, height: 100%, fit: "contain"))\n'
    )
    data = json.dumps({"svg": svg, "w": width, "h": height, "ground": background}, sort_keys=True)
    made = _compiler(own=False).compile(template.encode(), format="png", ppi=72.0, sys_inputs={"data": data})
    return _single(made)


class _Lacking(Exception):
    def __init__(self, letters: tuple[str, ...]) -> None:
        super().__init__(letters)
        self.letters = letters


def _compile(compiler: "typst.Compiler", template: str, text: str) -> bytes:
    import typst

    try:
        made = compiler.compile(
            template.encode(), format="pdf", sys_inputs={"data": text}, pdf_standards=STANDARD, timestamp=0
        )
    except typst.TypstError as error:
        found = (_ESCAPED.sub(lambda code: chr(int(code[1], 16)), text) for text in _LACKING.findall(error.diagnostic))
        letters = {letter for text in found for letter in text if not letter.isascii()}
        if letters:
            raise _Lacking(tuple(sorted(letters))) from None
        raise TypesettingError(error.diagnostic or error.message) from error
    return _single(made)


def _single(made: bytes | list[bytes] | None) -> bytes:
    if isinstance(made, list):
        made = made[0]
    if made is None:
        raise TypesettingError("the typesetter returned nothing")
    return made


@cache
def _compiler(own: bool) -> "typst.Compiler":
    """One compiler a process, so that fonts are read once. `own` adds the fonts of this computer."""
    import typst

    folder = _font_folder()
    return typst.Compiler(font_paths=typst.Fonts(own, True, [folder] if folder else []))


def _font_folder() -> str:
    spec = importlib.util.find_spec("fontpkg_atkinson_hyperlegible")
    return str(PurePath(spec.origin).parent / "files") if spec and spec.origin else ""


@cache
def _known_letters() -> dict[str, bool]:
    """Letters asked about so far: whether the house's sans serif lacks them."""
    return {}
