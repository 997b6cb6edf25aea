"""The fuzz search led by coverage: what reaches new code is kept and changed further.

    python tests/fuzz/guided.py MINUTES [NAME OF A TEST]

It drives the properties of `test_garbage.py`, so it finds what they promise against. A text it stops at belongs into
`tests/cases/fuzz`. Needs `atheris` (in the test extra, Linux only); without it this ends with a word and no error.
"""

import sys
from pathlib import Path

USUAL = "test_property_garbage_in_a_pattern_file"


def main(arguments: list[str]) -> int:
    """Run one property for some minutes."""
    try:
        import atheris
    except ImportError:
        print("atheris is not installed, so there is no guided search here; the random one has run")
        return 0
    minutes = float(arguments[0]) if arguments else 5.0
    here = Path(__file__).resolve().parent
    sys.path[:0] = [str(here), str(here.parent), str(here.parent.parent)]
    with atheris.instrument_imports(include=["generator"]):
        import test_garbage
    act = getattr(test_garbage, arguments[1] if len(arguments) > 1 else USUAL).hypothesis.fuzz_one_input
    atheris.Setup(
        [
            sys.argv[0],
            f"-max_total_time={int(minutes * 60)}",
            "-timeout=120",
            "-max_len=8192",
            "-len_control=0",
            "-artifact_prefix=/tmp/",
        ],
        act,
    )
    atheris.Fuzz()
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
