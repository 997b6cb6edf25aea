"""The measures of a whole pattern: what belongs together agrees, and partial input gives partial answers."""

import json
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.fabric.model import Course, Fabric, Live, Make, Part, Run
from generator.measures.gauge import Scale, usual_hook_mm, width_from_hook
from generator.measures.hooks import measure_hook
from generator.measures.measure import measure
from generator.measures.measured import Basis, Measured
from generator.measures.substitute import substitute
from generator.measures.summary import plain
from generator.measures.time import effort
from generator.measures.weights import weight
from generator.notation.pattern import Gauge, Header, Pattern, Size, Swatch, Tie, YarnSpec
from generator.pipeline import compile_pattern
from generator.source import Source
from generator.vocabulary.load import language
from generator.wording.instructions import write_part
from tests.round_parts import part_of

HEADER = Header(
    title="Sluice jar cover", published=date(2026, 9, 4), hooks_mm=(4.0,), gauge=Gauge(18, 20, 100, "sc", True),
    yarns=(YarnSpec("A", "reed", weight=4), YarnSpec("B", "peat", weight=4)), size=Size(width_mm=80),
    ties=(Tie("cord", 700.0),),
)  # fmt: skip


def measured(header: Header, *parts: Part) -> Measured:
    return measure(Pattern(Source("x", ""), header), Fabric(parts))


def with_eyelets(spaces: list[int]) -> Part:
    """A little pot of 36, whose fourth last round has ch-1 spaces after so many stitches each."""
    part = part_of([6, 12, 18, 24, 30, 36, 36, 36, 36, 36])
    course = part.courses[7]
    first, below, runs, edge = course.first, part.courses[6].first, [], []
    for n in spaces:
        runs += [Run(first, n, "sc", "A", below), Run(first + n, 1, "ch", "A")]
        edge += [Live("sc", first, n), Live("ch", first + n, 1)]
        first += n + 1
    holed = Course(8, 7, Make.SPIRAL, True, "", tuple(runs), tuple(edge), sum(spaces), 36, sum(spaces), (), 36)
    return Part("Pot", 1, (), (*part.courses[:7], holed, *part.courses[8:]))


def test_eyelets_are_counted_and_spaced() -> None:
    found = measured(HEADER, with_eyelets([5] * 6)).parts[0].eyelets
    assert len(found) == 1
    assert (found[0].course, found[0].count, found[0].even, found[0].regular) == (7, 6, True, True)
    assert found[0].spacing_mm == pytest.approx(6 * 100 / 18)
    odd = measured(HEADER, with_eyelets([5, 5, 5, 5, 4, 3, 9])).parts[0].eyelets[0]
    assert (odd.even, odd.regular) == (False, False)


def test_tie_runs_through_the_eyelets() -> None:
    tie = measured(HEADER, with_eyelets([5] * 6)).ties[0]
    assert tie.around_mm == pytest.approx(200.0)
    assert tie.wanted_mm == pytest.approx(400.0)
    assert tie.enough
    short = measured(Header(gauge=HEADER.gauge, ties=(Tie("cord", 300.0),)), with_eyelets([5] * 6)).ties[0]
    assert not short.enough


def test_tie_without_eyelets_goes_round_the_opening() -> None:
    tie = measured(HEADER, part_of([6, 12, 18, 24, 30, 36, *[36] * 10])).ties[0]
    assert tie.around_mm == pytest.approx(36 * 100 / 18)


def test_a_mesh_is_no_eyelet_round() -> None:
    part = with_eyelets([5] * 6)
    mesh = Part("Net", 1, (), (*part.courses[:7], part.courses[7], part.courses[7]))
    assert measured(HEADER, mesh).parts[0].eyelets == ()


@pytest.mark.parametrize(("kind", "low", "high"), [("hdc", 1.1, 1.6), ("dc", 1.5, 1.8), ("ch", 0.3, 0.8)])
def test_effort_of_stitches(kind: str, low: float, high: float) -> None:
    """A dc blanket takes 0.83 of the hours of an sc one with half the stitches: 1.65 sc a dc
    (yougethooked.com/how-long-does-it-take-to-crochet-a-blanket)."""
    assert low <= effort(kind) <= high


def test_hours_of_the_printed_blanket() -> None:
    """35 x 35 in in sc: 20 to 30 h for a practised hand, 50 to 60 for a beginner (same page), at 13 st x 14 rows."""
    quick, slow = measured(Header(hooks_mm=(5.0,)), part_of([114] * 122)).hours
    assert 18 <= quick <= 30
    assert 40 <= slow <= 60


def test_substitution_keeps_the_table_and_the_hand() -> None:
    """Another weight at its usual hook lands in the council's gauge range for a maker who is usual herself."""
    scale = Scale(width_from_hook(6.0, 4), Basis.HOOK)
    for category in range(1, 7):
        found = substitute(scale, 6.0, 4, category, usual_hook_mm(category))
        row = weight(category)
        assert row
        assert row["gauge_low"] * 0.93 <= found.stitches <= row["gauge_high"] * 1.07
    firm = Scale(scale.width_mm * 0.9, Basis.GAUGE, "sc", scale.width_mm * 0.85)
    assert substitute(firm, 6.0, 4, 3, 5.0).size_ratio == pytest.approx(substitute(scale, 6.0, 4, 3, 5.0).size_ratio)
    assert substitute(scale, 6.0, 4, 4, 6.0).size_ratio == pytest.approx(1.0)


def test_neighbouring_weights_are_offered_with_a_hook_one_can_buy() -> None:
    thin, thick = measured(HEADER, part_of([6, 12])).substitutions
    assert (thin.category, thick.category) == (3, 5)
    assert thin.size_ratio < 1 < thick.size_ratio
    assert measure_hook(thin.hook_mm, 3).listed and measure_hook(thick.hook_mm, 5).listed
    assert measured(Header(), part_of([6, 12])).substitutions == ()
    assert (
        len(measured(Header(hooks_mm=(12.0,), yarns=(YarnSpec("A", "reed", weight=7),)), part_of([6])).substitutions)
        == 1
    )


def test_thinner_yarn_makes_it_smaller_and_takes_less() -> None:
    scale = Scale(5.5, Basis.GAUGE, "sc", 5.0)
    found = substitute(scale, 4.0, 4, 2, 3.5)
    assert found.size_ratio < 1
    assert found.yarn_ratio == pytest.approx(found.size_ratio)


def test_summary_is_json_and_agrees() -> None:
    found = measured(HEADER, with_eyelets([5] * 6))
    read = json.loads(json.dumps(plain(found)))
    assert read["yarns"][0]["metres"] == round(found.yarns[0].metres, 1)
    assert read["parts"][0]["shape"] == "vessel"
    assert read["basis"] == "gauge"
    assert len(read["parts"][0]["outline_mm"]) == len(found.parts[0].form.courses) + 1


def test_largest_part_decides_the_size() -> None:
    found = measured(HEADER, part_of([6, 12], name="Ear"), part_of([6, 12, 18, 24, 30], name="Body"))
    largest = found.largest()
    assert largest
    assert largest.name == "Body"
    assert measured(HEADER).largest() is None


headers = st.builds(
    Header,
    title=st.text(max_size=20),
    kind=st.sampled_from(["", "toy", "hat", "mat"]),
    audience=st.sampled_from(["", "adult", "baby", "pet"]),
    hooks_mm=st.lists(st.floats(-1, 40), max_size=2).map(tuple),
    gauge=st.none() | st.builds(Gauge, st.floats(-2, 60), st.floats(-2, 60), st.floats(-1, 300), st.sampled_from(["sc", "dc", "zz"])),
    swatch=st.none() | st.builds(Swatch, st.integers(-1, 40), st.integers(-1, 40), st.sampled_from(["sc", "tr"]), st.none() | st.floats(-3, 50), st.none() | st.floats(-3, 50)),
    yarns=st.lists(
        st.builds(
            YarnSpec, st.sampled_from(["A", "B"]), st.just("x"), weight=st.none() | st.integers(-1, 9),
            grams_per_ball=st.none() | st.floats(-1, 200), metres_per_ball=st.none() | st.floats(-1, 900),
            strands=st.integers(0, 3),
        ),
        max_size=3,
    ).map(tuple),
    ties=st.lists(st.builds(Tie, st.just("cord"), st.floats(0, 2000), st.booleans()), max_size=2).map(tuple),
)  # fmt: skip


@given(
    headers,
    st.lists(st.integers(0, 90), max_size=12),
    st.sampled_from(["sc", "dc", "ch", "sl-st", "picot", "dc-bobble-5"]),
)
def test_any_header_measures_without_a_traceback(header: Header, counts: list[int], kind: str) -> None:
    found = measured(header, part_of(counts, kind, yarns=["A", "B"] * 6))
    json.dumps(plain(found), allow_nan=False)
    assert all(yarn.low_metres <= yarn.metres + 1e-9 <= yarn.high_metres + 2e-9 for yarn in found.yarns)
    assert found.hours[0] <= found.hours[1]


@pytest.mark.parametrize("said", ["Work even until it measures 8 cm", "Rnd 4: Sc around until piece measures 8 cm"])
def test_plain_work_to_a_length_takes_as_many_rounds_as_the_gauge_says(said: str) -> None:
    """17 rounds to 10 cm are 13.6 to 8 cm (arithmetic), so 14 in all; plain ones, though the round before them grew."""
    text = (
        "---\ntitle: Cup\nterms: US\nlevel: easy\nhook: 4 mm\ngauge: 16 sc x 17 rounds = 10 cm\nrounds: spiral\n"
        'yarns:\n  A: {colour: slate, weight: 4, swatch: "#4a5a62"}\n---\n## Cup\n```rounds\n'
        "Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc in each st around (12)\n"
        f"Rnd 3: *sc in next st, inc; rep from * around (18)\n{said}\nFasten off\n```\n"
    )
    compiled = compile_pattern(Source("cup.md", text))
    [part] = compiled.fabric.parts
    assert [course.live for course in part.courses] == [6, 12] + [18] * 12
    again = "\n".join(line.whole for line in write_part(part, language("en-US")))
    [reread] = compile_pattern(Source("cup.md", text.split("```rounds")[0] + f"```rounds\n{again}\n```\n")).fabric.parts
    assert [course.live for course in reread.courses] == [course.live for course in part.courses]
