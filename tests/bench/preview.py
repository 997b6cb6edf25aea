"""Preview: from a save to changed pixels in a real browser, start to first page, idle, memory over many saves.

Aims on two cores, for a 60-round pattern in a catalogue of 1,000: median at most 120 ms, 95th percentile at most 250 ms;
first page within 1.5 s; no work while idle; memory steady over 1,000 saves.
"""

import resource
import sys
import tempfile
import time
from collections.abc import Iterator
from datetime import date
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "browser"))

import chromium
from playwright.sync_api import Page

from generator.preview.session import Session

MANY, SAVES, LONG = 1000, 60, 1000

HEAD = """---
title: {title}
published: 2026-01-02
terms: US
level: easy
hook: 4 mm
gauge: 16 sc x 17 rounds = 10 cm
yarns:
  A: {{colour: slate, weight: 4, swatch: "#4a5a62"}}
rounds: spiral
---
## Bag
```rounds
With A
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc in each st around (12)
"""


def pattern(title: str, rounds: int = 60, last: int = 0) -> str:
    """A bag of so many rounds, its last one worked in another loop each time."""
    lines = [HEAD.format(title=title)]
    for number in range(3, 11):
        lines.append(
            f"Rnd {number}: *sc in next {number - 2} st{'s' if number > 3 else ''}, inc; rep from * around ({6 * number})\n"
        )
    for number in range(11, rounds):
        lines.append(f"Rnd {number}: {'sc' if number % 7 else 'hdc'} in each st around (60)\n")
    ways = (
        "sc in each st around",
        "sc in blo of each st around",
        "hdc in each st around",
        "sc in flo of each st around",
    )
    lines.append(f"Rnd {rounds}: {ways[last % 4]} (60)\nFasten off\n```\n")
    return "".join(lines)


def catalogue(folder: Path, many: int = MANY) -> Path:
    """A studio with the bag that is written on and many others."""
    for number in range(many - 1):
        place = folder / "content" / "patterns" / f"mat-{number}"
        place.mkdir(parents=True)
        (place / f"mat-{number}.md").write_text(pattern(f"Mat {number}", 12 + number % 30), encoding="utf-8")
    place = folder / "content" / "patterns" / "bag"
    place.mkdir(parents=True, exist_ok=True)
    (place / "bag.md").write_text(pattern("Bag"), encoding="utf-8")
    return folder / "content"


PAINTED = """before => new Promise(done => {
  const look = () => window.painted.length > before ? done(window.painted[before]) : setTimeout(look, 20);
  look();
})"""
"""When the page was painted anew. The page waits by itself: asking it again and again would slow the server, which runs
in this process here and in one of its own for the writer."""


def saves(page: Page, session: Session, file: Path, many: int) -> list[float]:
    """Milliseconds from each save until the browser has painted the changed round."""
    page.evaluate(
        """() => { window.painted = []; document.addEventListener("preview:renewed", () =>
           requestAnimationFrame(() => requestAnimationFrame(() => window.painted.push(Date.now())))); }"""
    )
    took = []
    for number in range(1, many + 1):
        before = _settled(page)
        begin = time.time() * 1000
        file.write_text(pattern("Bag", last=number), encoding="utf-8")
        took.append(page.evaluate(PAINTED, before) - begin)
        while any(easel.due for easel in session.desk.easels.values()):
            page.wait_for_timeout(20)
        page.wait_for_timeout(60)
    return took


def _settled(page: Page) -> int:
    """How often the page was renewed, once it is left alone: charts that fold are renewed after the words."""
    count = -1
    while (now := page.evaluate("window.painted.length")) != count:
        count = now
        page.wait_for_timeout(150)
    return count


def run(many: int = MANY) -> Iterator[str]:
    """Lines of figures."""
    with tempfile.TemporaryDirectory() as folder, chromium.browser() as browser:
        content = catalogue(Path(folder), many)
        begin = time.perf_counter()
        session = Session(content, Path(folder) / "site", date(2026, 11, 25))
        session.start()
        page = browser.new_context().new_page()
        page.goto(session.address)
        page.wait_for_selector("html[data-preview-version]", state="attached")
        yield f"start to first page, {many} patterns: {time.perf_counter() - begin:.2f} s (aim 1.5)"
        file = content / "patterns" / "bag" / "bag.md"
        took = sorted(saves(page, session, file, SAVES))
        yield f"save to changed pixels, 60 rounds: median {took[len(took) // 2]:.0f} ms (aim 120), 95 % {took[int(len(took) * 0.95)]:.0f} ms (aim 250)"
        yield f"idle: {_idle():.2f} % of a core over 5 s (aim about 0)"
        low = _memory()
        for number in range(LONG):
            file.write_text(pattern("Bag", last=number), encoding="utf-8")
            session.desk.changed([file.resolve()])
        yield f"memory over {LONG} saves: {low:.0f} MB before, {_memory():.0f} MB after"
        begin = time.perf_counter()
        session.stop()
        yield f"stop with a tab open: {(time.perf_counter() - begin) * 1000:.0f} ms"


def _idle() -> float:
    time.sleep(3)  # the charts of the last save are drawn meanwhile
    spent = time.process_time()
    time.sleep(5)
    return (time.process_time() - spent) / 5 * 100


def _memory() -> float:
    """Resident megabytes now."""
    pages = int(Path("/proc/self/statm").read_text().split()[1]) if Path("/proc/self/statm").exists() else 0
    return pages * resource.getpagesize() / 1e6
