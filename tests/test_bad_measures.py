"""Wrong amounts, sizes and tools in a header: one finding each, and the page still gets what can be measured."""

import pytest

from generator.diagnostics.record import Severity
from generator.pages.reckoning import reckoned
from generator.pipeline import Compiled, compile_pattern
from generator.source import Source

MAT = """---
title: Marsh mat
published: 2026-09-04
terms: US
level: easy
kind: mat
for: home
summary: A round mat.
hook: 4 mm
gauge: 18 sc x 20 rounds = 10 cm
rounds: spiral
size: {width: 9 cm}
yarns:
  A: {colour: reed, swatch: "#6b7f3a", weight: 4, fibre: cotton}
---

## Mat

```rounds
With A
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: *sc in next st, 2 sc in next st; rep from * around (18)
Rnd 4: sc in next st, 2 sc in next st, *sc in next 2 sts, 2 sc in next st; rep from * 4 more times, sc in next st (24)
Rnd 5: *sc in next 3 sts, 2 sc in next st; rep from * around (30)
Rnd 6: sc in next 2 sts, 2 sc in next st, *sc in next 4 sts, 2 sc in next st; rep from * 4 more times, sc in next 2 sts (36)
Rnd 7: *sc in next 5 sts, 2 sc in next st; rep from * around (42)
Rnd 8: sc in next 3 sts, 2 sc in next st, *sc in next 6 sts, 2 sc in next st; rep from * 4 more times, sc in next 3 sts (48)
Rnd 9: *sc in next 7 sts, 2 sc in next st; rep from * around (54)
Fasten off
```
"""


def compiled(old: str = "", new: str = "") -> Compiled:
    assert old in MAT
    return compile_pattern(Source("mat.md", MAT.replace(old, new) if old else MAT))


def loud(made: Compiled) -> list[str]:
    return [finding.rule for finding in made.findings if finding.severity is not Severity.NOTE]


def test_the_good_one_is_silent() -> None:
    assert loud(compiled()) == []


@pytest.mark.parametrize(
    ("old", "new", "rule"),
    [
        ("18 sc x 20 rounds", "0 sc x 20 rounds", "header-wrong-value"),
        ("18 sc x 20 rounds", "18 sc x 0 rounds", "header-wrong-value"),
        (", weight: 4", "", "yarn-incomplete"),
        ("weight: 4", "weight: 9", "header-wrong-value"),
        ("hook: 4 mm", "hook: 4.7 mm", "hook-between-sizes"),
        ("hook: 4 mm", "hook: 4.5 mm (G)", "hook-label-differs"),
        ("hook: 4 mm", "hook: 30 mm", "hook-unlike-yarn"),
        ("rounds: spiral", "rounds: spiral\nswatch: 20 sts x 20 rows used 50 m", "swatch-unlike-gauge"),
        ("width: 9 cm", "width: 20 cm", "size-differs"),
    ],
)
def test_one_finding_each(old: str, new: str, rule: str) -> None:
    made = compiled(old, new)
    assert loud(made) == [rule]
    assert made.measured
    assert made.measured.parts[0].form.width_mm > 50


def test_the_issue_example_of_a_swatch_is_read() -> None:
    made = compiled("rounds: spiral", "rounds: spiral\nswatch: 20 sts x 20 rows used 16.5 m")
    assert loud(made) == []
    assert made.measured
    assert made.measured.calibrated
    assert "swatch" in reckoned(made.pattern.header, made.measured).notes[0]


def test_the_page_says_how_it_was_reckoned() -> None:
    plain = compiled()
    found = reckoned(plain.pattern.header, plain.measured)
    assert [other.weight for other in found.instead] == ["Light (3)", "Bulky (5)"]
    assert found.spreads[0].range.metric.endswith("m")
    assert found.credit == "Source: Craft Yarn Council's www.YarnStandards.com"
    assert not reckoned(plain.pattern.header, None)


def test_the_limits_behind_a_caution_carry_their_edition() -> None:
    made = compiled("kind: mat\nfor: home", "kind: toy\nfor: child\nties:\n  - {name: leash, length: 40 cm}")
    found = reckoned(made.pattern.header, made.measured)
    assert any("220" in limit and "EN 71-1:2005+A8:2009" in limit for limit in found.limits)
