"""Words, remarks, abbreviation lists, typography: everything of `wording` that needs no worked fabric."""

from dataclasses import fields

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.notation import tree
from generator.notation.tree import How, Loop, Noun, Step, Target
from generator.vocabulary.load import language
from generator.wording import flow, remarks, typography
from generator.wording.places import Scene, where
from generator.wording.reference import used
from generator.wording.voice import Style, Voice, words_for

US, UK = language("en-US"), language("en-GB")


def scene(style: Style = Style.SHORT, uk: bool = False, rows: bool = False) -> Scene:
    return Scene(Voice(UK if uk else US, style, author=US), rows=rows, all_sc=True)


def test_every_class_of_step_has_its_words() -> None:
    known = set(flow.Known.__args__)  # type: ignore[attr-defined]
    classes = {kind for kind in vars(tree).values() if isinstance(kind, type) and issubclass(kind, Step)}
    assert classes - {Step} == known


@pytest.mark.parametrize("kind", list(flow.Known.__args__))  # type: ignore[attr-defined]
@pytest.mark.parametrize("style", list(Style))
def test_every_step_is_said_with_its_defaults(kind: type[Step], style: Style) -> None:
    text = flow.say(kind(), scene(style))
    assert "{" not in text and "  " not in text
    silent = (tree.Remark, tree.Reached, tree.PartRef, tree.Unread, tree.Convention, tree.Choice, tree.Repeat)
    assert bool(text) != (kind in silent)


@pytest.mark.parametrize("how", list(How))
@pytest.mark.parametrize("noun", list(Noun))
@pytest.mark.parametrize("loop", list(Loop))
def test_every_place_is_said(how: How, noun: Noun, loop: Loop) -> None:
    for style in (Style.SHORT, Style.SPELLED):
        text = where(Target(how, noun, 2, loop=loop, nth=2), scene(style))
        assert text and "{" not in text and "  " not in text


SC2 = tree.Work(stitch="sc", each=2)
ALONG = tree.Work(stitch="sc", target=Target(count=3))


@pytest.mark.parametrize(
    ("step", "short", "terse", "spelled", "uk"),
    [
        (ALONG, "sc in next 3 sts", "3 sc", "single crochet in next 3 stitches", "dc in next 3 sts"),
        (SC2, "2 sc in next st", "inc", "2 single crochet in next stitch", "2 dc in next st"),
        (
            tree.Work(stitch="sc2tog", target=Target(count=12)),
            "sc2tog 6 times", "sc2tog × 6", "single crochet 2 together 6 times", "dc2tog 6 times",
        ),
        (
            tree.Work(stitch="fpdc", target=Target(kind="dc")),
            "FPdc around next dc", "FPdc around next dc",
            "front post double crochet around next double crochet", "FPtr around next tr",
        ),
        (
            tree.Repeat(steps=(ALONG, SC2), times=tree.Times(6)),
            "(sc in next 3 sts, 2 sc in next st) 6 times", "(3 sc, inc) × 6",
            "(single crochet in next 3 stitches, 2 single crochet in next stitch) 6 times",
            "(dc in next 3 sts, 2 dc in next st) 6 times",
        ),
        (
            tree.Repeat(steps=(ALONG, SC2), times=tree.Times(to_end=True)),
            "*sc in next 3 sts, 2 sc in next st; rep from * around", "(3 sc, inc) around",
            "*single crochet in next 3 stitches, 2 single crochet in next stitch; repeat from * around",
            "*dc in next 3 sts, 2 dc in next st; rep from * around",
        ),
        (
            tree.Group(
                steps=(tree.Work(stitch="dc", each=2), tree.Chain(n=2), tree.Work(stitch="dc", each=2)),
                target=Target(noun=Noun.SPACE, size=2),
            ),
            "[2 dc, ch 2, 2 dc] in next ch-2 sp", "[2 dc, ch 2, 2 dc] in next ch-2 sp",
            "[2 double crochet, chain 2, 2 double crochet] in next chain-2 space",
            "[2 tr, ch 2, 2 tr] in next ch-2 sp",
        ),
        (tree.Skip(target=Target(count=2)), "skip next 2 sts", "skip 2", "skip next 2 stitches", "miss next 2 sts"),
        (
            tree.Work(stitch="dc", target=Target(How.FROM_HOOK, Noun.CHAIN, nth=4)),
            "dc in 4th ch from hook", "dc in 4th ch from hook",
            "double crochet in fourth chain from hook", "tr in 4th ch from hook",
        ),
        (
            tree.Chain(n=5, stands_for="dc", stands_chains=2),
            "ch 5 (counts as dc, ch 2)", "ch 5 (counts as dc, ch 2)",
            "chain 5 (counts as double crochet, chain 2)", "ch 5 (counts as tr, ch 2)",
        ),
        (
            tree.Again(numbers=(4, 5), passes=3),
            "rep rnds 4 and 5, 3 times", "rep rnds 4 and 5, 3 times",
            "repeat rounds 4 and 5, 3 times", "rep rnds 4 and 5, 3 times",
        ),
    ],
)  # fmt: skip
def test_house_grammar(step: Step, short: str, terse: str, spelled: str, uk: str) -> None:
    assert flow.say(step, scene()) == short
    assert flow.say(step, scene(Style.TERSE)) == terse
    assert flow.say(step, scene(Style.SPELLED)) == spelled
    assert flow.say(step, scene(uk=True)) == uk


def test_outer_repeat_takes_the_asterisk_and_says_that_the_number_is_all() -> None:
    inner = tree.Repeat(steps=(tree.Work(stitch="dc"), tree.Chain(n=1)), times=tree.Times(3))
    outer = tree.Repeat(steps=(inner, SC2), times=tree.Times(4))
    assert flow.say(outer, scene()) == "*(dc in next st, ch 1) 3 times, 2 sc in next st; rep from * a total of 4 times"


def test_terse_names_the_place_before_a_place() -> None:
    """`5 sc, 2 dc in next ch-2 sp` is read by many as seven stitches in the space."""
    two = tree.Work(stitch="dc", each=2, target=Target(noun=Noun.SPACE, size=2))
    assert flow.listed([ALONG, two], scene(Style.TERSE)) == "sc in next 3 sts, 2 dc in next ch-2 sp"
    assert flow.listed([two, ALONG], scene(Style.TERSE)) == "2 dc in next ch-2 sp, 3 sc"


def test_words_are_composed_for_stitches_without_an_entry() -> None:
    assert words_for("dc7tog", US).abbreviation == "dc7tog"
    assert words_for("dc7tog", UK).abbreviation == "tr7tog"
    assert words_for("dc-bobble-5", UK).name == "5-treble bobble"
    assert words_for("hdc-puff-3", US).abbreviation == "3-hdc puff"
    assert words_for("reed-head", US).name == "reed head"


def test_remarks_move_to_the_readers_dialect_in_one_pass() -> None:
    uk = Voice(UK, author=US)
    assert remarks.move("Count 6 sc and 3 dc before the tr", uk) == "Count 6 dc and 3 tr before the dtr"
    assert remarks.move("stuff firmly.", uk) == "stuff firmly"
    assert remarks.move("Sc is the US word", uk) == "Dc is the US word"


def test_remarks_lose_their_abbreviations_when_spelled_out() -> None:
    spelled = Voice(US, Style.SPELLED, author=US)
    assert remarks.move("mark the last st of each rnd", spelled) == "mark the last stitch of each round"


def test_left_handed_makers_get_the_other_hand_but_keep_their_right_side() -> None:
    left = Voice(US, left_handed=True, author=US)
    assert remarks.move("With right side facing, work to the left", left) == "With right side facing, work to the right"
    assert (
        remarks.move("turn clockwise, join at the right-hand edge", left)
        == "turn counterclockwise, join at the left-hand edge"
    )
    assert remarks.move("two are left, right through the middle", left) == "two are left, right through the middle"
    assert remarks.mirror("Anticlockwise", Voice(UK, left_handed=True)) == "Clockwise"


def test_abbreviations_are_those_of_the_text_and_no_others() -> None:
    possible = (
        ("sc", "single crochet"),
        ("sc2tog", "single crochet 2 together"),
        ("st", "stitch"),
        ("m", "marker"),
        ("dc", "double crochet"),
    )
    found = used(["Rnd 3: Sc2tog, 10 cm. With M (18 sts)"], possible)
    assert [short for short, _ in found] == ["sc2tog", "st"]


@given(st.text(st.sampled_from("ab 123cht.(),;*-'"), max_size=40))
def test_typesetting_changes_only_spaces_and_apostrophes(text: str) -> None:
    shown = typography.typeset(text)
    assert shown.replace("\u00a0", " ").replace("’", "'") == text


def test_what_belongs_together_stays_on_one_line() -> None:
    shown = typography.typeset("Rnd 3: Ch 3, sl st in 2nd ch, sc in next 3 sts; rep from * around. (18 sts)")
    assert shown.replace("\u00a0", "~") == "Rnd~3: Ch~3, sl~st in 2nd~ch, sc in next~3~sts; rep from~* around. (18~sts)"


def test_places_have_all_their_fields_said() -> None:
    """A field added to Target must be said somewhere: this list is what `where` knows."""
    assert {field.name for field in fields(Target)} == {
        "how", "noun", "count", "kind", "size", "nth", "every", "leave", "loop", "below", "course", "spaces", "chains", "side", "implied",
    }  # fmt: skip
