"""The pages in a real browser, as a maker uses them: ticks, terms, working view, no network, no scripts, from a folder."""

import os
import subprocess
from collections.abc import Iterator
from pathlib import Path
from shutil import which

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.chromium import ARGUMENTS, browser, served

TOOLS = Path(__file__).parents[1] / "browser" / "node_modules"
LANTERN = "patterns/sluice-lantern/index.html"


@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    """One browser for all tests here."""
    with browser() as opened:
        yield opened


@pytest.fixture(scope="module")
def address(demo: Path) -> Iterator[str]:
    """The demo site on a host, in a folder below its top."""
    with served(demo.parent) as host:
        yield f"{host}/{demo.name}/"


@pytest.fixture
def page(chromium: Browser) -> Iterator[Page]:
    """A fresh reader on a phone. Anything the page complains about fails the test."""
    context = chromium.new_context(viewport={"width": 390, "height": 800}, has_touch=True)
    opened = context.new_page()
    complaints: list[str] = []
    opened.on("pageerror", lambda error: complaints.append(str(error)))
    opened.on("console", lambda said: complaints.append(said.text) if said.type == "error" else None)
    yield opened
    context.close()
    assert [text for text in complaints if "ERR_INTERNET_DISCONNECTED" not in text] == []


def until(page: Page, expression: str) -> None:
    """Wait for something to be true; asked from outside, since the pages' policy lets nothing be evaluated inside."""
    for _ in range(150):
        if page.evaluate(expression):
            return
        page.wait_for_timeout(100)
    raise AssertionError(f"never true: {expression}")


def ticked(page: Page) -> list[str]:
    """Names of ticked boxes."""
    found: list[str] = page.eval_on_selector_all(".tick input", "all => all.filter(b => b.checked).map(b => b.name)")
    return found


def test_ticks_stay(page: Page, address: str) -> None:
    page.goto(address + LANTERN)
    page.locator("#cover-1 .tick input").check()
    page.locator("#cover-2 .tick input").check()
    page.reload()
    assert ticked(page) == ["cover-1.1", "cover-2.1"]
    assert page.locator(".round.now").get_attribute("id") == "cover-3"
    page.goto(address + "patterns/channel-float/index.html")
    assert ticked(page) == [], "another pattern has its own ticks"


def test_terms_switch_everywhere_and_are_remembered(page: Page, address: str) -> None:
    page.goto(address + LANTERN)
    assert "single" not in page.locator("#cover-1").inner_text() and "sc in" in page.locator("#cover-1").inner_text()
    page.locator("#terms-uk").check(force=True)
    assert "dc in" in page.locator("#cover-1").inner_text()
    assert "Tension" in page.locator("#need").inner_text() and "Gauge" not in page.locator("#need").inner_text()
    page.goto(address + "patterns/channel-float/index.html")
    assert page.locator("#terms-uk").is_checked()
    page.locator("#words-spelled").check(force=True)
    assert "double crochet" in page.locator("#float-2").inner_text()


def test_without_scripts_it_is_a_plain_page_that_still_switches(chromium: Browser, address: str) -> None:
    context = chromium.new_context(java_script_enabled=False, viewport={"width": 390, "height": 800})
    page = context.new_page()
    page.goto(address + LANTERN)
    row = page.locator("#cover-1 .said .short")
    assert "6 sc" in row.first.inner_text()
    page.locator("#terms-uk").check(force=True)
    assert "6 dc" in row.first.inner_text()
    assert page.locator("button:visible").count() == 0, "no button that does nothing"
    page.locator("#cover-1 .tick input").check()
    for hand, name in (("right", "every-round-1.svg"), ("left", "every-round-1-left.svg")):
        page.locator(f"#hand-{hand}").check(force=True)
        assert page.locator(".opened a:visible").get_attribute("href") == name, "the chart of the hand that is chosen"
    page.locator(".opened a:visible").click()
    page.wait_for_url("**/every-round-1-left.svg")
    page.goto(address + "search.html")
    assert page.locator(".everything a").count() > 4
    page.goto(address + "index.html")
    assert page.locator(".entry").count() > 4 and not page.locator(".filters").is_visible()
    context.close()


def test_a_pattern_works_without_a_network_after_the_first_visit(chromium: Browser, address: str) -> None:
    context = chromium.new_context()
    page = context.new_page()
    page.goto(address + LANTERN)
    until(page, "navigator.serviceWorker.controller !== null")
    until(
        page,
        "async () => (await Promise.all(['', 'chart.css', 'every-round-1-left.svg'].map((file) => caches.match(new URL(file || location.href, location.href))))).every(Boolean)",
    )
    context.set_offline(True)
    page.goto(address + LANTERN + "#cover-5")
    assert "Sluice lantern" in page.locator("h1").inner_text()
    page.locator("#cover-1 .tick input").check()
    page.reload()
    assert ticked(page) == ["cover-1.1"]
    assert page.locator("#cover-1").evaluate("e => getComputedStyle(e).display") == "grid", "style sheets are kept too"
    page.goto(address + "index.html")
    assert page.locator(".entry").count() > 4
    page.goto(address + "patterns/sluice-lantern/every-round-1-left.svg")
    assert page.locator("[data-course]").count() > 25, "the opened chart was kept with the page that leads to it"
    page.goto(address + "patterns/never-opened/index.html")
    assert "frogged" in page.locator("h1").inner_text()
    context.close()


def test_the_head_of_the_page_says_where_to_go_on(page: Page, address: str) -> None:
    page.goto(address + LANTERN)
    go, untick = page.locator("#go-on"), page.locator("#untick")
    assert (go.inner_text(), go.get_attribute("href")) == ("Start at the first round", "#cover-1")
    assert not untick.is_visible(), "nothing is ticked yet"
    page.locator("#cover-1 .tick input").check()
    page.locator("#cover-2 .tick input").check()
    page.reload()
    assert (go.inner_text(), go.get_attribute("href")) == ("Go on at Rnd 3", "#cover-3")
    page.on("dialog", lambda dialog: dialog.accept())
    untick.click()
    assert (go.inner_text(), untick.is_visible()) == ("Start at the first round", False)


def test_the_working_view_goes_round_by_round(page: Page, address: str) -> None:
    page.goto(address + LANTERN)
    page.locator("#work-button").click()
    assert page.locator("html.working").count() == 1
    assert page.locator(".round.now").get_attribute("id") == "cover-1"
    for _ in range(3):
        page.locator(".bar .next").click()
    assert page.locator(".round.now").get_attribute("id") == "cover-4"
    assert not page.locator("#need").is_visible()
    size = float(page.locator("#cover-4 .said").evaluate("e => parseFloat(getComputedStyle(e).fontSize)"))
    assert size >= 24
    page.locator(".bar .back").click()
    assert page.locator(".round.now").get_attribute("id") == "cover-3"
    page.reload()
    assert page.locator("html.working").count() == 0 and ticked(page) == ["cover-1.1", "cover-2.1"]
    page.locator("#work-button").click()
    page.keyboard.press("Escape")
    assert page.locator("#need").is_visible()


def test_repeats_are_counted_and_remembered(page: Page, address: str) -> None:
    page.goto(address + LANTERN)
    page.locator("#work-button").click()
    for _ in range(2):
        page.locator(".bar .next").click()
    button = page.locator("#cover-3 .turns")
    assert button.inner_text() == "0 / 6"
    button.click()
    page.locator(".bar .repeat").click()
    page.reload()
    page.locator("#work-button").click()
    assert page.locator("#cover-3 .turns").inner_text() == "2 / 6"


def test_the_screen_is_asked_to_stay_awake(page: Page, address: str) -> None:
    page.add_init_script(
        "window.asked = []; Object.defineProperty(navigator, 'wakeLock', {value: {request: async (kind) => { window.asked.push(kind);"
        " return {release: () => window.asked.push('released')}; }}});"
    )
    page.goto(address + LANTERN)
    page.locator("#work-button").click()
    until(page, "window.asked.length === 1")
    page.locator(".bar .leave").click()
    until(page, "window.asked.join() === 'screen,released'")


def test_a_round_lights_its_course_and_back(chromium: Browser, address: str) -> None:
    page = chromium.new_page(viewport={"width": 1280, "height": 900})
    page.goto(address + LANTERN)
    page.locator("#cover-3").hover()
    lit = page.eval_on_selector_all(".course.lit", "all => all.map(g => g.dataset.course.split(' '))")
    wanted = page.locator("#cover-3").get_attribute("data-courses")
    assert lit and all(wanted in courses for courses in lit)
    page.locator("figure.chart [data-course][tabindex]").nth(4).focus()
    assert page.locator("svg.lighting").count() > 0
    page.close()


def test_search_and_filters(page: Page, address: str) -> None:
    page.goto(address + "search.html?q=treble")
    assert page.locator(".results li").count() > 0 and not page.locator(".everything").is_visible()
    page.locator("#q").fill("lantern spiral")
    assert "Sluice lantern" in page.locator(".results li").first.inner_text()
    page.locator("#q").fill("zzz")
    assert page.locator(".found").inner_text() == "None by title, tag or stitch"
    page.goto(address + "index.html")
    everything = page.locator(".entry:visible").count()
    page.locator(".filters [name=metres]").fill("20")
    fewer = page.locator(".entry:visible").count()
    assert 0 < fewer < everything
    assert all(
        float(m) <= 20
        for m in page.eval_on_selector_all(".entry:not([hidden])", "all => all.map(e => e.dataset.metres)")
    )


def test_words_inside_pages_are_found_where_the_site_is_served(page: Page, address: str, demo: Path) -> None:
    pytest.importorskip("pagefind_bin")
    assert (demo / "pagefind" / "pagefind.js").is_file()
    page.goto(address + "search.html?q=eel")
    page.wait_for_selector(".texts a")
    link = page.locator(".texts a").first
    assert link.inner_text() == "Channel float"
    link.click()
    page.wait_for_selector("#float-1")


def test_everything_works_from_a_folder(page: Page, demo: Path) -> None:
    page.goto((demo / LANTERN).as_uri())
    page.locator("#cover-1 .tick input").check()
    page.reload()
    assert ticked(page) == ["cover-1.1"]
    page.goto((demo / "search.html").as_uri() + "?q=lantern")
    page.locator(".results a").first.click()
    page.wait_for_selector("#cover-1")
    page.locator(".masthead a").first.click()
    page.wait_for_selector(".entry")


def test_nothing_is_asked_of_another_host(chromium: Browser, address: str, demo: Path) -> None:
    context = chromium.new_context()
    page = context.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    for path in ("index.html", LANTERN, "search.html?q=sc", "glossary.html", "journal/index.html"):
        page.goto(address + path)
    assert len(asked) > 20 and not [url for url in asked if not url.startswith((address, "data:"))]
    context.close()


def test_what_is_chosen_is_seen_in_the_readers_own_colours(chromium: Browser, address: str) -> None:
    """Forced colours (CSS Color Adjustment 1) paint over backgrounds; the chosen one of two must still stand out."""
    context = chromium.new_context(forced_colors="active")
    opened = context.new_page()
    opened.goto(address + LANTERN)
    ground = "label => getComputedStyle(label).backgroundColor"
    chosen, other = (opened.locator(f"label[for=terms-{terms}]").evaluate(ground) for terms in ("us", "uk"))
    context.close()
    assert chosen != other


def test_letters_twice_as_large_fit_a_phone(chromium: Browser, address: str) -> None:
    """WCAG 2.2, 1.4.4: text to 200 per cent without loss; here of the reader's own default size, on 360 px."""
    arguments = [*ARGUMENTS, "--blink-settings=defaultFontSize=32"]
    large = chromium.browser_type.launch(executable_path=which("chromium") or which("chromium-browser"), args=arguments)
    opened = large.new_page(viewport={"width": 360, "height": 800})
    for place in ("index.html", LANTERN, "patterns/cockle-basket/index.html", "glossary.html"):
        opened.goto(address + place)
        assert opened.evaluate("document.documentElement.scrollWidth") == 360, place
    large.close()


def test_nothing_scrolls_sideways_in_the_other_theme(chromium: Browser, other_theme: Path) -> None:
    """WCAG 2.2, 1.4.10 (reflow at 320 CSS pixels), on lists, on a page with a picture, on one with opened rounds."""
    page = chromium.new_page(viewport={"width": 320, "height": 800}, java_script_enabled=False)
    with served(other_theme) as host:
        for path in ("index.html", "tags/spiral.html", LANTERN, "patterns/tern-egg/index.html", "glossary.html"):
            page.goto(f"{host}/{path}")
            assert page.evaluate("document.documentElement.scrollWidth") <= 320, path
    page.close()


def test_nothing_jumps_and_nothing_scrolls_sideways(chromium: Browser, address: str, demo: Path) -> None:
    """Layout shift as Chromium counts it; WCAG 2.2, 1.4.10 (reflow at 320 CSS pixels), 2.5.8 (targets of 24 pixels)."""
    for width in (320, 360, 768, 1440):
        page = chromium.new_page(viewport={"width": width, "height": 800})
        page.add_init_script(
            "window.shift = 0; new PerformanceObserver(l => { for (const e of l.getEntries()) if (!e.hadRecentInput)"
            " window.shift += e.value; }).observe({type: 'layout-shift', buffered: true});"
        )
        for path in (
            "index.html",
            LANTERN,
            "patterns/ebb-ripple-cloth/index.html",
            "glossary.html",
            "search.html",
            "about.html",
        ):
            page.goto(address + path)
            assert page.evaluate("document.documentElement.scrollWidth") <= width, f"{path} at {width}"
            assert page.evaluate("window.shift") < 0.02, f"{path} at {width}"
        page.goto(address + LANTERN)
        sizes = page.eval_on_selector_all(
            ".tick input, button, .choice input",
            "all => all.filter(e => e.offsetParent).map(e => e.getBoundingClientRect()).map(r => Math.min(r.width, r.height))",
        )
        assert sizes and min(sizes) >= 24
        page.close()


def tools() -> None:
    """Others' checkers, from npm; without them a computer can't say anything about these."""
    if not TOOLS.is_dir():
        if os.environ.get("CI"):
            pytest.fail("the page checkers from npm are not installed")
        pytest.skip("the page checkers from npm are not installed; `make test` installs them")


KINDS = ("index.html", LANTERN, "patterns/sea-thrift/index.html", "tags/spiral.html", "journal/index.html", "glossary.html",
         "search.html?q=sc", "about.html", "404.html", "patterns/neap-moon/index.html",
         "patterns/neap-moon/every-round-1.svg")  # fmt: skip


@pytest.mark.parametrize("theme", ["demo", "other_theme"])
def test_axe_finds_no_violation(theme: str, chromium: Browser, request: pytest.FixtureRequest) -> None:
    """axe-core: its rules for WCAG 2.2 A and AA and its best practices, on every kind of page."""
    tools()
    site: Path = request.getfixturevalue(theme)
    script = (TOOLS / "axe-core" / "axe.min.js").read_text()
    wrong: list[str] = []
    with served(site) as host:
        for width, scheme in ((360, "light"), (360, "dark"), (1280, "light"), (1280, "dark")):
            context = chromium.new_context(
                viewport={"width": width, "height": 900}, color_scheme=scheme, bypass_csp=True
            )  # type: ignore[arg-type]
            page = context.new_page()
            for path in KINDS:
                page.goto(f"{host}/{path}")
                wrong += _violations(page, script, f"{path} {width} {scheme}")
            page.goto(f"{host}/{LANTERN}")
            page.locator("#work-button").click()
            wrong += _violations(page, script, f"working view {width} {scheme}")
            context.close()
    assert wrong == []


def _violations(page: Page, script: str, where: str) -> list[str]:
    page.evaluate(script)
    found = page.evaluate(
        "async () => (await axe.run()).violations.map(v => [v.id, v.nodes.slice(0, 3).map(n => n.html.slice(0, 160) + ' ' + n.failureSummary.slice(0, 260))])"
    )
    return [f"{where}: {rule}: {node}" for rule, nodes in found for node in nodes]


@pytest.mark.parametrize("theme", ["demo", "other_theme"])
def test_the_nu_checker_finds_no_error(theme: str, request: pytest.FixtureRequest) -> None:
    """The Nu HTML Checker (W3C and WHATWG standards as it knows them) on all pages, style sheets and drawings."""
    tools()
    if not which("java"):
        pytest.skip("no Java on this computer")
    site: Path = request.getfixturevalue(theme)
    jar = TOOLS / "vnu-jar" / "build" / "dist" / "vnu.jar"
    files = [str(file) for file in sorted(site.rglob("*")) if file.suffix in (".html", ".css", ".svg")]
    command = [
        "java",
        "-jar",
        str(jar),
        "--errors-only",
        "--also-check-css",
        "--also-check-svg",
        "--format",
        "gnu",
        *files,
    ]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert "error" not in done.stderr, done.stderr[:4000]
