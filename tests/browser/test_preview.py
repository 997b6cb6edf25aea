"""The preview in a real browser: what is saved is shown, what is wrong stands in the margin, what was good stays."""

import re
import time
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import chromium
import pytest
from playwright.sync_api import Browser, Page

from generator.preview.session import Session

WAIT = 20_000
"""Milliseconds before a change counts as missed; far more than it takes, for machines with much else to do."""

MAT = """---
title: {title}
published: 2026-01-02
terms: US
level: basic
hook: 4 mm
gauge: 16 sc x 17 rounds = 10 cm
yarns:
  A: {{colour: slate, weight: 4, swatch: "#4a5a62"}}
rounds: spiral
{more}---
## Mat
```rounds
With A
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
{rounds}Fasten off
```
"""
THREE = "Rnd 3: *sc in next st, inc; rep from * around (18)\n"
FOUR = "Rnd 4: *sc in next 2 sts, inc; rep from * around (24)\n"


def mat(rounds: str = THREE, title: str = "Heron mat", more: str = "") -> str:
    return MAT.format(title=title, rounds=rounds, more=more)


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium.browser() as running:
        yield running


class Studio:
    """A studio being written in, with its preview."""

    def __init__(self, folder: Path, browser: Browser) -> None:
        self.content = folder / "content"
        self.file = self.content / "patterns" / "heron" / "heron.md"
        self.file.parent.mkdir(parents=True)
        (self.content / "journal").mkdir()
        self.file.write_text(mat(), encoding="utf-8")
        self.session = Session(self.content, folder / "site", date(2026, 2, 1))
        self.session.start()
        self.context = browser.new_context(viewport={"width": 1200, "height": 800}, reduced_motion="reduce")
        self.faults: list[str] = []

    def open(self, path: str = "patterns/heron/index.html") -> Page:
        page = self.context.new_page()
        page.on("pageerror", lambda error: self.faults.append(str(error)))
        page.goto(f"http://127.0.0.1:{self.session.server.server_port}/{path}")
        page.wait_for_selector("html[data-preview-version]", state="attached", timeout=WAIT)
        return page

    def save(self, text: str) -> None:
        self.file.write_text(text, encoding="utf-8")

    def close(self) -> None:
        self.context.close()
        self.session.stop()


@pytest.fixture
def studio(tmp_path: Path, browser: Browser) -> Iterator[Studio]:
    made = Studio(tmp_path, browser)
    yield made
    made.close()
    assert made.faults == []


def wait(page: Page, selector: str, text: str = "") -> None:
    page.locator(selector, has_text=text or None).first.wait_for(state="attached", timeout=WAIT)


def gone(page: Page, selector: str) -> None:
    page.locator(selector).first.wait_for(state="detached", timeout=WAIT)


def rounds(page: Page) -> int:
    return page.locator("li.round").count()


def test_a_save_is_shown_in_text_chart_and_margin(studio: Studio) -> None:
    page = studio.open()
    assert rounds(page) == 3
    assert "Every count comes out." in page.inner_text(".preview-state")
    courses = page.locator(".chart svg [data-course]").count()
    studio.save(mat(THREE + FOUR))
    wait(page, "li.round#mat-r4, li.round:nth-of-type(5)")
    wait(page, ".preview-facts dd", "24")
    page.wait_for_selector(f".chart svg [data-course] >> nth={courses}", state="attached", timeout=WAIT)
    assert rounds(page) == 4


def test_a_round_just_typed_can_be_ticked_and_lights_the_chart(studio: Studio) -> None:
    page = studio.open()
    courses = page.locator(".chart svg [data-course]").count()
    studio.save(mat(THREE + FOUR))
    page.wait_for_selector(f".chart svg [data-course] >> nth={courses}", state="attached", timeout=WAIT)
    last = page.locator("li.round").nth(3)
    last.hover()
    assert page.locator(".chart svg .lit").count() == 1
    last.locator(".tick input").check(force=True)
    assert page.locator("li.round.done").count() == 1
    page.reload()
    assert page.locator("li.round").nth(3).locator(".tick input").is_checked()


def test_what_changed_is_lit(studio: Studio) -> None:
    page = studio.open()
    studio.save(mat(THREE.replace("18", "18 sts")).replace("2 sc in each st around", "inc in each st around") + "\n")
    studio.save(mat(THREE + FOUR))
    wait(page, "li.round.preview-lit", "24")
    wait(page, "svg .preview-lit")
    assert page.locator("li.round.preview-lit", has_text="(6").count() == 0


def test_an_error_stands_in_the_margin_and_the_last_good_page_stays(studio: Studio) -> None:
    page = studio.open()
    studio.save(mat(THREE.replace("(18)", "(19)")))
    wait(page, ".preview-slip.error", "line 17")
    assert "last version that came out" in page.inner_text(".preview-state")
    assert page.locator("html.preview-stale").count() == 1
    assert rounds(page) == 3 and page.locator("li.round", has_text="19").count() == 0
    assert page.inner_text(".preview-slip.error mark").strip() == "(19)"
    studio.save(mat(THREE + FOUR))
    gone(page, ".preview-slip.error")
    assert page.locator("html.preview-stale").count() == 0
    assert rounds(page) == 4


def test_half_a_line_is_one_mild_finding(studio: Studio) -> None:
    page = studio.open()
    studio.save(mat(THREE + "Rnd 4: *sc in next 2 sts, i"))
    wait(page, ".preview-slip")
    assert page.locator(".preview-slip.error").count() <= 1
    assert rounds(page) >= 3


def test_a_save_by_rename_with_a_swap_file(studio: Studio) -> None:
    page = studio.open()
    swap, fresh = studio.file.with_name(".heron.md.swp"), studio.file.with_name("heron.md~new")
    swap.write_bytes(b"swap\0")
    fresh.write_text(mat(THREE + FOUR), encoding="utf-8")
    fresh.replace(studio.file)
    wait(page, "li.round", "24")


def test_a_file_emptied_and_slowly_filled_is_told_only_when_it_stays_empty(studio: Studio) -> None:
    page = studio.open()
    studio.save("")
    time.sleep(0.03)
    studio.save(mat(THREE + FOUR))
    wait(page, "li.round", "24")
    assert page.locator(".preview-slip.error").count() == 0
    studio.save("")
    wait(page, ".preview-slip.error", "empty")
    assert rounds(page) == 4


def test_a_branch_switch_is_few_messages(studio: Studio) -> None:
    page = studio.open()
    before = studio.session.desk.version
    for number in range(60):
        folder = studio.content / "patterns" / f"mat-{number}"
        folder.mkdir()
        (folder / f"mat-{number}.md").write_text(mat(title=f"Mat {number}"), encoding="utf-8")
    studio.save(mat(THREE + FOUR))
    wait(page, "li.round", "24")
    assert studio.session.desk.version - before <= 30
    other = studio.open("patterns/mat-59/index.html")
    assert other.inner_text("h1") == "Mat 59"


def test_a_deleted_pattern_is_said_to_be_gone_and_comes_back(studio: Studio) -> None:
    page = studio.open()
    studio.file.unlink()
    wait(page, ".preview-state", "no longer there")
    assert rounds(page) == 3
    studio.save(mat(THREE + FOUR))
    wait(page, "li.round", "24")
    wait(page, ".preview-state", "Every count")


def test_place_choices_and_ticks_stay(studio: Studio) -> None:
    page = studio.open()
    page.locator("#terms-uk").check(force=True)
    page.locator("li.round .tick input").nth(1).check(force=True)
    page.locator(".preview-follow input").uncheck()
    page.evaluate("document.querySelectorAll('li.round')[1].scrollIntoView({block: 'center'})")
    top = page.locator("li.round").nth(1).bounding_box()
    studio.save(mat(THREE + FOUR, more="notions: [marker, needle, scissors, a long list, of things]\n"))
    wait(page, "li.round", "24")
    wait(page, ".notions", "scissors")
    after = page.locator("li.round").nth(1).bounding_box()
    assert top is not None and after is not None
    assert abs(after["y"] - top["y"]) <= 2
    assert page.locator("#terms-uk").is_checked()
    assert page.locator("li.round .tick input").nth(1).is_checked()


def test_the_round_in_hand_stays_in_focus(studio: Studio) -> None:
    page = studio.open()
    page.locator("li.round .tick input").nth(2).focus()
    studio.save(mat(THREE.replace("inc", "2 sc in next st") + FOUR))
    wait(page, "li.round", "24")
    assert page.evaluate("document.activeElement.closest('li.round') === document.querySelectorAll('li.round')[2]")


def test_a_journal_entry_and_the_studio_show_at_once(studio: Studio) -> None:
    page = studio.open("index.html")
    (studio.content / "studio.toml").write_text('title = "Low marsh"\n', encoding="utf-8")
    wait(page, ".masthead", "Low marsh")
    (studio.content / "journal" / "tide.md").write_text(
        "---\ntitle: The tide\npublished: 2026-01-03\n---\nHigh.\n", encoding="utf-8"
    )
    other = studio.open("journal/index.html")
    wait(other, "main", "The tide")


def test_a_photo_replaced_is_fetched_anew(studio: Studio) -> None:
    from PIL import Image

    photo = studio.file.with_name("mat.png")
    Image.new("RGB", (40, 30), "#804020").save(photo)
    studio.save(mat(more='photo: {file: mat.png, alt: "A mat"}\n'))
    page = studio.open()
    shown = page.locator("main img").first
    address = shown.get_attribute("src")
    Image.new("RGB", (50, 30), "#208040").save(photo)
    page.wait_for_selector(f'main img:not([src="{address}"])', timeout=WAIT)


def test_several_tabs_and_fifty_returns(studio: Studio) -> None:
    tabs = [studio.open() for _ in range(3)]
    for _ in range(50):
        tabs[0].reload()
    tabs[0].wait_for_selector("html[data-preview-version]", state="attached", timeout=WAIT)
    studio.save(mat(THREE + FOUR))
    for tab in tabs:
        wait(tab, "li.round", "24")
    for _ in range(100):
        if len(studio.session.hub.tabs) == 3:
            break
        time.sleep(0.1)
    assert len(studio.session.hub.tabs) == 3


def test_nothing_leaves_this_machine(studio: Studio) -> None:
    page = studio.context.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(f"http://127.0.0.1:{studio.session.server.server_port}/patterns/heron/index.html")
    page.wait_for_selector("html[data-preview-version]", state="attached", timeout=WAIT)
    home = f"http://127.0.0.1:{studio.session.server.server_port}/"
    assert asked and all(address.startswith(home) for address in asked)


def test_the_page_is_the_published_one_and_a_script(studio: Studio, tmp_path: Path) -> None:
    from generator.publish import publish

    publish(studio.content, tmp_path / "site", today=date(2026, 2, 1), jobs=1, editions=False, pictures=False)
    published = (tmp_path / "site" / "patterns" / "heron" / "index.html").read_text(encoding="utf-8")
    shown = (studio.session.desk.page("patterns/heron/index.html") or b"").decode()
    start, end = shown.index("<head>") + 6, shown.index("</script>") + 9
    assert "/-preview/preview.js" in shown[start:end]
    assert re.sub(' data-drawing="[0-9a-f]{16}"', "", shown[:start] + shown[end:]) == published


TWO_PARTS = (
    mat() + "\n## Rim\n```rounds\nRnd 1: 6 sc in magic ring (6)\nRnd 2: 2 sc in each st around (12)\nFasten off\n```\n"
)


def test_a_drawing_that_stays_is_not_sent_again(studio: Studio) -> None:
    studio.save(TWO_PARTS)
    page = studio.open()
    wait(page, "h2", "Rim")
    page.evaluate("window.rim = [...document.querySelectorAll('svg.chart.ring')].pop()")
    lengths: list[int] = []
    page.on(
        "response", lambda reply: lengths.append(int(reply.headers["content-length"])) if "kept=" in reply.url else None
    )
    studio.save(TWO_PARTS.replace(THREE, THREE + FOUR))
    wait(page, "li.round:nth-of-type(5)")
    assert page.evaluate("window.rim.isConnected && window.rim.querySelectorAll('[data-course]').length") == 2
    whole = len(studio.session.desk.page("patterns/heron/index.html") or b"")
    assert lengths and min(lengths) < whole - 4000


def test_a_drawing_that_stands_elsewhere_comes_whole(studio: Studio) -> None:
    studio.save(TWO_PARTS)
    page = studio.open()
    wait(page, "h2", "Rim")
    drawn = page.locator("svg.chart").count()
    studio.save(TWO_PARTS.replace("## Mat", "## Base").replace("## Rim", "## Mat"))
    wait(page, "h2", "Base")
    page.wait_for_function("!document.querySelector('svg[data-kept]')", timeout=WAIT)
    assert page.locator("svg.chart").count() == drawn
    assert all(page.locator("svg.chart").nth(n).locator("[data-course]").count() > 0 for n in range(drawn))
