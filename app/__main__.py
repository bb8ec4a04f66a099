"""`python3 -m app`: prepares `.venv` when that is needed, then starts the command line.

Everything that runs before `.venv` exists uses the standard library alone, and this file is
written so that an old Python can still read it and say that it is too old.
"""

import sys

if sys.version_info < (3, 11):  # noqa: UP036 — an older Python gets a sentence, not a traceback
    sys.exit(
        "voltwalk: Python 3.11 or later is needed, this one is %d.%d. "  # noqa: UP031
        "Install a newer Python and start it with that." % sys.version_info[:2]
    )

if not __package__:  # started as `python3 app` or `python3 app/__main__.py`
    sys.path[0] = __file__.rsplit("app", 1)[0] or "."

from app.start.launch import enter


def main() -> None:
    """Prepare, then hand over to the command line, which ends the process."""
    enter("run")
    from app.cli import run

    run()


if __name__ == "__main__":
    main()
