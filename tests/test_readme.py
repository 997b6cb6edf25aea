"""The README shows what the tool really does: its pattern, its words, its message and its chart are made anew here."""

import io
import re
from collections import Counter
from pathlib import Path

import pytest

from generator import cli
from generator.commands.console import Console
from generator.diagnostics.record import Severity
from generator.pipeline import compile_pattern
from generator.source import Source
from generator.vocabulary.load import language
from generator.wording.instructions import write_part
from generator.wording.voice import Style

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")


def block(opens: str, number: int = 0) -> str:
    fence = opens[: len(opens) - len(opens.lstrip("`"))]
    return re.findall(rf"^{opens}\n(.*?)^{fence}$", README, re.DOTALL | re.MULTILINE)[number]


PATTERN = block("````markdown")


def test_the_pattern_comes_out() -> None:
    compiled = compile_pattern(Source("tide-line-mat.md", PATTERN))
    assert [finding for finding in compiled.findings if finding.severity is not Severity.NOTE] == []
    assert [line.live for line in compiled.fabric.parts[0].lines if line.line.label.numbers] == [6, 12, 18, 24, 30, 36]


def test_the_words_are_those_it_writes() -> None:
    part = compile_pattern(Source("tide-line-mat.md", PATTERN)).fabric.parts[0]
    written = write_part(part, language("en-GB"), Style.SHORT, {"A": "samphire", "B": "wet sand"})
    lines = [f"{one.label}: {one.text}" if one.label else one.text for one in written]
    counts = [f" ({one.count})" if one.count else "" for one in written]
    assert "\n".join(map("".join, zip(lines, counts, strict=True))) + "\n" == block("```text", 0)


def test_the_message_is_what_it_says(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("tide-line-mat.md").write_text(PATTERN.replace("*sc in next 4 sts", "*sc in next 3 sts"), encoding="utf-8")
    out = io.StringIO()
    assert cli.main(["proof", "tide-line-mat.md"], Console(out, out, io.BytesIO())) == 1
    assert block("```text", 1) in out.getvalue()


def test_the_chart_is_the_one_it_draws(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, update: bool) -> None:
    monkeypatch.chdir(tmp_path)
    Path("tide-line-mat.md").write_text(PATTERN, encoding="utf-8")
    console = Console(io.StringIO(), io.StringIO(), io.BytesIO())
    assert cli.main(["chart", "tide-line-mat.md", "--out", "chart.svg"], console) == 0
    kept, drawn = ROOT / "docs" / "tide-line-mat.svg", Path("chart.svg").read_text(encoding="utf-8")
    if update:
        kept.write_text(drawn, encoding="utf-8")
    # The finest lines may move; which signs there are, how many, and every word may not.
    assert signs(kept.read_text(encoding="utf-8")) == signs(drawn)


def signs(svg: str) -> tuple[Counter[str], list[str]]:
    return Counter(re.findall(r'href="#([^"]+)"', svg)), re.findall(r">([^<>]+)</(?:text|tspan|title|desc)>", svg)


def test_every_command_named_exists() -> None:
    named = set(re.findall(r"spiralbound ([a-z]+)", README)) | set(
        re.findall(r"^\| `([a-z]+)` \|", README, re.MULTILINE)
    )
    assert named <= set(cli.COMMANDS)


def test_no_file_names_a_host_to_install_from() -> None:
    for name in ("Makefile", "pyproject.toml", "README.md", "DEVELOPERS.md", ".ci/run"):
        hosts = re.findall(r"https?://([\w-]+(?:\.[\w-]+)+)", (ROOT / name).read_text(encoding="utf-8"))
        assert [host for host in hosts if not host.endswith(".example")] == [], name
