"""What an installation holds: the package as setuptools would pack it, run from a folder of its own."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

pytest.importorskip("setuptools", reason="packs the package")
ROOT = Path(__file__).parents[1]


@pytest.fixture(scope="module")
def packed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The files of a wheel, laid out by setuptools' own command."""
    folder = tmp_path_factory.mktemp("wheel")
    place = folder / "packed"
    command = [sys.executable, "setup.py", "-q", "egg_info", "--egg-base", str(folder), "build_py", "--build-lib", str(place)]  # fmt: skip
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False, timeout=120)
    assert done.returncode == 0, done.stderr
    return place


def test_every_file_that_is_no_code_comes_along(packed: Path) -> None:
    wanted = {
        (Path("generator") / place.relative_to(ROOT / above)).as_posix()
        for top, above in (("generator", "generator"), ("themes", "."))
        for place in (ROOT / top).rglob("*")
        if place.is_file() and "__pycache__" not in place.parts
    }
    found = {place.relative_to(packed).as_posix() for place in packed.rglob("*") if place.is_file()}
    assert wanted == found


def test_a_studio_is_begun_and_published_without_a_checkout(packed: Path, tmp_path: Path) -> None:
    code = "import sys, generator; sys.argv[0] = 'spiralbound'; print(generator.__file__); from generator.cli import main; sys.exit(main())"
    here = {"PYTHONPATH": str(packed), "PYTHONSAFEPATH": "1", "PATH": os.environ["PATH"], "SPIRALBOUND_CACHE": ""}

    def run(*words: str) -> str:
        command = [sys.executable, "-c", code, *words]
        done = subprocess.run(command, cwd=tmp_path, env=here, capture_output=True, text=True, check=False, timeout=300)
        assert done.returncode == 0, done.stdout + done.stderr
        assert done.stdout.startswith(str(packed))
        return done.stdout

    run("begin", "studio")
    content, site = tmp_path / "studio/content", tmp_path / "studio/site"
    run("publish", "--content", str(content), "--out", str(site))
    assert list(site.glob("patterns/*/index.html")) and (site / "assets/theme.css").stat().st_size > 1000
    assert list(site.glob("patterns/*/*.pdf"))
