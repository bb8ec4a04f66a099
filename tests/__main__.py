"""`python3 -m tests`: prepares `.venv` when that is needed, then runs the whole suite.

`--lint`, `--bench`, `--without-qt` and `--pins` do what `tests/tools/runner.py` says; other
arguments go to pytest.
"""

import sys

if sys.version_info < (3, 11):  # noqa: UP036 — an older Python gets a sentence, not a traceback
    sys.exit(
        "voltwalk: Python 3.11 or later is needed, this one is %d.%d. "  # noqa: UP031
        "Install a newer Python and start it with that." % sys.version_info[:2]
    )

from app.start.launch import enter


def main() -> None:
    """Prepare, then run what the arguments ask for."""
    enter("run", "test")
    from tests.tools import runner

    sys.exit(runner.main(sys.argv[1:]))


if __name__ == "__main__":
    main()
