"""What the set-up says while it works and when it cannot go on."""

import importlib.util
import io
import shutil
import subprocess
from collections import namedtuple
from pathlib import Path

import pytest

from app.start import setup, system
from app.start.environment import Environment
from app.start.errors import StartError
from app.start.progress import Progress

Usage = namedtuple("Usage", "total used free")


class Terminal(io.StringIO):
    """A stream that says it is a terminal."""

    def isatty(self) -> bool:
        """Say so."""
        return True


def _venv_fails(monkeypatch: pytest.MonkeyPatch, output: str, free: int) -> None:
    def run(words: list[str], **_: object) -> subprocess.CompletedProcess[str]:
        return subprocess.CompletedProcess(words, 1, "", output)

    monkeypatch.setattr(subprocess, "run", run)
    monkeypatch.setattr(shutil, "disk_usage", lambda _: Usage(10**9, 10**9 - free, free))


def test_a_full_disk_is_seen_though_venv_does_not_tell(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    _venv_fails(monkeypatch, "Error: Command 'python -m ensurepip' returned 1.", free=3_000_000)
    with pytest.raises(StartError, match="disk is full"):
        setup.ensure(Environment(tmp_path), ("run",), Progress(io.StringIO()))


def test_other_failures_of_venv_are_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    _venv_fails(monkeypatch, "Error: no such thing", free=10**9)
    with pytest.raises(StartError, match="no such thing"):
        setup.ensure(Environment(tmp_path), ("run",), Progress(io.StringIO()))


def test_a_folder_that_cannot_be_written_is_named(tmp_path: Path) -> None:
    (tmp_path / ".venv.lock").mkdir()  # as good as no permission, for root too
    with pytest.raises(StartError, match=r"folder: .*" + tmp_path.name):
        setup.ensure(Environment(tmp_path), ("run",), Progress(io.StringIO()))


@pytest.mark.parametrize("absent", ["venv", "ensurepip"])
def test_a_python_without_venv(
    absent: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = importlib.util.find_spec
    monkeypatch.setattr(
        importlib.util, "find_spec", lambda name, *_: None if name == absent else real(name)
    )
    monkeypatch.setattr(system, "this_family", lambda: "debian")
    monkeypatch.setattr(system, "may_install", lambda: False)
    with pytest.raises(StartError, match=r"sudo apt install python3\.\d+-venv"):
        setup.ensure(Environment(tmp_path), ("run",), Progress(io.StringIO()))


def test_the_line_is_rewritten_on_a_terminal() -> None:
    out = Terminal()
    progress = Progress(out)
    progress.step(1, 4, "fetching numpy")
    progress.step(2, 4, "fetching scipy")
    progress.say("ready")
    first, second, ready = out.getvalue().replace("\r", "\n").split("\n")[1:4]
    assert first.startswith("[######..................] 1/4 fetching numpy")
    assert second.startswith("[############............] 2/4 fetching scipy")
    assert ready == "voltwalk: ready"


def test_a_log_gets_few_lines() -> None:
    out = io.StringIO()
    for done in range(1, 26):
        Progress(out).step(done, 25, "fetching")
    assert [line.split()[1] for line in out.getvalue().splitlines()] == ["10", "20", "25"]


@pytest.mark.parametrize(
    ("line", "package"),
    [
        ("Collecting numpy==2.4.6 (from -r run.txt)", "numpy"),
        (
            "Processing /srv/files/markdown_it_py-4.3.0-py3-none-any.whl (from -r x)",
            "markdown_it_py",
        ),
        ("Processing c:\\files\\rich-15.0.0-py3-none-any.whl", "rich"),
        ("Ignoring colorama: markers 'sys_platform == \"win32\"' don't match", "colorama"),
        ("Requirement already satisfied: pytest-qt==4.5.0 in ./lib", "pytest-qt"),
    ],
)
def test_each_package_that_pip_names_is_a_step(line: str, package: str) -> None:
    out = io.StringIO()
    list(setup._followed(iter([line, "  Downloading x", "  Using cached x"]), 1, Progress(out)))
    assert out.getvalue() == f"voltwalk: 1 of 1: fetching {package}\n"
