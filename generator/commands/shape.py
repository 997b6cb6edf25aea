"""`shape`: from a wished form to rounds, from one count to another, a pattern at another size."""

import argparse
from pathlib import Path

from generator import library
from generator.commands.console import DONE, FAULTS, Console, NothingThere, errors
from generator.commands.gather import one_text
from generator.notation.facts import Words
from generator.notation.gauge import gauge as read_gauge
from generator.notation.pattern import Gauge, Pattern
from generator.notation.reading import Desk
from generator.source import Source, Span

HELP = "plan rounds for a form, fit a count, or bring a pattern to another size"

_SIZES = ("width", "diameter", "height", "length", "thickness", "circumference", "opening")
_OTHERS = {
    "points": "free form: radius x height, as '0 x 0, 3 x 0, 4.5 x 2, 3 x 6 cm'",
    "path": "free form: an SVG path, x the radius, y running down",
    "gauge": "as '20 sc x 21 rounds = 10 cm'",
    "hook": "as '3.5 mm', with --weight, where there is no gauge",
    "weight": "yarn category, 0 to 7",
    "stitch": "sc, hdc or dc",
    "rounds": "spiral or joined",
    "from": "end to begin at: bottom or top",
    "bottom": "open or closed",
    "top": "open or closed",
    "corners": "stacked for a polygon; else staggered",
    "grow": "of a frill: one stitch more after every so many",
    "repeat": "repeats a round should have, where it can",
    "bands": "colour zones by height, as 'A to 3 cm, B to 5 cm, C'",
}


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument(
        "form", nargs="?", help="ball, egg, capsule, cone, tube, disc, bowl, ring, bell, box, frill, hat, profile, path"
    )
    for size in _SIZES:
        parser.add_argument(f"--{size}", metavar="LENGTH", help="as '7 cm' or '2 3/4 in'")
    for name, words in _OTHERS.items():
        parser.add_argument(f"--{name}", dest=name, metavar="WORDS", help=words)
    parser.add_argument("--like", metavar="FILE", help="a pattern whose gauge and yarns are used")
    parser.add_argument(
        "--of", metavar="FILE", help="hold the rounds of this pattern against the form instead of planning"
    )
    parser.add_argument("--part", metavar="NAME", default="", help="with --of: the part, else the first")
    parser.add_argument("--svg", metavar="FILE", help="the comparison drawn, wish and worked outline")
    parser.add_argument("--write", metavar="FILE", help="put the rounds of a pattern's shape blocks into its text")
    parser.add_argument(
        "--fit", nargs=3, type=int, metavar=("HAVE", "WANT", "ROUNDS"), help="from one count to another"
    )
    parser.add_argument("--rescale", metavar="FILE", help="a pattern at another size (--by) or gauge (--gauge)")
    parser.add_argument("--by", metavar="FACTOR", default="1", help="with --rescale: as '120 %%' or '1.2'")


def run(options: argparse.Namespace, console: Console) -> int:
    """Do the one thing asked for."""
    if options.fit:
        return _fit(options, console)
    if options.write:
        return _write(options, console)
    if options.rescale:
        return _rescale(options, console)
    if not (options.form or options.points or options.path):
        raise NothingThere(
            "name a form (spiralbound shape ball --width '7 cm' --gauge '...'), or --fit, --write, --rescale"
        )
    return _against(options, console) if options.of else _design(options, console)


def _against(options: argparse.Namespace, console: Console) -> int:
    from generator.pipeline import compile_pattern
    from generator.shape.against import against
    from generator.shape.draw import draw, nearness

    compiled = compile_pattern(_pattern(options.of).source)
    source = _request(options)
    found = against(source, compiled.pattern, compiled.fabric, compiled.measured, options.part)
    console.show(source, found.findings)
    if found.value is None:
        return FAULTS
    console.say(f"the outline wished for: {nearness(found.value)}")
    console.say(f"uneven rounds: {found.value.uneven}")
    if options.svg:
        _save(Path(options.svg), draw(found.value))
    return DONE


def _request(options: argparse.Namespace) -> Source:
    """The options as the lines of a shape block, so that both are read by the same reader."""
    rows = [f"form: {options.form}"] if options.form else []
    for name in (*_SIZES, *_OTHERS):
        value = getattr(options, name)
        if value:
            quoted = str(value).replace("\\", "\\\\").replace('"', '\\"')
            rows.append(f'{name}: "{quoted}"')
    return Source("<shape>", "\n".join(rows) + "\n")


def _design(options: argparse.Namespace, console: Console) -> int:
    from generator.shape.design import design
    from generator.shape.draw import draw
    from generator.shape.report import tell

    source = _request(options)
    like = _pattern(options.like) if options.like else None
    terms = like.header.terms if like else ""
    made = design(source, like.header.gauge if like else None, terms)
    console.show(source, made.findings)
    if made.value is None:
        return FAULTS
    console.say(made.value.lines.rstrip("\n"))
    console.say()
    console.say(tell(made.value))
    yarns = _yarns(made.value.lines, options, like)
    if yarns:
        console.say(yarns)
    if options.svg:
        colours = {yarn.key: yarn.swatch for yarn in like.header.yarns if yarn.swatch} if like else {}
        picture = draw(made.value.plan, made.value.yarns, colours, down=made.value.down)
        _save(Path(options.svg), picture)
    return FAULTS if errors(made.findings) else DONE


def _yarns(lines: str, options: argparse.Namespace, like: Pattern | None) -> str:
    """Yarn per colour, worked out from the rounds as from any pattern."""
    from generator.pipeline import compile_pattern
    from generator.shape.report import amounts

    given = [yarn.key for yarn in like.header.yarns] if like else []
    keys = dict.fromkeys(
        (*given, *(line.split()[-1] for line in lines.splitlines() if line.startswith(("With ", "Change to "))))
    )
    weight = options.weight or next(
        (str(y.weight) for y in like.header.yarns if y.weight is not None) if like else iter(()), "4"
    )
    gauge = options.gauge or (_gauge_words(like.header.gauge) if like and like.header.gauge else "")
    header = ["title: shape", f"terms: {(like.header.terms if like else '') or 'US'}"]
    if gauge:
        header.append(f'gauge: "{gauge}"')
    if options.hook:
        header.append(f"hook: {options.hook}")
    header.append("yarns:")
    header += [f'  {key}: {{colour: "{key}", weight: {weight}}}' for key in keys or ("A",)]
    text = "---\n" + "\n".join(header) + "\n---\n\n```rounds\n" + lines + "```\n"
    compiled = compile_pattern(Source("<shape>", text))
    return amounts(tuple(yarn for yarn in compiled.measured.yarns if yarn.metres)) if compiled.measured else ""


def _gauge_words(gauge: Gauge) -> str:
    rows = f" x {gauge.rows:g} rounds" if gauge.rows else ""
    return f"{gauge.stitches:g} {gauge.stitch}{rows} = {gauge.over_mm / 10:g} cm"


def _fit(options: argparse.Namespace, console: Console) -> int:
    from generator.shape.fit import fit, lines

    have, want, rounds = options.fit
    stitch = options.stitch if options.stitch in ("sc", "hdc", "dc") else "sc"
    found = fit(have, want, rounds, stitch)
    if not found.value:
        for finding in found.findings:
            console.complain(f"{finding.message}; fits: {finding.fits}")
        return FAULTS
    console.say(lines(have, found.value, stitch).rstrip("\n"))
    return DONE


def _write(options: argparse.Namespace, console: Console) -> int:
    from generator.shape.source import written_out

    pattern = _pattern(options.write)
    made = written_out(pattern)
    console.show(pattern.source, made.findings)
    if errors(made.findings):
        return FAULTS
    if made.value == pattern.source.text:
        console.say(f"{options.write} has no shape block")
        return DONE
    _save(Path(options.write), made.value)
    console.say(f"rounds written into {options.write}")
    return DONE


def _rescale(options: argparse.Namespace, console: Console) -> int:
    from generator.pipeline import compile_pattern
    from generator.shape.report import changed
    from generator.shape.rescale import rescale

    compiled = compile_pattern(_pattern(options.rescale).source)
    made = rescale(compiled.pattern, compiled.fabric, _factor(options.by), _gauge(options.gauge))
    for finding in made.findings:
        console.complain(f"{finding.message}; fits: {finding.fits}")
    if errors(made.findings):
        return FAULTS
    console.say(made.value.text.rstrip("\n"))
    for row in changed(made.value.changes).splitlines():
        console.complain(row)
    return DONE


def _factor(words: str) -> float:
    text = words.strip()
    try:
        return float(text.rstrip("% ").replace(",", ".")) / (100 if text.endswith("%") else 1)
    except ValueError:
        raise NothingThere(f"--by takes a factor, such as 1.2 or '120 %', not {words!r}") from None


def _gauge(words: str | None) -> Gauge | None:
    if not words:
        return None
    desk = Desk()
    found: Gauge | None = read_gauge(desk, "gauge", Words(words, Span(0, len(words))))
    if found is None:
        raise NothingThere(f"{desk.findings[0].message}; fits: {desk.findings[0].fits}")
    return found


def _pattern(name: str) -> Pattern:
    from generator.notation.document import read_document

    text = library.load_text(one_text(name))
    if text.findings and not text.source.text:
        raise NothingThere(text.findings[0].message)
    return read_document(text.source).value


def _save(place: Path, text: str) -> None:
    try:
        place.write_text(text, encoding="utf-8", newline="\n")
    except OSError as error:
        raise NothingThere(f"{place} can't be written ({error.strerror})") from None
