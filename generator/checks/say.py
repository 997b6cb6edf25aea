"""How findings call things: rounds by their labels, numbers with their noun, stitches in the writer's own dialect."""

from generator.checks.product import At, Product
from generator.notation.tree import Word
from generator.vocabulary import load

_NOUN = {Word.ROUND: "round", Word.ROW: "row", Word.FOUNDATION: "foundation row"}
_PLURALS = {
    "stitch": "stitches",
    "is": "are",
    "leaves": "leave",
    "says": "say",
    "makes": "make",
    "uses": "use",
    "goes": "go",
}


def plural(number: int, noun: str) -> str:
    """`1 stitch`, `6 stitches`."""
    return f"{number} {noun if number == 1 else _PLURALS.get(noun, noun + 's')}"


def name(at: At) -> str:
    """What to call a line: `round 6`, `rounds 7 to 11`, `row 3`, `this line`."""
    noun = _NOUN.get(at.label.word, "")
    numbers = at.label.numbers
    if at.label.word is Word.NEXT:
        return "this round" if any(course.make.value != "row" for course in at.courses) else "this row"
    if not noun:
        return "this line"
    if not numbers:
        return f"the {noun}"
    if len(numbers) == 1:
        return f"{noun} {numbers[0]}"
    if numbers == tuple(range(numbers[0], numbers[-1] + 1)):
        return f"{noun}s {numbers[0]} to {numbers[-1]}"
    return f"{noun}s {', '.join(str(n) for n in numbers[:-1])} and {numbers[-1]}"


def verb(at: At, one: str) -> str:
    """The verb that goes with `name(at)`: `makes` or `make`."""
    return _PLURALS.get(one, one) if len(at.label.numbers) > 1 else one


def course_name(at: At, number: int | None) -> str:
    """`round 6`, `row 6`, or `the round below` when it has no number."""
    noun = "row" if at.label.word is Word.ROW else "round"
    return f"the {noun} below" if number is None else f"{noun} {number}"


def below_name(at: At) -> str:
    """What to call the course a line is worked into."""
    return course_name(at, at.below.number if at.below else None)


def difference(found: int, expected: int) -> str:
    """The difference with its direction: `2 too few`, `1 too many`."""
    gap = found - expected
    return f"{abs(gap)} too {'many' if gap > 0 else 'few'}"


def stitch(product: Product, identity: str) -> str:
    """The abbreviation the writer would use for a stitch; spaces as `ch-2 space`."""
    if identity == "sp":
        return "chain space"
    if identity.startswith("sp:"):
        return f"ch-{identity[3:]} space"
    code = "en-GB" if product.dialect == "UK" else "en-US"
    if code in load.languages():
        words = load.language(code).stitches.get(identity)
        if words:
            return words.abbreviation
    return identity


def kinds(product: Product, pairs: tuple[tuple[str, int], ...]) -> str:
    """`12 dc and 4 ch-2 spaces`."""
    said = [
        plural(n, stitch(product, kind)) if kind.startswith("sp") else f"{n} {stitch(product, kind)}"
        for kind, n in pairs
    ]
    return said[0] if len(said) == 1 else ", ".join(said[:-1]) + " and " + said[-1] if said else "nothing"


def quote(words: str, limit: int = 60) -> str:
    """The author's words in backticks, on one line, shortened when long."""
    flat = " ".join(words.split()).replace("`", "'")
    return f"`{flat}`" if len(flat) <= limit else f"`{flat[: limit - 1].rstrip()}…`"
