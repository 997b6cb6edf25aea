"""The `chart` command as a person runs it: every form, either hand, from a file and through the pipe."""

import io
from pathlib import Path

import pytest
from lxml import etree

from generator import cli
from generator.commands.console import Console

PATTERN = """---
title: Dunlin dish
published: 2026-01-02
terms: US
hook: 4 mm
yarns:
  A: {colour: sand, weight: 4, swatch: "#d8c7a0"}
---
## Dish
```rounds
With A
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnds 3-7: sc in each st around (12)
```
"""
BARE = b"Rnd 1: 6 sc in magic ring (6)\nRnd 2: 2 sc in each st around (12)\n"


def run(*words: str, pipe: bytes = b"") -> tuple[int, str, str]:
    said, complained = io.StringIO(), io.StringIO()
    status = cli.main(list(words), Console(said, complained, io.BytesIO(pipe)))
    return status, said.getvalue(), complained.getvalue()


@pytest.fixture
def pattern(tmp_path: Path) -> Path:
    file = tmp_path / "dunlin-dish.md"
    file.write_text(PATTERN, encoding="utf-8")
    return file


@pytest.mark.parametrize("form, begins", [("svg", b"<svg "), ("png", b"\x89PNG"), ("pdf", b"%PDF-")])
def test_forms(pattern: Path, tmp_path: Path, form: str, begins: bytes) -> None:
    out = tmp_path / f"chart.{form}"
    assert run("chart", str(pattern), "-o", str(out))[0] == 0
    assert out.read_bytes().startswith(begins)


@pytest.mark.parametrize("kind", ["ring", "band", "silhouette", "edge", "drift"])
def test_kinds(pattern: Path, tmp_path: Path, kind: str) -> None:
    out = tmp_path / "chart.svg"
    assert run("chart", str(pattern), "--kind", kind, "-o", str(out))[0] == 0
    assert kind in etree.fromstring(out.read_bytes()).get("class", "")


def test_either_hand_differs(pattern: Path, tmp_path: Path) -> None:
    out = [tmp_path / f"{hand}.svg" for hand in ("left", "right")]
    for file in out:
        assert run("chart", str(pattern), "--hand", file.stem, "-o", str(file))[0] == 0
    assert out[0].read_bytes() != out[1].read_bytes()


def test_through_the_pipe(tmp_path: Path) -> None:
    out = tmp_path / "chart.svg"
    assert run("chart", "-", "-o", str(out), pipe=BARE)[0] == 0
    assert out.read_text(encoding="utf-8").count("<use ") >= 18


def test_a_file_of_rounds_alone(tmp_path: Path) -> None:
    file, out = tmp_path / "pasted.txt", tmp_path / "chart.svg"
    file.write_bytes(BARE)
    assert run("chart", str(file), "-o", str(out))[0] == 0
    assert out.read_text(encoding="utf-8").count("<use ") >= 18
    status, said, _ = run("proof", str(file))
    assert status == 1 and said.rstrip().endswith(f"spiralbound proof --bare {file}")


def test_what_is_not_there_is_said(pattern: Path, tmp_path: Path) -> None:
    for words in (("--kind", "rows"), ("--kind", "edge", "--round", "99"), ("--part", "Lid")):
        status, _, complained = run("chart", str(pattern), *words, "-o", str(tmp_path / "no.svg"))
        assert status != 0 and complained and "Traceback" not in complained
    assert not (tmp_path / "no.svg").exists()


def test_folded_rounds_can_be_opened(tmp_path: Path) -> None:
    text = b"Rnd 1: 6 sc in magic ring (6)\nRnds 2-8: sc in each st around (6)\n"
    folded, opened = tmp_path / "folded.svg", tmp_path / "opened.svg"
    assert run("chart", "-", "--kind", "ring", "-o", str(folded), pipe=text)[0] == 0
    assert run("chart", "-", "--kind", "ring", "--unfolded", "-o", str(opened), pipe=text)[0] == 0
    assert "data-folded" in folded.read_text(encoding="utf-8")
    assert "data-folded" not in opened.read_text(encoding="utf-8")
    assert opened.read_text(encoding="utf-8").count('data-course="') == 8


def test_a_folder_of_one_text_is_that_text(pattern: Path, tmp_path: Path) -> None:
    assert run("chart", str(pattern.parent), "-o", str(tmp_path / "chart.svg"))[0] == 0
    (tmp_path / "other.md").write_text(PATTERN, encoding="utf-8")
    assert "is a folder; name one of its texts: dunlin-dish.md, other.md" in run("chart", str(pattern.parent))[2]


def test_no_picture_under_a_wrong_name(pattern: Path, tmp_path: Path) -> None:
    status, _said, complained = run("chart", str(pattern), "-o", str(tmp_path / "chart.jpg"))
    assert (status, complained) == (2, "a chart can't be written as .jpg; fits: .svg, .png or .pdf\n")
    assert not (tmp_path / "chart.jpg").exists()


def test_a_round_it_does_not_have(pattern: Path) -> None:
    assert "no round 9; it has rounds 1 to 7" in run("chart", str(pattern), "--kind", "edge", "--round", "9")[2]
