"""`chart`: one drawing of a pattern as a file, as SVG, PNG or PDF."""

import argparse
from dataclasses import replace
from pathlib import Path

from generator import library
from generator.commands.console import DONE, FAULTS, USAGE, Console, NothingThere, several
from generator.commands.gather import one_text
from generator.fabric.model import Part
from generator.notation.document import LONGEST
from generator.pipeline import Compiled

HELP = "draw a pattern's chart into a file"


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument(
        "pattern", metavar="FILE", help="the pattern's text, or working text alone; - for standard input"
    )
    parser.add_argument("--part", default="", metavar="NAME", help="which piece (the first)")
    parser.add_argument(
        "--kind", default="", help="ring, band, rows, strip, silhouette, wedge, edge or drift (what suits the piece)"
    )
    parser.add_argument("--round", type=int, default=0, metavar="N", help="with edge: after which round (the last)")
    parser.add_argument("--unfolded", action="store_true", help="draw every round, also those that repeat the last one")
    parser.add_argument("--format", choices=("svg", "png", "pdf"), default="", help="(from the file's name, else svg)")
    parser.add_argument("--hand", choices=("left", "right"), default="right", help="whose hand it is for (right)")
    parser.add_argument("--left", dest="hand", action="store_const", const="left", help="the same as --hand left")
    parser.add_argument("--sign", choices=("+", "x"), default="+", help="sign of the single crochet (+)")
    parser.add_argument("--width", type=int, default=1200, metavar="N", help="pixels of a PNG (1200)")
    parser.add_argument(
        "-o", "--out", default="", metavar="FILE", help="where it goes (beside you, named after the piece)"
    )


def run(options: argparse.Namespace, console: Console) -> int:
    """Draw it."""
    from generator.charts.draw import kinds_for
    from generator.charts.export import NoRasteriser, chart_file
    from generator.pages import figures, materials
    from generator.pages.prose import anchor

    compiled = _compiled(options.pattern, console)
    index = _part(compiled, options.part)
    part = compiled.fabric.parts[index]
    measure = compiled.measured.parts[index] if compiled.measured else None
    able = (*kinds_for(part), *(("wedge", "edge", "drift") if "ring" in kinds_for(part) else ()))
    kind = options.kind or next(iter(figures.chosen(part, measure)), "")
    if kind not in able:
        as_what = f"; it can be drawn as {', '.join(able)}" if able else ", as nothing is worked in it yet"
        raise NothingThere(f"this piece has no {kind or 'chart'}{as_what}")
    form = options.format or _form(options.out)
    title = part.name or compiled.pattern.header.title
    scene = figures.Scene(materials.colours(compiled.pattern.header), options.sign, title)
    wanted = replace(
        figures.options_for(part, measure, scene, kind),
        left_handed=options.hand == "left",
        fold=not options.unfolded,
        course=_course(part, options.round),
    )
    out = Path(options.out or f"{anchor(title or 'chart')}-{kind}.{form}")
    try:
        data = chart_file(part, kind, wanted, form, max(16, min(options.width, 10_000)))
        out.write_bytes(data)
    except (NoRasteriser, KeyError) as fault:
        console.complain(str(fault))
        return USAGE
    except OSError as fault:
        console.complain(f"{out} can't be written: {(fault.strerror or 'no reason given').lower()}")
        return FAULTS
    console.say(f"{out}: {kind} of {title or 'the piece'}, {several(part.count(), 'stitch', 'stitches')}")
    return DONE


def _form(out: str) -> str:
    """What kind of file a name asks for."""
    from generator.charts.export import FORMATS

    ending = Path(out).suffix.lower().lstrip(".")
    if ending and ending not in FORMATS:
        raise NothingThere(f"a chart can't be written as .{ending}; fits: .svg, .png or .pdf")
    return ending or "svg"


def _compiled(name: str, console: Console) -> Compiled:
    """A pattern file, or bare working text: from standard input, or in a file with nothing around it."""
    from generator.pipeline import compile_bare, compile_pattern

    if name == "-":
        return compile_bare(library.decode("<stdin>", console.stdin.read(LONGEST + 1), Path()).source)
    source = library.load_text(one_text(name)).source
    compiled = compile_pattern(source)
    return compiled if compiled.fabric.parts else compile_bare(source)


def _course(part: Part, number: int) -> int | None:
    """Index of the course that is printed with that number; None when no number is asked for."""
    if not number:
        return None
    found = next((i for i, course in enumerate(part.courses) if course.number == number), None)
    if found is None:
        numbers = [course.number for course in part.courses if course.number]
        has = f"; it has rounds {min(numbers)} to {max(numbers)}" if numbers else ""
        raise NothingThere(f"this piece has no round {number}{has}")
    return found


def _part(compiled: Compiled, name: str) -> int:
    parts = compiled.fabric.parts
    if not parts:
        raise NothingThere("there is nothing to draw in it; `spiralbound proof` says why")
    for index, part in enumerate(parts):
        if part.name.casefold() == name.casefold() or not name:
            return index
    raise NothingThere(f"there is no piece {name}; there are {', '.join(part.name for part in parts)}")
