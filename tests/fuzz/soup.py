"""Garbage made of the trade's own words: what a hurried hand, a bad scan or a cat on the keys could leave behind."""

from functools import cache
from pathlib import Path

from hypothesis import strategies as st

from generator.notation.lexicon import Lexicon, Node, lexicon

ROOT = Path(__file__).parent.parent.parent
WRONG = " !!"

SEAMS = ["*", "**", "***", "(", ")", "[", "]", "{", "}", ",", ";", ".", ":", "-", "–", "—", "/", "=", "x", "×", "+", "&", "'", '"', "\t",
         "#", "rep from *", "rep from **", "ending last rep at **", "around", "across", "to last 2 sts", "to end", "6 times", "twice",
         "once more", "5 more times", "(6)", "[18 sts]", "= 18 sc", "(12 dc, 4 ch-2 sps)", "(6, 8, 10)", "turn", "join with sl st",
         "until it measures 10 cm", "Rep Rnd 2", "Rep Rnds 2-4 twice", "Rnd 3:", "Rnds 4-8:", "Row 1 (RS):", "3rd rnd:", "With A",
         "change to B", "fasten off", "magic ring", "2nd ch from hook", "in next ch-2 sp", "counts as dc", "sc2tog", "dc 5 tog", "fpdc",
         "blo", "in same st", "skip next 2", "ch 3", "Ch 21", "Note:", "Why:", "Intended (count):", "To level the step:", "a total of"]  # fmt: skip
NUMBERS = ["0", "1", "2", "3", "4", "6", "12", "18", "100", "5000", "20000", "20001", "2000000", "99999999999999999999", "-1", "1.5",
           "1,000", "½", "¼", "2½", "²", "①", "٣", "三", "Ⅳ", "1e9", "0x10", "007", "1st", "22nd", "0th", "1-0", "3-2-1", "6/8/10"]  # fmt: skip
LETTERS = ["\u200b", "\u202e", "\u2028", "\x85", "\x0b", "\x0c", "\x1b[31m", "\x07", "\x7f", "\ufeff", "\u00a0", "é", "e\u0301", "ß", "İ",
           "ǆ", "🐌", "\U000e0041", "\udc80", "ſc", "ＳＣ", "ﬀ", "’", "“", "…", "℀", "𝟔", "\r", "\x00"]  # fmt: skip


def _forms(node: Node, before: str = "") -> list[str]:
    found = [before] if node.entry and before else []
    for word, child in node.children.items():
        found += _forms(child, f"{before} {word}".strip())
    return found


@cache
def trade_words() -> list[str]:
    """Every form the reader knows, in both dialects."""
    books: list[Lexicon] = [lexicon("US"), lexicon("UK")]
    return sorted({form for book in books for form in (*_forms(book.root), *book.numbers, *book.ordinals)})


@cache
def passages() -> list[str]:
    """The working texts of the test cases and of the demo's patterns."""
    cases = [path.read_text(encoding="utf-8") for path in sorted((ROOT / "tests" / "cases" / "work").glob("*.txt"))]
    return [case.replace(WRONG, "").strip() for case in cases] + [_blocks(text) for text in patterns()]


@cache
def patterns() -> list[str]:
    """The demo's pattern files."""
    return [path.read_text(encoding="utf-8") for path in sorted((ROOT / "content" / "patterns").glob("*/*.md"))]


def _blocks(text: str) -> str:
    fenced = text.split("```")[1::2]
    return "\n".join(block.partition("\n")[2].strip() for block in fenced) or text


@cache
def lines() -> list[str]:
    """Every line of them."""
    return sorted({line for passage in passages() for line in passage.split("\n") if line.strip()})


def words() -> st.SearchStrategy[str]:
    """One word, sign or number."""
    common = st.sampled_from(
        ["sc", "dc", "ch", "st", "sts", "in", "next", "each", "inc", "*", "(", ")", "2", "3", "6", ","]
    )
    return st.one_of(common, common, st.sampled_from(trade_words()), st.sampled_from(SEAMS), st.sampled_from(SEAMS), st.sampled_from(NUMBERS),
                     st.integers(0, 40).map(str))  # fmt: skip


def odd_words() -> st.SearchStrategy[str]:
    """Words, with letters among them that no pattern ought to hold."""
    return st.one_of(words(), words(), words(), st.sampled_from(LETTERS), st.text(max_size=4))


@st.composite
def soup(draw: st.DrawFn, pieces: st.SearchStrategy[str]) -> str:
    """Lines of words in no order; some begin like a line of work and some end like one."""
    rows = []
    for number in range(1, draw(st.integers(1, 6)) + 1):
        label = draw(
            st.sampled_from(["", f"Rnd {number}: ", f"Row {number}: ", f"Rnds {number}-{number + 2}: ", f"{number}. "])
        )
        glue = draw(st.sampled_from([" ", " ", " ", ", ", ""]))
        end = draw(st.sampled_from(["", "", " (6)", " (12)", " (18)", " (24 sts)", " (6 dc)"]))
        rows.append(label + glue.join(draw(st.lists(pieces, max_size=14))) + end)
    start = draw(
        st.sampled_from(
            ["", "Rnd 1: 6 sc in magic ring (6)\n", "Ch 13\n", "Ch 4, join with sl st to form ring\n", "With A\n"]
        )
    )
    return start + "\n".join(rows)


@st.composite
def changed(draw: st.DrawFn, whole: list[str], most: int = 5) -> str:
    """A right text with a few words dropped, doubled, swapped, or replaced by any other word."""
    rows = draw(st.sampled_from(whole)).split("\n")
    for _ in range(draw(st.integers(1, most))):
        at = draw(st.integers(0, len(rows) - 1))
        if draw(st.integers(0, 7)) == 0:
            rows[at] = draw(st.sampled_from(lines()))
            continue
        bits = rows[at].split(" ")
        here = draw(st.integers(0, len(bits) - 1))
        rows[at] = " ".join(_change(draw, bits, here))
    return "\n".join(rows)


def _change(draw: st.DrawFn, bits: list[str], here: int) -> list[str]:
    how = draw(st.sampled_from(["drop", "double", "swap", "put", "put", "replace", "replace", "cut", "repeat"]))
    there = draw(st.integers(0, len(bits) - 1))
    if how == "drop":
        return bits[:here] + bits[here + 1 :]
    if how == "double":
        return bits[: here + 1] + bits[here:]
    if how == "swap":
        bits[here], bits[there] = bits[there], bits[here]
        return bits
    if how == "cut":
        return bits[: here + 1]
    if how == "repeat":
        first, last = sorted((here, there))
        return bits + bits[first : last + 1] * draw(st.integers(1, 4))
    return [*bits[:here], draw(odd_words()), *bits[here + (how == "replace") :]]


@st.composite
def nests(draw: st.DrawFn) -> str:
    """Brackets and asterisks within one another, closed or not, with repeats of repeats."""
    inner = draw(
        st.sampled_from(
            ["sc", "2 sc in next st", "dc, ch 1", "sc in next 2 sts, inc", "ch 3, sl st in same st", "3 dc"]
        )
    )
    for _ in range(draw(st.integers(1, 9))):
        mark, shut = draw(st.sampled_from(["()", "[]", "{}", "**", "(]", "( ", " )", "* "]))
        rest = draw(st.sampled_from(["", " twice", " 3 times", " 99 times", " 400 times", " around", " in next st", "; rep from *", " to last 2 sts",
                                     "; rep from * 5 more times", " in each st around", " in next ch-2 sp", "; rep from * to end"]))  # fmt: skip
        before = draw(st.sampled_from(["", "sc, ", "sk next st, ", "inc, ", "ch 2, ", "dec, "]))
        inner = f"{mark}{before}{inner}{shut}{rest}"
    below = draw(st.sampled_from([6, 12, 24, 36, 360]))
    count = draw(st.sampled_from(["", " (24)", " (36 sts)", f" ({below})"]))
    return f"Rnd 1: {below} sc in magic ring\nRnd 2: {inner}{count}\nRnds 3-5: Rep Rnd 2\nRnd 6: {inner}"


@st.composite
def outsized(draw: st.DrawFn) -> str:
    """Right forms with numbers no maker would work, and lines far too long to read."""
    form = draw(st.sampled_from([
        "Ch {n}", "Rnd 1: {n} sc in magic ring ({n})", "Rnds 2-{n}: sc in each st around", "Rnd {n}: {m} sc in each st around",
        "Rnd 2: *sc, inc; rep from * {n} times", "Rep Rnds 1-{n} {m} times", "Rnd 2: ({m} dc, ch {n}, sc) in next ch-{m} sp", "(({m} sc) {n} times) {n} times",
        "Rnd 2: sc{n}tog", "Rnd 2: skip next {n} sts, sc in next {m} sts", "sc in {n}th ch from hook", "Rnd 2: [sc in next {m} sts, dec] x {n} ({n})",
        "*ch {n}, sc in {m}rd ch from hook; rep from * around", "until it measures {n} cm", "2 sc in each st until there are {n} sts ({n})",
        "Rnds {n}-{m}, {n}-{m} and {m}: sc", "inc evenly {n} times around ({m})", "{n} sc evenly around", "sc in next {n} ({m}, {n}) sts",
    ]))  # fmt: skip
    row = form.format(n=draw(st.sampled_from(NUMBERS)), m=draw(st.sampled_from(NUMBERS)))
    begin = draw(
        st.sampled_from(
            [
                "Rnd 1: 6 sc in magic ring",
                "Ch 20000",
                "Ch 7\nRow 1: sc in 2nd ch from hook and in each ch across, turn (6)",
                "Rnd 1: 19999 dc in ring",
            ]
        )
    )
    filler = draw(words()) + draw(st.sampled_from([" ", ", ", "", "\t"]))
    long = filler * draw(st.sampled_from([0, 0, 50, 400, 1500]))
    return f"{begin}\n{row}\n{long[:15_000]}\n{row}, {row}"


def bare_texts() -> st.SearchStrategy[str]:
    """Any of them."""
    return st.one_of(soup(words()), soup(odd_words()), changed(passages()), changed(passages()), nests(), outsized())
