"""Sites for the tests of pages and publishing: the demo catalogue built once, and tiny studios written on the spot."""

import shutil
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from generator.publish import Report, publish

CONTENT = Path(__file__).parents[2] / "content"
TODAY = date(2026, 11, 25)

PATTERN = """---
title: {title}
published: {published}
terms: US
level: easy
kind: mat
for: home
summary: A small flat round.
tags: [round, quick]
hook: 4 mm
gauge: 16 sc x 18 rounds = 10 cm
yarns:
  A: {{colour: samphire, swatch: "#4f7a4a", weight: 4, fibre: cotton}}
size: {{width: 7.5 cm}}
rounds: spiral
{more}---

{prose}

## Disc

```rounds
With A
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: *sc in next st, 2 sc in next st; rep from * around ({third})
Rnd 4: *sc in next 2 sts, 2 sc in next st; rep from * around (24)
Rnd 5: *sc in next 3 sts, 2 sc in next st; rep from * around (30)
Rnd 6: *sc in next 4 sts, 2 sc in next st; rep from * around (36)
Fasten off
```
"""


def pattern(
    title: str = "Small disc", published: str = "2026-05-01", more: str = "", prose: str = "Flat.", third: int = 18
) -> str:
    """A pattern that proves clean, with what a test wants changed."""
    return PATTERN.format(title=title, published=published, more=more, prose=prose, third=third)


def studio(folder: Path, patterns: dict[str, str], toml: str = "") -> Path:
    """A content folder with patterns by slug."""
    content = folder / "content"
    for slug, text in patterns.items():
        place = content / "patterns" / slug
        place.mkdir(parents=True, exist_ok=True)
        (place / f"{slug}.md").write_text(text, encoding="utf-8")
    content.mkdir(exist_ok=True)
    (content / "studio.toml").write_text(toml or 'title = "Test studio"\naddress = "https://studio.example/sub/"\n')
    return content


def made(content: Path, site: Path, **more: object) -> Report:
    """Publish pages without editions and pictures, in this process."""
    options: dict[str, object] = {
        "today": TODAY,
        "jobs": 1,
        "editions": False,
        "pictures": False,
        "full_text": False,
        **more,
    }
    return publish(content, site, **options)  # type: ignore[arg-type]


def rules(report: Report, severity: str = "error") -> list[str]:
    """Rules of errors, or of findings of another severity."""
    return sorted(finding.rule for _, finding in report.findings if finding.severity == severity)


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo site, as published; from a copy, since publishing remembers in the content what it published."""
    folder = tmp_path_factory.mktemp("demo")
    shutil.copytree(CONTENT, folder / "content")
    report = publish(folder / "content", folder / "site", today=TODAY, editions=False, jobs=1)
    assert report.swapped
    return folder / "site"


@pytest.fixture(scope="session")
def other_theme(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo site in the second theme."""
    folder = tmp_path_factory.mktemp("tide")
    copy_without_theme(CONTENT, folder / "content")
    report = publish(
        folder / "content", folder / "site", today=TODAY, editions=False, pictures=False, full_text=False, jobs=1
    )
    assert report.swapped
    return folder / "site"


def copy_without_theme(content: Path, target: Path) -> None:
    """The demo's texts in the second theme's colours."""
    shutil.copytree(content, target)
    text = (target / "studio.toml").read_text().split("[colours]")[0].replace('theme = "quire"', 'theme = "tidetable"')
    (target / "studio.toml").write_text(text)


Maker = Callable[..., Report]
