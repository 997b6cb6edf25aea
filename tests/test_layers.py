"""Imports run one way: a layer may use those above it in this list, never below, not even inside a function."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent / "generator"

LAYERS: tuple[tuple[str, ...], ...] = (
    ("__init__",),
    ("source",),
    ("diagnostics",),
    ("vocabulary",),
    ("notation",),
    ("fabric",),
    ("measures", "charts", "wording"),
    ("shape",),
    ("checks",),
    ("pipeline",),
    ("proof", "pages"),
    ("studio_text",),
    ("library",),
    ("ledger",),
    ("bindery",),
    ("publish",),
    ("preview",),
    ("commands",),
    ("cli",),
)
RANK = {name: rank for rank, names in enumerate(LAYERS) for name in names}
WORLD = frozenset(
    {"os", "shutil", "tempfile", "socket", "socketserver", "http.server", "urllib.request", "subprocess", "threading"}
    | {"watchdog", "time", "random", "pathlib.Path", "datetime.datetime"}
)
"""What touches files, sockets, processes, clocks and chance. Pure paths and dates are values."""
EDGES = frozenset({"library", "bindery", "publish", "preview", "commands", "cli"})

MODULES = sorted(path.relative_to(ROOT).with_suffix("").as_posix() for path in ROOT.rglob("*.py"))


def layer(module: str) -> str:
    return module.split("/")[0]


def imported(module: str) -> Iterator[str]:
    """Dotted names of everything a module imports, wherever the import stands, but not for type checking only."""
    tree = ast.parse((ROOT / f"{module}.py").read_text(encoding="utf-8"))
    typing_only = {
        inner
        for node in ast.walk(tree)
        if isinstance(node, ast.If) and ast.unparse(node.test) in ("TYPE_CHECKING", "typing.TYPE_CHECKING")
        for inner in ast.walk(node)
    }
    for node in ast.walk(tree):
        if node in typing_only:
            continue
        if isinstance(node, ast.Import):
            yield from (name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{module}: imports are written in full"
            yield node.module or ""
            yield from (f"{node.module}.{name.name}" for name in node.names)


def of_generator(module: str) -> set[str]:
    names = (name.split(".") for name in imported(module) if name.startswith("generator."))
    return {parts[1] for parts in names if parts[1] in RANK}


def test_every_module_has_a_layer() -> None:
    assert {layer(module) for module in MODULES} <= set(RANK)


@pytest.mark.parametrize("module", MODULES)
def test_imports_run_one_way(module: str) -> None:
    own = layer(module)
    for other in of_generator(module) - {own, "__init__"}:
        assert RANK[other] < RANK[own], f"{module} imports {other}"


@pytest.mark.parametrize("module", [module for module in MODULES if layer(module) not in EDGES])
def test_the_core_does_not_touch_the_world(module: str) -> None:
    assert not {world for world in WORLD for name in imported(module) if f"{name}.".startswith(f"{world}.")}


def test_the_rule_sees_imports_inside_functions(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "source.py").write_text("def f():\n    from generator.fabric.work import work\n", encoding="utf-8")
    monkeypatch.setitem(globals(), "ROOT", tmp_path)
    assert of_generator("source") == {"fabric"}
