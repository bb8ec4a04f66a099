"""Renews `app/start/pins` from `pyproject.toml`.

uv resolves once for every Python and system that is supported and notes the hashes of all files
of a version, which pip cannot; it is fetched into a temporary environment for this alone. No
address of an index is written.
"""

import re
import subprocess
import sys
import tempfile
import venv
from pathlib import Path

from app.start.environment import PINS

_HEAD = (
    "# Exact versions with the hashes of every published file; made by `python3 -m tests --pins`.\n"
)
_RESOLVE = (
    "pip", "compile", "--quiet", "pyproject.toml", "--universal", "--python-version=3.11",
    "--fork-strategy=fewest", "--generate-hashes", "--no-header", "--no-annotate",
    "--no-emit-index-url",
)  # fmt: skip
_ENTRY = re.compile(r"^\S.*(?:\n    .*)*", re.MULTILINE)


def renew() -> int:
    """Write the newest versions that `pyproject.toml` allows into both files of pins."""
    with tempfile.TemporaryDirectory() as folder:
        venv.create(folder, with_pip=True)
        scripts = Path(folder) / ("Scripts" if sys.platform == "win32" else "bin")
        subprocess.run([str(scripts / "python"), "-m", "pip", "install", "-q", "uv"], check=True)
        run = _resolve(scripts / "uv")
        everything = _resolve(scripts / "uv", "--group=test")
    (PINS / "run.txt").write_text(_HEAD + "\n".join(run) + "\n", encoding="utf-8")
    test = [entry for entry in everything if entry not in run]
    (PINS / "test.txt").write_text(_HEAD + "\n".join(test) + "\n", encoding="utf-8")
    return 0


def _resolve(uv: Path, *options: str) -> list[str]:
    words = [str(uv), *_RESOLVE, *options]
    done = subprocess.run(words, check=True, capture_output=True, text=True)
    return _ENTRY.findall(done.stdout)
