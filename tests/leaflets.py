"""Leaflets and drawings made by hand, for tests of print."""

from generator.bindery import booklet_templates
from generator.pages.leaflet import Change, Entry, Figure, Leaflet, Passage, Run, Section, Thread

TEMPLATES = booklet_templates("quire")

RING = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 640 640"><circle cx="320" cy="320" r="300" fill="none"'
    ' stroke="#222" stroke-width="3"/><text x="320" y="330" font-size="28" text-anchor="middle">6</text></svg>'
)


def figure(width: float = 640, height: float = 640) -> Figure:
    svg = RING.replace("0 0 640 640", f"0 0 {width:g} {height:g}")
    return Figure("ring", "base-ring", svg, "Base: chart", "Six rounds from the middle.", width, height, 0.1)


def entry(n: int, words: str = "sc in next 4 sts, 2 sc in next st", turns: int = 1) -> Entry:
    text = f"({words}) {n} times" + f", {words}" * (turns - 1) + "."
    return Entry(f"base-r{n}", f"Rnd {n}", text, f"{6 * n} sts", "round", numbers=(n,), boxes=1, live=6 * n, line=n - 1)


def leaflet(rounds: int = 12, title: str = "Sedge basket", turns: int = 1, figures: tuple[Figure, ...] = ()) -> Leaflet:
    lines = tuple(entry(n, turns=turns) for n in range(1, rounds + 1))
    return Leaflet(
        title=title,
        slug="sedge-basket",
        language="en-US",
        terms="US terms",
        style="short",
        summary="A small basket worked in one spiral.",
        level="easy",
        published="September 4, 2026",
        revised="September 20, 2026",
        address="https://marsh.example/patterns/sedge-basket/",
        studio="Marsh House",
        author="Ada Fenn",
        facts=(("Across", "9 cm (3½ in)"), ("Hook", "4 mm (US G-6)"), ("Time", "2–3 hours")),
        threads=(
            Thread("A", "sedge", "#6b7f3a", "worsted (4), cotton", "38 m (42 yd), 20 g (0.8 oz)"),
            Thread("B", "peat", "#4e3524", "worsted (4), cotton", "12 m (14 yd)"),
        ),
        notions=("stitch marker", "yarn needle"),
        cautions=(("Small parts", "Keep buttons away from children under three."),),
        abbreviations=(("rnd", "round"), ("sc", "single crochet"), ("st", "stitch")),
        sections=(
            Section("Base", 1, lines, figures),
            Section(prose=(Passage("paragraph", (Run("Weave in the ends, "), Run("firmly", "emphasis"), Run("."))),)),
        ),
        about=(Passage("paragraph", (Run("The sedge grows by the slip."),)),),
        changes=(
            Change("2026-09-20", "September 20, 2026", "Base, Rnd 3", "The count was wrong.", "(17)", "(18)", True),
        ),
        checked=("Every stitch was worked by a program.",),
    )
