"""All figures, one bench after the other: `make bench`, or `python -m tests.bench NAME ...` for some."""

import sys
from importlib import import_module
from pathlib import Path

HERE = Path(__file__).parent


def main(names: list[str]) -> None:
    """Run the named benches, or all."""
    for name in names or sorted(path.stem for path in HERE.glob("*.py") if not path.stem.startswith("_")):
        print(f"== {name}", flush=True)
        for line in import_module(f"tests.bench.{name}").run():
            print(f"  {line}", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
