"""The command line: `voltwalk`, a file for the window, or a verb.

Nothing heavy is imported before it is known what is wanted: the verbs that only reckon start
without Qt. `argparse` of the standard library reads the words, since a larger library would cost
a tenth of a second of every start.
"""

from __future__ import annotations

import logging
import os
import sys
import traceback
from collections.abc import Callable, Mapping, Sequence
from difflib import get_close_matches
from pathlib import Path
from typing import TextIO

from app.commands.errors import BadFile, CommandError, ExitCode, WrongCall
from app.commands.talk import Talk
from app.commands.verb import Verb
from app.start.errors import StartError

VERBS = {
    "check": "lists what is wrong with a circuit",
    "operate": "sets controls, puts faults in place, shows what the circuit does",
    "size": "sizes fuses, wires and relays, and says why no smaller",
    "loads": "lists what loads draw, against battery and alternator",
    "draw": "draws the sheet as svg, pdf or png",
}
HELP = """voltwalk                     opens the window
voltwalk FILE                opens the window with this circuit
{verbs}

voltwalk VERB --help         what a verb takes
--version                    the version
--debug                      a traceback with an error

Exit codes: 0 nothing of severity danger or fault, 1 something, 2 a wrong call,
3 a file that cannot be read, 4 an internal error."""
DEBUG = "--debug"


def run() -> None:
    """Run the command line of this process and end it; the entry point."""
    _bear_every_sign(sys.stdout)
    _bear_every_sign(sys.stderr)
    code = main(sys.argv[1:])
    try:
        sys.stdout.flush()
    except BrokenPipeError:
        _close_quietly()
    sys.exit(code)


def main(
    argv: Sequence[str],
    env: Mapping[str, str] | None = None,
    out: TextIO | None = None,
    err: TextIO | None = None,
) -> int:
    """Run one command and return its exit code.

    Parameters
    ----------
    argv
        The words after the program's name.
    env
        The environment; that of the process if none is given.
    out, err
        Where data and talk go; stdout and stderr if none are given.
    """
    words = [w for w in argv if w != DEBUG]
    talk = _talk(os.environ if env is None else env, out or sys.stdout, err or sys.stderr)
    try:
        return int(_call(words, talk))
    except BrokenPipeError:  # whoever read the data has enough of it
        _close_quietly()
        return ExitCode.GOOD
    except KeyboardInterrupt:
        return ExitCode.INTERRUPTED
    except Exception as error:  # noqa: BLE001 — the door of the command line
        return _failed(error, talk, debug=DEBUG in argv)


def _call(words: list[str], talk: Talk) -> int:
    """Do what the words ask for."""
    if not words:
        return _window(None)
    first, *rest = words
    if first in ("-h", "--help", "help"):
        listed = (f"voltwalk {name + ' FILE':<20}{title}" for name, title in VERBS.items())
        talk.data(HELP.format(verbs="\n".join(listed)))
        return ExitCode.GOOD
    if first == "--version":
        talk.data(f"voltwalk {_version()}")
        return ExitCode.GOOD
    if first in VERBS:
        with _LogTo(talk):
            return _verb(first).call(rest, talk)
    return _window(_file(first, rest))


def _verb(name: str) -> Verb:
    """Return a verb; only the chosen one is imported."""
    loaders: dict[str, Callable[[], Verb]] = {
        "check": _load_check,
        "operate": _load_operate,
        "size": _load_size,
        "loads": _load_loads,
        "draw": _load_draw,
    }
    return loaders[name]()


def _load_check() -> Verb:
    from app.commands.check import CHECK

    return CHECK


def _load_size() -> Verb:
    from app.commands.size import SIZE

    return SIZE


def _load_loads() -> Verb:
    from app.commands.loads import LOADS

    return LOADS


def _load_operate() -> Verb:
    from app.commands.operate import OPERATE

    return OPERATE


def _load_draw() -> Verb:
    from app.commands.draw import DRAW

    return DRAW


def _file(first: str, rest: list[str]) -> Path:
    """Return the file to open in the window.

    Raises
    ------
    WrongCall
        When the word is neither a verb nor a file.
    BadFile
        When it is meant as a file and there is none.
    """
    path = Path(first)
    if first.startswith("-") or not (path.exists() or path.suffix or len(path.parts) > 1):
        close = get_close_matches(first, VERBS, 1)
        what = f"did you mean {close[0]}?" if close else f"there are {', '.join(VERBS)}, or a FILE"
        raise WrongCall(f"“{first}” is no verb and no file; {what}")
    if rest:
        raise WrongCall(f"“{rest[0]}” is one word too many; open one file at a time")
    if not path.exists():
        raise BadFile(f"there is no file {first}; check its name and folder")
    return path


def _window(path: Path | None) -> int:
    """Open the window and stay there until it is closed."""
    from app.start.libraries import require_qt

    require_qt(window=True)
    from app.main import run_window

    return run_window(path)


def _failed(error: Exception, talk: Talk, *, debug: bool) -> int:
    """Say what went wrong in one sentence and return the exit code."""
    if debug:
        talk.err.write("".join(traceback.format_exception(error)))
    if isinstance(error, CommandError):
        talk.say(f"{str(error).rstrip('.')}." if str(error)[-1:] not in "?!" else str(error))
        return error.code
    if isinstance(error, StartError):
        talk.say(str(error))
        return ExitCode.INTERNAL
    said = " ".join(f"{type(error).__name__}: {error}".split())
    talk.say(f"internal error ({said}); call it again with {DEBUG} and report what it shows.")
    return ExitCode.INTERNAL


def _talk(env: Mapping[str, str], out: TextIO, err: TextIO) -> Talk:
    """Return the streams, and the width that the environment gives."""
    columns = env.get("COLUMNS", "")
    width = int(columns) if columns.isdecimal() and columns.isascii() else 80
    return Talk(out, err, min(max(width, 40), 100))


class _LogTo(logging.Handler):
    """Sends log records of a command to its talk instead of leaving them unseen."""

    def __init__(self, talk: Talk) -> None:
        super().__init__(logging.WARNING)
        self._talk = talk

    def emit(self, record: logging.LogRecord) -> None:
        """Say the record in one line."""
        self._talk.say(record.getMessage())

    def __enter__(self) -> _LogTo:
        """Listen."""
        logging.getLogger().addHandler(self)
        return self

    def __exit__(self, *_: object) -> None:
        """Listen no more."""
        logging.getLogger().removeHandler(self)


def _version() -> str:
    """Return the version, from a checkout as well as installed."""
    import tomllib
    from importlib.metadata import version

    project = Path(__file__).parents[1] / "pyproject.toml"
    if not project.is_file():
        return version("voltwalk")
    return str(tomllib.loads(project.read_text(encoding="utf-8"))["project"]["version"])


def _bear_every_sign(stream: TextIO) -> None:
    """Let a stream replace a sign its encoding lacks instead of failing on it."""
    reconfigure = getattr(stream, "reconfigure", None)
    if reconfigure is not None:
        reconfigure(errors="replace")


def _close_quietly() -> None:
    """Point stdout at nothing, so that the interpreter's last flush does not complain."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
