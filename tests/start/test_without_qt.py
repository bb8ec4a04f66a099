"""What reckons without drawing starts, and runs, without Qt."""

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
FILE = "tests/circuits/C01.voltwalk"
SAY_WHAT_IS_LOADED = """
import sys
from app import cli
code = cli.main(sys.argv[1:])
loaded = sorted(name for name in sys.modules if name.split(".")[0] in ("PySide6", "shiboken6"))
sys.exit(f"loaded: {loaded}" if loaded else code)
"""
BARRED = "import tests.tools.no_qt\n"


def _run(code: str, *words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", code, *words], cwd=ROOT, capture_output=True, text=True
    )


@pytest.mark.parametrize("verb", ["check", "operate"])
def test_a_verb_that_reckons_never_loads_qt(verb: str) -> None:
    done = _run(SAY_WHAT_IS_LOADED, verb, FILE, "--json")
    assert done.returncode in (0, 1), done.stderr
    assert "loaded" not in done.stderr
    assert done.stdout.startswith("{")


@pytest.mark.parametrize("verb", ["check", "operate"])
def test_a_verb_that_reckons_says_the_same_where_qt_is_not_installed(verb: str) -> None:
    with_qt = _run(SAY_WHAT_IS_LOADED, verb, FILE, "--json")
    without = _run(BARRED + SAY_WHAT_IS_LOADED, verb, FILE, "--json")
    assert (without.returncode, without.stdout) == (with_qt.returncode, with_qt.stdout)


def test_the_bar_holds() -> None:
    assert "out of reach" in _run(BARRED + "import PySide6.QtCore").stderr


def test_the_tests_below_the_window_load_without_qt() -> None:
    words = [sys.executable, "-m", "tests", "--without-qt", "--collect-only", "-q"]
    done = subprocess.run(words, cwd=ROOT, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout[-2000:]
