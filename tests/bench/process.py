"""Whole processes for the benchmarks: started, waited for, their output kept."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import tests

ROOT = Path(tests.__file__).resolve().parents[1]


def run(words: list[str], home: Path, codes: tuple[int, ...] = (0,)) -> str:
    """Run this Python with `words` in an empty home, offscreen, and return its stdout.

    Raises
    ------
    AssertionError
        When it ends with a code that is not expected.
    """
    env = {
        "PATH": os.environ.get("PATH", ""),
        "HOME": str(home),
        "XDG_CONFIG_HOME": str(home / ".config"),
        "QT_QPA_PLATFORM": "offscreen",
        "LANG": "C.UTF-8",
    }
    done = subprocess.run(
        [sys.executable, *words], cwd=ROOT, env=env, capture_output=True, text=True, check=False
    )
    assert done.returncode in codes, f"{words[:4]}: exit code {done.returncode}\n{done.stderr}"
    return done.stdout
