"""From the user's Python into the one of `.venv`, with the same arguments and exit code."""

import os
import subprocess
import sys
from pathlib import Path
from typing import NoReturn

from app.start.environment import Environment
from app.start.errors import EXIT_CODE, StartError
from app.start.progress import Progress

_INTERRUPTED = 130


def enter(*groups: str, root: Path | None = None) -> None:
    """Return when this process may go on; otherwise go over into the Python of `.venv`.

    Parameters
    ----------
    groups
        The groups of pins that are needed: "run", "test".
    root
        The checkout; by default the folder that this package lies in.
    """
    root = root or Path(__file__).resolve().parents[2]
    if not (root / "pyproject.toml").is_file():
        return  # installed by pip, which has brought the packages
    env = Environment(root)
    if env.is_running and env.is_current(groups):
        return
    try:
        _prepare(env, groups)
    except StartError as error:
        _stop(str(error), EXIT_CODE)
    except KeyboardInterrupt:
        _stop("stopped; the next start takes it up again", _INTERRUPTED)


def _prepare(env: Environment, groups: tuple[str, ...]) -> NoReturn:
    if env.is_running:  # out of date: an environment cannot be made anew from within
        _go_over(_base_python(), env)
    if not env.is_current(groups):
        from app.start import setup  # most starts find all ready and need none of it

        setup.ensure(env, groups, Progress())
    _go_over(str(env.python), env)


def _base_python() -> str:
    # Private, but the way the standard library itself finds the Python below an environment.
    return str(getattr(sys, "_base_executable", sys.executable))


def _go_over(python: str, env: Environment) -> NoReturn:
    words = [python, *sys.orig_argv[1:]]
    environ = _environ(env.root)
    sys.stdout.flush()
    sys.stderr.flush()
    if os.name == "nt":  # exec on Windows returns to the shell before the program ends
        sys.exit(subprocess.call(words, env=environ))
    os.execve(python, words, environ)


def _environ(root: Path) -> dict[str, str]:
    """Return the environment without paths that would put other packages before the pinned ones.

    A path that leads to the checkout itself stays: it may be how this very module was found.
    """
    environ = {key: value for key, value in os.environ.items() if key != "PYTHONHOME"}
    paths = environ.pop("PYTHONPATH", "").split(os.pathsep)
    kept = [path for path in paths if path and Path(path).resolve() == root]
    return {**environ, "PYTHONPATH": os.pathsep.join(kept)} if kept else environ


def _stop(message: str, code: int) -> NoReturn:
    sys.stderr.write(f"voltwalk: {message}\n")
    sys.exit(code)
