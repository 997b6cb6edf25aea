"""New files take their places in the last site: all of them or none, whatever comes between."""

from pathlib import Path

import pytest

from generator.publish import folders
from tests.site.conftest import made, pattern, studio

BEFORE = {"index.html": "old", "a/page.html": "old", "a/gone.html": "old", "b/only.html": "old", "kept.css": "kept"}
NEW = {"index.html": "new", "a/page.html": "new", "c/d/page.html": "new", "b": "a file where a folder was"}
GONE = ("a/gone.html", "b/only.html")
AFTER = {"index.html": "new", "a/page.html": "new", "c/d/page.html": "new", "b": NEW["b"], "kept.css": "kept"}


def lay(folder: Path, files: dict[str, str]) -> None:
    for name, text in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text)


def texts(folder: Path) -> dict[str, str]:
    return {name: (folder / name).read_text() for name in folders.listing(folder)}


@pytest.fixture
def site(tmp_path: Path) -> Path:
    lay(tmp_path / "site", BEFORE)
    lay(folders.fresh(tmp_path / "site"), NEW)
    return tmp_path / "site"


def moves_until(monkeypatch: pytest.MonkeyPatch, allowed: int, fault: BaseException, *, undone: bool = True) -> None:
    """So many moves go well, the next one fails; those that undo them go well again, or fail too."""
    real, left = Path.rename, [allowed]

    def rename(self: Path, target: Path) -> Path:
        if self.name.startswith(folders.PLAN):
            return real(self, target)
        left[0] -= 1
        if left[0] == -1 or (left[0] < 0 and not undone):
            raise fault
        return real(self, target)

    monkeypatch.setattr(Path, "rename", rename)


def test_new_files_take_their_places(site: Path) -> None:
    kept = (site / "kept.css").stat().st_ino
    folders.take_place(site, GONE)
    assert texts(site) == AFTER and (site / "kept.css").stat().st_ino == kept
    assert [place.name for place in site.parent.iterdir()] == ["site"]
    assert not (site / "b").is_dir(), "a folder that nothing is left in goes too"


@pytest.mark.parametrize("fault", [OSError(28, "No space left on device"), KeyboardInterrupt()])
@pytest.mark.parametrize("allowed", range(7))
def test_a_change_that_fails_is_undone(
    site: Path, monkeypatch: pytest.MonkeyPatch, allowed: int, fault: BaseException
) -> None:
    moves_until(monkeypatch, allowed, fault)
    with pytest.raises(type(fault)):
        folders.take_place(site, GONE)
    assert texts(site) == BEFORE


@pytest.mark.parametrize("allowed", range(1, 7))
def test_after_a_power_cut_the_next_build_does_the_rest(
    site: Path, monkeypatch: pytest.MonkeyPatch, allowed: int
) -> None:
    with monkeypatch.context() as cut:
        moves_until(cut, allowed, OSError(5, "Input/output error"), undone=False)
        with pytest.raises(OSError):
            folders.take_place(site, GONE)
        folders.discard(site)
    folders.tidy(site)
    assert texts(site) == AFTER
    assert [place.name for place in site.parent.iterdir()] == ["site"]


def test_nothing_is_written_where_nothing_changed(tmp_path: Path) -> None:
    content, site = studio(tmp_path, {f"p{n}": pattern(f"Disc {n}") for n in range(3)}), tmp_path / "site"
    made(content, site)
    before = {name: (site / name).stat().st_ino for name in folders.listing(site)}
    (content / "patterns/p1/p1.md").write_text(pattern("Disc 1", prose="As flat as can be."))
    made(content, site)
    after = {name: (site / name).stat().st_ino for name in folders.listing(site)}
    assert {name for name in before | after if before.get(name) != after.get(name)} == {
        ".spiralbound.json", ".spiralbound/p1", "patterns/p1/index.html",
    }  # fmt: skip


def test_what_nobody_named_is_swept_away(tmp_path: Path) -> None:
    content, site = studio(tmp_path, {"one": pattern()}), tmp_path / "site"
    (content / "static/own").mkdir(parents=True)
    (content / "static/own/mark.txt").write_text("mine")
    (content / "static/elsewhere").symlink_to(tmp_path, target_is_directory=True)
    made(content, site)
    lay(site, {"patterns/one/left.html": "", "stray/x.html": ""})
    (site / "patterns/one/away").symlink_to(tmp_path, target_is_directory=True)
    report = made(content, site)
    assert report.ok and report.removed == 3
    assert not (site / "stray").exists() and not (site / "patterns/one/away").is_symlink()
    assert (site / "own/mark.txt").read_text() == "mine" and not (site / "elsewhere").exists()
    (content / "static/own/mark.txt").unlink()
    assert made(content, site).removed == 1 and not (site / "own").exists()
    assert sorted(p.name for p in tmp_path.iterdir()) == ["content", "site"]


@pytest.mark.parametrize("first", [False, True])
def test_a_site_that_is_a_disk_of_its_own_is_built_inside(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, first: bool
) -> None:
    """As a mounted folder, or one of a web server's whose parent is not ours to write to."""
    monkeypatch.setattr(folders, "_apart", Path.is_dir)
    content, site = studio(tmp_path, {"one": pattern()}), tmp_path / "site"
    site.mkdir()
    if not first:
        made(content, site)
        (content / "patterns/one/one.md").write_text(pattern("Changed"))
    (site / ".site.new/half").mkdir(parents=True)
    report = made(content, site)
    assert (report.ok and "Changed" in (site / "index.html").read_text()) or first
    assert not [place for place in site.iterdir() if place.name.startswith(".site")]
    assert sorted(p.name for p in tmp_path.iterdir()) == ["content", "site"]


def test_a_site_behind_a_link_stays_behind_it(tmp_path: Path) -> None:
    content, site = studio(tmp_path, {"one": pattern()}), tmp_path / "site"
    (tmp_path / "elsewhere/www").mkdir(parents=True)
    site.symlink_to(tmp_path / "elsewhere/www", target_is_directory=True)
    for _ in range(2):
        assert made(content, site).ok
    assert site.is_symlink() and (tmp_path / "elsewhere/www/index.html").exists()
    assert sorted(p.name for p in (tmp_path / "elsewhere").iterdir()) == ["www"]
