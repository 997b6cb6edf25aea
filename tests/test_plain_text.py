"""The spelled-out edition as characters: signs in words, one round a line."""

import re

import pytest
from leaflets import leaflet

from generator.pages.listening import spoken, spoken_work
from generator.pages.manuscript import passages, without_heading
from generator.pages.plaintext import plain_text


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("Rounds 4–8", "Rounds 4 to 8"),
        ("12\u00a0cm (4¾\u00a0in)", "12 centimetres (4 and three quarters inches)"),
        ("½\u00a0in", "a half inch"),
        ("1\u00a0m", "1 metre"),
        ("38\u00a0m (42\u00a0yd), 20\u00a0g (0.8\u00a0oz)", "38 metres (42 yards), 20 grams (0.8 ounces)"),
        ("1½–2\u00a0hours", "1 and a half to 2 hours"),
        ("jar 7.5 cm across", "jar 7.5 centimetres across"),
        ("work in next 3 stitches – slowly", "work in next 3 stitches , slowly"),
        ("7 in next", "7 in next"),
    ],
)
def test_signs_are_said(written: str, said: str) -> None:
    assert spoken(written).replace(" ,", ",") == said.replace(" ,", ",")


@pytest.mark.parametrize(
    ("written", "said"),
    [
        (
            "(single crochet in next 3 stitches, invisible decrease) 6 times.",
            "Repeat 6 times: single crochet in next 3 stitches, invisible decrease, end of repeat.",
        ),
        (
            "*Single crochet in next stitch, chain 2; repeat from * around, join with slip stitch.",
            "Repeat around: Single crochet in next stitch, chain 2, end of repeat, join with slip stitch.",
        ),
        (
            "Chain 3 (counts as double crochet), ([2 double crochet, chain 2] in next chain-2 space, chain 1) 3 times.",
            "Chain 3, counts as double crochet, repeat 3 times: in next chain-2 space, all in one place:"
            " 2 double crochet, chain 2, end of group, chain 1, end of repeat.",
        ),
    ],
)
def test_repeats_and_groups_are_said(written: str, said: str) -> None:
    assert spoken_work(written) == said
    assert re.findall(r"\d+", spoken_work(written)) and sorted(re.findall(r"\d+", said)) == sorted(
        re.findall(r"\d+", written)
    )


def test_one_round_a_line_and_only_plain_characters() -> None:
    text = plain_text(leaflet(9))
    lines = text.splitlines()
    for entry in leaflet(9).entries():
        said = f"{entry.label}: {spoken_work(entry.text)} Count, {entry.count}."
        assert [line for line in lines if line.startswith(f"{entry.label}:")] == [said]
    assert not set(text) & set("–—×½¼¾\u00a0\u202f“”’•☐|\t")
    assert lines.index("BEFORE YOU BEGIN") < lines.index("BASE") < lines.index("ABOUT THIS PIECE")


def test_prose_is_read_without_markup() -> None:
    blocks = passages(
        "A *soft* **bag**.\n\n- one\n- two\n\n1. first\n\n<b>raw</b> [here](https://marsh.example/a)\n\n## Ear (make 2)"
    )
    assert [(b.kind, b.plain(), b.number) for b in blocks] == [
        ("paragraph", "A soft bag.", 0),
        ("bullet", "one", 0),
        ("bullet", "two", 0),
        ("numbered", "first", 1),
        ("paragraph", "<b>raw</b> here (https://marsh.example/a)", 0),
        ("heading", "Ear (make 2)", 0),
    ]
    assert [run.mark for run in blocks[0].runs] == ["", "emphasis", "", "strong", ""]
    assert without_heading(blocks, "Ear") == blocks[:-1]
    assert without_heading(blocks, "Leg") == blocks
