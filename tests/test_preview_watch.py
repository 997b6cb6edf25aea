"""Saves as editors make them: each burst is told once, and editors' own files never."""

import shutil
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from generator.preview.watch import Watch, is_noise


class Ear:
    """Collects what a watch tells."""

    def __init__(self) -> None:
        self.bursts: list[frozenset[Path]] = []
        self.told = threading.Event()

    def __call__(self, burst: frozenset[Path]) -> None:
        self.bursts.append(burst)
        self.told.set()

    def next(self) -> frozenset[Path]:
        assert self.told.wait(5), "nothing was told"
        self.told.clear()
        return self.bursts[-1]


@pytest.fixture
def studio(tmp_path: Path) -> Iterator[tuple[Path, Ear]]:
    folder = tmp_path / "content"
    (folder / "patterns").mkdir(parents=True)
    (folder / "hat.md").write_text("old", encoding="utf-8")
    ear = Ear()
    watch = Watch([folder, tmp_path / "no such folder"], ear)
    watch.start()
    yield folder.resolve(), ear
    watch.stop()


def test_a_plain_save(studio: tuple[Path, Ear]) -> None:
    folder, ear = studio
    (folder / "hat.md").write_text("new", encoding="utf-8")
    assert folder / "hat.md" in ear.next()


def test_a_save_by_rename_with_a_swap_file(studio: tuple[Path, Ear]) -> None:
    folder, ear = studio
    (folder / ".hat.md.swp").write_text("x", encoding="utf-8")
    (folder / "4913").write_text("", encoding="utf-8")
    (folder / "hat.md~").write_text("old", encoding="utf-8")
    (folder / "hat.md.tmp").write_text("new", encoding="utf-8")
    (folder / "hat.md.tmp").replace(folder / "hat.md")
    assert ear.next() == {folder / "hat.md"}


def test_two_writes_are_one_burst(studio: tuple[Path, Ear]) -> None:
    folder, ear = studio
    (folder / "hat.md").write_text("", encoding="utf-8")
    (folder / "hat.md").write_text("new", encoding="utf-8")
    assert ear.next() == {folder / "hat.md"}
    time.sleep(0.1)
    assert len(ear.bursts) == 1


def test_many_files_are_few_bursts(studio: tuple[Path, Ear]) -> None:
    folder, ear = studio
    for number in range(200):
        (folder / "patterns" / f"{number}.md").write_text("x", encoding="utf-8")
    seen: set[Path] = set()
    while len(seen) < 200:
        ear.next()
        seen = {path for burst in ear.bursts for path in burst if path.suffix == ".md"}
    assert len(ear.bursts) < 40


def test_a_new_folder_and_a_deletion(studio: tuple[Path, Ear]) -> None:
    folder, ear = studio
    (folder / "patterns" / "float").mkdir()
    ear.next()
    (folder / "patterns" / "float" / "float.md").write_text("x", encoding="utf-8")
    assert folder / "patterns" / "float" / "float.md" in ear.next()
    shutil.rmtree(folder / "patterns" / "float")
    assert folder / "patterns" / "float" in ear.next() | frozenset(path for burst in ear.bursts for path in burst)


def test_reading_is_no_change(studio: tuple[Path, Ear]) -> None:
    folder, ear = studio
    (folder / "hat.md").read_text(encoding="utf-8")
    list(folder.iterdir())
    time.sleep(0.1)
    assert ear.bursts == []


@pytest.mark.parametrize(
    "name", [".hat.md.swp", "4913", "hat.md~", "#hat.md#", ".#hat.md", "hat.tmp", "~$hat.md", ".DS_Store"]
)
def test_noise(name: str) -> None:
    assert is_noise(f"/studio/content/{name}")
    assert not is_noise("/studio/content/hat.md")
