"""The command as a person runs it: what it prints, how it ends, and that no text makes it fall over."""

import io
import json
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from generator import cli, proof
from generator.commands.console import Console
from generator.notation.tree import Stated

ROOT = Path(__file__).parent.parent
SCHEMA = json.loads((ROOT / "generator" / "proof.schema.json").read_text(encoding="utf-8"))

GOOD = """---
title: Heron mat
published: 2026-01-02
terms: US
level: basic
hook: 4 mm
gauge: 16 sc x 17 rounds = 10 cm
yarns:
  A: {colour: slate, weight: 4, swatch: "#4a5a62"}
size: {width: 3.5 cm}
rounds: spiral
---
## Mat
```rounds
With A
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: *sc in next st, inc; rep from * around (18)
Rnds 4-5: sc in each st around (18)
Fasten off
```
"""
WRONG = GOOD.replace("inc; rep from * around (18)", "inc; rep from * around (19)")


class Run:
    """One run of the command with everything it said."""

    def __init__(self, *arguments: str, stdin: bytes = b"") -> None:
        out, err = io.StringIO(), io.StringIO()
        self.status = cli.main(list(arguments), Console(out, err, io.BytesIO(stdin)))
        self.out, self.err = out.getvalue(), err.getvalue()


@pytest.fixture
def studio(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "content" / "patterns").mkdir(parents=True)
    return tmp_path


def put(name: str, text: str | bytes) -> str:
    file = Path(name)
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(text if isinstance(text, bytes) else text.encode())
    return name


def as_json(*arguments: str, stdin: bytes = b"") -> dict[str, object]:
    run = Run("proof", "--json", *arguments, stdin=stdin)
    data = json.loads(run.out)
    jsonschema.Draft202012Validator(SCHEMA).validate(data)
    errors = [f for source in data["sources"] for f in source["findings"] if f["severity"] == "error"]
    assert run.status == (1 if errors else 0)
    return data  # type: ignore[no-any-return]


def test_the_schema_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


def test_a_clean_pattern(studio: Path) -> None:
    run = Run("proof", put("heron.md", GOOD))
    assert (run.status, run.err) == (0, "")
    assert run.out.splitlines()[-1].startswith("1 pattern, 5 rounds: every count comes out")


def test_its_proof_for_other_programs(studio: Path) -> None:
    source = as_json(put("heron.md", GOOD))["sources"][0]  # type: ignore[index]
    assert (source["path"], source["terms"], [part["name"] for part in source["parts"]]) == ("heron.md", "US", ["Mat"])
    rounds = source["parts"][0]["rounds"]
    assert [(one["line"], one["label"], one["numbers"], one["status"]) for one in rounds] == [
        (15, "", [], "remark"), (16, "Rnd 1", [1], "proved"), (17, "Rnd 2", [2], "proved"), (18, "Rnd 3", [3], "proved"),
        (19, "Rnds 4-5", [4, 5], "proved"), (20, "", [], "remark"),
    ]  # fmt: skip
    third = rounds[3]
    assert (third["stated"], third["made"], third["used"], third["live"], third["kinds"]) == (
        18,
        18,
        12,
        18,
        {"sc": 18},
    )


def test_a_wrong_count_is_shown_where_it_stands(studio: Path) -> None:
    run = Run("proof", put("heron.md", WRONG))
    assert run.status == 1
    assert "heron.md:18:" in run.out
    assert "18 | Rnd 3: *sc in next st, inc; rep from * around (19)" in run.out
    assert "^" in run.out and "1 error" in run.out


def test_one_mistake_is_one_finding(studio: Path) -> None:
    source = as_json(put("heron.md", WRONG))["sources"][0]  # type: ignore[index]
    errors = [finding for finding in source["findings"] if finding["severity"] == "error"]
    assert [(finding["rule"], finding["line"]) for finding in errors] == [("count-differs", 18)]
    assert WRONG.splitlines()[17][errors[0]["column"] - 1 : errors[0]["end_column"] - 1] == "(19)"


def test_findings_one_a_line(studio: Path) -> None:
    run = Run("proof", "--lines", put("heron.md", WRONG))
    assert all(line.startswith("heron.md:") and line.endswith("]") for line in run.out.splitlines())


def test_bare_text_from_the_pipe_and_from_a_file(studio: Path) -> None:
    text = "Rnd 1: 6 sc in magic ring (6)\n\nRnd 2: inc around (12)\n"
    piped = as_json("--bare", stdin=text.encode())
    assert [s["path"] for s in piped["sources"]] == ["<stdin>"]  # type: ignore[attr-defined]
    assert as_json("--bare", "-", stdin=text.encode()) == piped
    filed = as_json("--bare", put("pasted.txt", text))
    rounds = filed["sources"][0]["parts"][0]["rounds"]  # type: ignore[index]
    assert [(one["line"], one["status"], one["live"]) for one in rounds] == [(1, "proved", 6), (3, "proved", 12)]


def test_uk_terms_for_bare_text(studio: Path) -> None:
    data = as_json("--bare", "--terms", "UK", stdin=b"Rnd 1: 6 dc in magic ring (6)\n")
    assert data["sources"][0]["parts"][0]["rounds"][0]["kinds"] == {"sc": 6}  # type: ignore[index]


def test_a_document_from_the_pipe(studio: Path) -> None:
    assert as_json("-", stdin=GOOD.encode())["sources"][0]["terms"] == "US"  # type: ignore[index]


def test_several_files_are_one_object(studio: Path) -> None:
    data = as_json(put("b.md", GOOD), put("a.md", WRONG.replace("title: Heron", "title: Other")))
    assert [source["path"] for source in data["sources"]] == ["b.md", "a.md"]  # type: ignore[attr-defined]


def test_the_studio_is_what_is_proved_when_nothing_is_named(studio: Path) -> None:
    put("content/patterns/heron/heron.md", GOOD)
    put("content/patterns/かご/かご.md", GOOD)
    put("content/studio.toml", 'titel = "x"')
    data = as_json()
    assert [source["path"] for source in data["sources"]] == [  # type: ignore[attr-defined]
        "content/studio.toml", "content/patterns/heron/heron.md", "content/patterns/かご/かご.md",
    ]  # fmt: skip
    assert as_json("content")["sources"] == data["sources"]
    assert as_json(".")["sources"] == data["sources"]


def test_a_folder_that_is_no_studio(studio: Path) -> None:
    put("drafts/a.md", GOOD)
    put("drafts/deep/b.md", GOOD.replace("Heron", "Other"))
    data = as_json("drafts")
    assert [source["path"] for source in data["sources"]] == ["drafts/a.md", "drafts/deep/b.md"]  # type: ignore[attr-defined]


def test_two_patterns_with_one_address(studio: Path) -> None:
    put("content/patterns/a/heron.md", GOOD)
    put("content/patterns/b/heron.md", GOOD)
    sources = as_json()["sources"]
    assert [[f["rule"] for f in s["findings"] if f["severity"] == "error"] for s in sources] == [[], ["slug-taken"]]  # type: ignore[attr-defined]


SHAPED = GOOD.replace("With A", "Note: see the block").replace(
    "## Mat\n", "## Ball\n```shape\nform: ball\nwidth: 5 cm\n```\n\nWords.\n\n## Mat\n"
)  # fmt: skip


def test_places_are_those_of_the_file_though_a_shape_block_was_written_out(studio: Path) -> None:
    text = SHAPED.replace("inc; rep from * around (18)", "inc; rep from * around (19)")
    source = as_json(put("shaped.md", text))["sources"][0]  # type: ignore[index]
    wrong = next(finding for finding in source["findings"] if finding["rule"] == "count-differs")
    line = text.splitlines()[wrong["line"] - 1]
    assert line.startswith("Rnd 3") and line[wrong["column"] - 1 : wrong["end_column"] - 1] == "(19)"
    ball, mat = source["parts"]
    assert {one["line"] for one in ball["rounds"]} == {text.splitlines().index("form: ball") + 1}
    assert [one["line"] for one in mat["rounds"]][1] == text.splitlines().index("Rnd 1: 6 sc in magic ring (6)") + 1


def test_explain_shows_three_numbers_and_the_reading(studio: Path) -> None:
    text = (
        "Rnd 1: 6 sc in magic ring (6)\nRnd 2: 2 sc in each st around (12)\nRnd 3: *sc, 2 sc; rep from * around (18)\n"
    )
    run = Run("proof", "--bare", "--explain", put("pasted.txt", text))
    assert "Rnd 2        made   12   used    6   live   12   proved" in run.out
    assert "reading" in run.out


BAD: dict[str, tuple[str | bytes, str]] = {
    "unclosed bracket": (GOOD.replace("*sc in next st, inc; rep from * around", "(sc in next st, inc around"), ""),
    "unknown abbreviation": (GOOD.replace("Rnds 4-5: sc in", "Rnds 4-5: xq in"), ""),
    "count off by one": (WRONG, "count-differs"),
    "group that does not fit": (GOOD.replace("*sc in next st, inc;", "*sc in next 4 sts, inc;"), ""),
    "yarn not declared": (GOOD.replace("With A", "With C"), ""),
    "round number twice": (GOOD.replace("Rnd 3:", "Rnd 2:"), ""),
    "round number missing": (GOOD.replace("Rnds 4-5:", "Rnds 5-6:"), ""),
    "missing photo": (GOOD.replace("level:", 'photo: {file: lantern.jpg, alt: "x"}\nlevel:'), "photo-missing"),
    "empty file": ("", "empty-file"),
    "binary file": (b"\x89PNG\r\n\0\0\0\rIHDR", "not-text"),
    "header with a tab": (GOOD.replace("  A: {", "\tA: {"), "header-tab"),
    "header with a wrong type": (GOOD.replace("16 sc x 17 rounds = 10 cm", "[16, 17]"), "header-wrong-value"),
    "no header": ("Rnd 1: 6 sc in magic ring (6)\n", "header-missing"),
    "too long": (GOOD + "x" * 1024 * 1024, "too-long"),
}


@pytest.mark.parametrize("case", BAD)
def test_bad_input_gives_one_error_and_no_traceback(studio: Path, case: str) -> None:
    text, rule = BAD[case]
    source = as_json(put("bad.md", text))["sources"][0]  # type: ignore[index]
    found = [f["rule"] for f in source["findings"] if f["severity"] in ("error", "warning")]
    errors = [f["rule"] for f in source["findings"] if f["severity"] == "error"]
    told = found if case == "missing photo" else errors  # a warning: the drawn cover stands in for it
    assert len(told) == 1, (errors, found)
    assert not rule or told == [rule]


def test_nowhere_is_said_plainly(studio: Path) -> None:
    run = Run("proof", "missing.md")
    assert (run.status, run.out, run.err) == (2, "", "there is no missing.md here\n")
    assert Run("proof", "content").status == 2
    (studio / "content" / "patterns").rmdir()
    (studio / "content").rmdir()
    assert "spiralbound begin" in Run("proof").err


@pytest.mark.parametrize(
    "arguments, told",
    [
        (("weave",), "there is no command `weave`; fits: one of proof, publish"),
        (("prof",), "there is no command `prof`; fits: proof\n`spiralbound --help` tells what there is"),
        (("proof", "--jsn"), "`--jsn` is not known here; fits: --json\n`spiralbound proof --help`"),
        (("proof", "--terms", "AU"), "--terms can't be `AU`; fits: one of US, UK"),
        (("chart", "a.md", "--width", "wide"), "--width takes a whole number, not `wide`"),
        (("chart",), "a FILE is missing"),
        (("chart", "a.md", "-o"), "--out needs a value after it"),
        (("shape", "--fit", "24"), "--fit needs 3 values after it"),
    ],
)
def test_wrong_use_ends_with_2_and_says_what_fits(
    arguments: tuple[str, ...], told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert Run(*arguments).status == 2
    assert told in capsys.readouterr().err


def test_no_command_shows_what_there_is() -> None:
    run = Run()
    assert run.status == 2
    assert "usage: spiralbound" in run.err


@pytest.mark.usefixtures("studio")
def test_errors_among_remarks_are_named_at_the_end() -> None:
    text = WRONG + "\nIt takes a 10 in tail.\n"
    run = Run("proof", put("mixed.md", text))
    assert "to be settled before it can be published:\n    mixed.md:18  count differs" in run.out


def test_help_of_every_command(capsys: pytest.CaptureFixture[str]) -> None:
    assert Run("--help").status == 0
    told = capsys.readouterr().out
    for name in cli.COMMANDS:
        assert f"    {name}" in told
        assert Run(name, "--help").status == 0
        assert f"usage: spiralbound {name}" in capsys.readouterr().out


def test_commands_and_their_files_agree() -> None:
    folder = ROOT / "generator" / "commands"
    assert {path.stem for path in folder.glob("*.py")} - {"__init__", "console", "gather", "parser"} == set(
        cli.COMMANDS
    )


def test_our_own_fault_is_told_without_a_traceback(studio: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(proof, "of_pattern", lambda *_: 1 / 0)
    run = Run("proof", "--json", put("heron.md", GOOD))
    assert (run.status, run.out) == (cli.BROKEN, "")
    assert "fault of its own" in run.err and "Traceback" not in run.err


def test_a_new_studio_proves_and_publishes_at_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert Run("begin", "my studio").status == 0
    monkeypatch.chdir(tmp_path / "my studio")
    proved = Run("proof")
    assert (proved.status, proved.err) == (0, "")
    assert proved.out == "1 pattern, 8 rounds: every count comes out\n"
    published = Run("publish", "--pages-only", "--jobs", "1")
    assert published.status == 0, published.out
    assert Path("site/patterns/first-coaster/index.html").is_file()


def test_a_new_studio_overwrites_nothing(studio: Path) -> None:
    put("mine/precious.md", "x")
    run = Run("begin", "mine")
    assert run.status == 2 and "not empty" in run.err
    assert [path.name for path in Path("mine").iterdir()] == ["precious.md"]


def test_publish_stopped_by_the_person_says_that_nothing_is_half(studio: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    put("content/patterns/heron.md", GOOD)
    assert Run("publish", "--pages-only", "--jobs", "1").status == 0
    before = Path("site/index.html").read_bytes()

    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("generator.publish.patterns.build", stop)
    run = Run("publish", "--pages-only", "--jobs", "1", "--fresh")
    assert (run.status, run.err) == (130, "stopped; the site is whole as it stands\n")
    assert Path("site/index.html").read_bytes() == before


def test_publish_says_what_it_did_and_keeps_the_last_good_page(studio: Path) -> None:
    name = put("content/patterns/heron/heron.md", GOOD)
    arguments = ("publish", "--pages-only", "--jobs", "1", "--today", "2026-02-01")
    first = Run(*arguments)
    assert first.status == 0 and "1 pattern made" in first.out, first.out
    page = Path("site/patterns/heron/index.html").read_bytes()
    put(name, WRONG)
    second = Run(*arguments)
    assert second.status == 1 and "1 error" in second.out
    assert Path("site/patterns/heron/index.html").read_bytes() == page


def test_an_unwritable_site_is_told(studio: Path) -> None:
    put("content/patterns/heron/heron.md", GOOD)
    put("blocked", "a file where the folder should be")
    run = Run("publish", "--pages-only", "--jobs", "1", "--out", "blocked/site")
    assert run.status == 1 and "Traceback" not in run.out + run.err
    assert "blocked/site" in run.out


def test_a_new_process_is_quiet_in_a_closed_pipe(studio: Path) -> None:
    put("content/patterns/heron/heron.md", GOOD)
    command = f"{sys.executable} -m generator.cli proof --json | head -c 10"
    ended = subprocess.run(
        ["sh", "-c", command], capture_output=True, cwd=studio, env={"PYTHONPATH": str(ROOT)}, timeout=60
    )
    assert (ended.stdout[:10], ended.stderr) == (b'{\n "schema', b"")


def test_stated_totals() -> None:
    assert proof.stated_total(None) is None
    assert proof.stated_total(Stated(total=18)) == 18
    assert proof.stated_total(Stated(kinds=(("dc", 12), ("sp:2", 4), ("ch", 8)))) == 12
    assert proof.stated_total(Stated(kinds=(("sp:2", 4), ("petals", 6)))) is None


WORDS = st.sampled_from(
    ["Rnd", "1:", "2:", "3-", "99999999999", "sc", "inc", "*", "(", ")", "[", "rep from *", "around", "in next st", "ch", "(6)", "turn",
     "to last", "2 sts", "dec", "magic ring", "\t", "\0", "é", "½", "sk", "9999 sc in each st", "Row", "With A", "-", "x", "times", ","]
)  # fmt: skip


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.lists(WORDS, max_size=8).map(" ".join), max_size=6).map("\n".join))
def test_property_any_words_end_well(text: str) -> None:
    run = Run("proof", "--bare", "--json", stdin=text.encode())
    assert run.status in (0, 1), run.err
    jsonschema.Draft202012Validator(SCHEMA).validate(json.loads(run.out))
