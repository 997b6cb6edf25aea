"""How fast a site of many patterns is built: whole, with one pattern changed, and beside the floor.

The floor is what no generator can go below: the same pages rendered by bare jinja2 from ready records and written, in
one process. Run by `make bench`; `python -m tests.bench.site 200` for fewer patterns.
"""

import re
import resource
import shutil
import sys
import tempfile
import time
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


def timed(content: Path, site: Path, **more: bool) -> float:
    """Seconds of one build."""
    start = time.perf_counter()
    report = publish(content, site, today=TODAY, editions=False, pictures=False, full_text=False, **more)  # type: ignore[arg-type]
    took = time.perf_counter() - start
    assert report.swapped, report.findings
    print(f"  made {report.made}, kept {report.kept}: {took:.2f} s")
    return took


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


def main(many: int) -> None:
    """Print the figures."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        content, site = catalogue(folder, many), folder / "site"
        print(f"{many} patterns, pages only")
        whole = timed(content, site)
        nothing = timed(content, site)
        file = content / "patterns/pattern-3/pattern-3.md"
        file.write_text(file.read_text(encoding="utf-8") + "\nOne more line.\n", encoding="utf-8")
        one = timed(content, site)
        least = floor(content, folder / "floor")
    print(f"floor {least:.2f} s, whole build {whole / least:.1f} times the floor")
    print(f"nothing changed {nothing / whole:.1%}, one changed {one / whole:.1%} of a whole build")
    own, others = (resource.getrusage(who).ru_maxrss / 1024 for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    print(f"peak memory {own:.0f} MB, of a worker {others:.0f} MB")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000)
