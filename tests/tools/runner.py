"""Chooses what `python3 -m tests` does.

Without arguments: the whole suite, offscreen, on all cores. `--lint`: style, strict types and
import contracts. `--bench`: the table of benchmarks. `--without-qt`: the tests of the model, the
checks and the command line with PySide6 out of reach. `--pins`: new pins from `pyproject.toml`.
"""

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

from app.start import libraries
from app.start.errors import EXIT_CODE, StartError

ROOT = Path(__file__).resolve().parents[2]
_QTLESS = ("tests/model", "tests/checks", "tests/app/commands")
_NO_TESTS = 5  # pytest's exit code when it found no test


def main(arguments: list[str]) -> int:
    """Run what `arguments` ask for and return its exit code."""
    os.chdir(ROOT)
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    match arguments:
        case ["--lint", *_]:
            from tests.tools import lint

            return lint.run()
        case ["--pins", *_]:
            from tests.tools import pins

            return pins.renew()
        case ["--bench", *names]:
            return _with_qt(lambda: _bench(names))
        case ["--without-qt", *rest]:
            return _pytest([*_without_qt(), *rest])
        case _:
            return _with_qt(lambda: _pytest([*_spread(arguments), *arguments]))


def _with_qt(run: Callable[[], int]) -> int:
    try:
        libraries.require_qt(window=False)
    except StartError as error:
        sys.stderr.write(f"voltwalk: {error}\n")
        return EXIT_CODE
    return run()


def _bench(names: list[str]) -> int:
    from tests.tools import bench

    return bench.run(names)


def _spread(arguments: list[str]) -> list[str]:
    """Return the options that use all cores; a run of chosen tests starts faster on one."""
    cores = os.cpu_count() or 1
    chosen = any(not word.startswith("-") or word.startswith(("-n", "-p")) for word in arguments)
    return [] if chosen or cores == 1 else ["-n", str(cores), "--dist", "worksteal"]


def _without_qt() -> list[str]:
    folders = [path for path in _QTLESS if Path(path).exists()]
    return ["-p", "no:pytest-qt", "-p", "tests.tools.no_qt", *folders]


def _pytest(words: list[str]) -> int:
    code = subprocess.run([sys.executable, "-m", "pytest", *words], check=False).returncode
    return 1 if code == _NO_TESTS else code
