"""How fast a site of many patterns is built: whole, with one pattern changed, and beside the floor.

The floor is what no generator can go below: the same pages rendered by bare jinja2 from ready records and written, in
one process. Run by `make bench`; SPIRALBOUND_BENCH_PATTERNS=200 for fewer patterns.
"""

import os
import re
import resource
import shutil
import tempfile
import time
from collections.abc import Iterator
from datetime import date
from pathlib import Path

from generator import library
from generator.pages import html, views
from generator.pages.page import head
from generator.pipeline import compile_pattern
from generator.publish import publish, shelf

CONTENT = Path(__file__).parents[2] / "content"
TODAY = date(2026, 11, 25)


def catalogue(folder: Path, many: int) -> Path:
    """A studio of many patterns: the demo's families again and again under other names."""
    texts = library.load_patterns(CONTENT)
    content = folder / "content"
    content.mkdir()
    shutil.copy(CONTENT / "studio.toml", content)
    for n in range(many):
        text = texts[n % len(texts)].source.text
        slug = f"pattern-{n}"
        place = content / "patterns" / slug
        place.mkdir(parents=True)
        (place / f"{slug}.md").write_text(
            re.sub(r"(?m)^title: (.*)$", rf"title: \1 {n}", text, count=1), encoding="utf-8"
        )
    return content


def timed(content: Path, site: Path) -> tuple[float, str]:
    """Seconds of one build, and what it did."""
    start = time.perf_counter()
    report = publish(content, site, today=TODAY, editions=False, pictures=False, full_text=False)
    took = time.perf_counter() - start
    assert report.swapped, report.findings
    return took, f"made {report.made}, kept {report.kept}: {took:.2f} s"


def floor(content: Path, folder: Path) -> float:
    """Seconds for rendering and writing the pattern pages alone, from ready records, in one process."""
    studio = library.load_studio(content).value
    shelved = shelf.load_theme(studio, content).value
    env = html.environment(shelved.theme, studio)
    ready = []
    for text in library.load_patterns(CONTENT):
        compiled = compile_pattern(text.source)
        ready.append(views.pattern_view(compiled.pattern, compiled.fabric, compiled.measured, studio).view)
    many = sum(1 for _ in (content / "patterns").iterdir())
    start = time.perf_counter()
    for n in range(many):
        view = ready[n % len(ready)]
        page = head(studio, "patterns/x/index.html", view.title, view.summary, "pattern")
        place = folder / f"{n}"
        place.mkdir(parents=True)
        (place / "index.html").write_bytes(
            html.render(env, "pattern.html", page.path, page=page, root="../../", view=view)
        )
    return time.perf_counter() - start


def run() -> Iterator[str]:
    """The figures."""
    many = int(os.environ.get("SPIRALBOUND_BENCH_PATTERNS", "1000"))
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        content, site = catalogue(folder, many), folder / "site"
        whole, words = timed(content, site)
        yield f"{many} patterns, pages only, {os.cpu_count()} cores: {words}"
        nothing, words = timed(content, site)
        yield f"nothing changed: {words}, {nothing / whole:.1%} of the whole"
        file = content / "patterns/pattern-3/pattern-3.md"
        file.write_text(file.read_text(encoding="utf-8") + "\nOne more line.\n", encoding="utf-8")
        one, words = timed(content, site)
        yield f"one changed: {words}, {one / whole:.1%} of the whole (aim: 1 %)"
        least = floor(content, folder / "floor")
        yield f"floor: {least:.2f} s; the whole is {whole / least:.1f} times that (aim: 2; it works and draws every stitch)"
    own, others = (resource.getrusage(who).ru_maxrss / 1024 for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    yield f"peak memory {own:.0f} MB, of a worker {others:.0f} MB"
