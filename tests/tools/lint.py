"""Style, strict types and import contracts, all of them even when the first one complains."""

import subprocess
import sys
from pathlib import Path

_TYPED = ("app", "model", "checks", "tests/tools", "tests/bench")
_SCRIPTS = Path(sys.executable).parent


def steps() -> list[tuple[str, list[str]]]:
    """Return each step's name and command."""
    ruff = [sys.executable, "-m", "ruff"]
    return [
        ("ruff check", [*ruff, "check", "."]),
        ("ruff format", [*ruff, "format", "--check", "."]),
        ("mypy --strict", [sys.executable, "-m", "mypy", "--strict", *_TYPED]),
        ("import contracts", [str(_SCRIPTS / "lint-imports")]),
    ]


def run() -> int:
    """Run every step; return 0 when all of them are content."""
    failed = []
    for name, words in steps():
        sys.stdout.write(f"--- {name}\n")
        sys.stdout.flush()
        if subprocess.run(words, check=False).returncode:
            failed.append(name)
    sys.stdout.write(f"lint: {'failed: ' + ', '.join(failed) if failed else 'clean'}\n")
    return 1 if failed else 0
