"""The family of the system, its install command, and when that is run unasked."""

import io
import os
import subprocess
import sys
from typing import Any

import pytest

from app.start import system
from app.start.errors import StartError
from app.start.progress import Progress
from app.start.system import SystemPackage

EGL = SystemPackage("libegl1", "libglvnd-egl", "libglvnd")
GL = SystemPackage("libgl1", "libglvnd-glx", "libglvnd")


# First lines of the os-release files of these distributions, from memory.
@pytest.mark.parametrize(
    ("os_release", "family"),
    [
        ('PRETTY_NAME="Debian GNU/Linux 12 (bookworm)"\nID=debian\n', "debian"),
        ("NAME=Ubuntu\nID=ubuntu\nID_LIKE=debian\n", "debian"),
        ('ID=linuxmint\nID_LIKE="ubuntu debian"\n', "debian"),
        ("ID=fedora\nVERSION_ID=41\n", "fedora"),
        ('ID="rocky"\nID_LIKE="rhel centos fedora"\n', "fedora"),
        ("ID=arch\n", "arch"),
        ("ID=endeavouros\nID_LIKE=arch\n", "arch"),
        ("ID=alpine\n", None),
        ("", None),
    ],
)
def test_family(os_release: str, family: str | None) -> None:
    assert system.family_of(os_release) == family


@pytest.mark.parametrize(
    ("family", "command"),
    [
        ("debian", "sudo apt install libegl1 libgl1"),
        ("fedora", "sudo dnf install libglvnd-egl libglvnd-glx"),
        ("arch", "sudo pacman -S libglvnd"),
    ],
)
def test_one_command_for_each_family(family: Any, command: str) -> None:
    assert system.command([EGL, GL], family) == command
    assert system.advice([EGL, GL], family) == f"Install it with: {command}"


def test_an_unknown_system_gets_all_three_commands() -> None:
    text = system.advice([EGL], None)
    assert "sudo apt install libegl1" in text
    assert "sudo dnf install libglvnd-egl" in text
    assert "sudo pacman -S libglvnd" in text


@pytest.mark.parametrize(
    ("user", "terminal", "may"),
    [(0, False, True), (0, True, False), (1000, False, False), (1000, True, False)],
)
def test_only_root_without_a_terminal_installs(
    user: int, terminal: bool, may: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    stdin = io.StringIO()
    monkeypatch.setattr(stdin, "isatty", lambda: terminal, raising=False)
    monkeypatch.setattr(os, "geteuid", lambda: user, raising=False)
    monkeypatch.setattr(sys, "stdin", stdin)
    assert system.may_install() is may


def _recorded(
    monkeypatch: pytest.MonkeyPatch, returncode: int = 0, stderr: str = ""
) -> list[list[str]]:
    seen: list[list[str]] = []

    def run(words: list[str], **_: object) -> subprocess.CompletedProcess[str]:
        seen.append(words)
        return subprocess.CompletedProcess(words, returncode, "", stderr)

    monkeypatch.setattr(subprocess, "run", run)
    return seen


def test_install_refreshes_the_list_first_on_debian(monkeypatch: pytest.MonkeyPatch) -> None:
    seen = _recorded(monkeypatch)
    out = io.StringIO()
    system.install([EGL, GL, EGL], "debian", Progress(out))
    assert seen == [
        ["apt-get", "update"],
        ["apt-get", "install", "-y", "--no-install-recommends", "libegl1", "libgl1"],
    ]
    assert "libegl1 libgl1" in out.getvalue()


def test_a_failed_install_says_why_and_what_to_type(monkeypatch: pytest.MonkeyPatch) -> None:
    _recorded(monkeypatch, 100, "W: slow\nE: Unable to locate package libegl1\n")
    with pytest.raises(StartError, match=r"Unable to locate.*by hand: sudo apt install libegl1"):
        system.install([EGL], "debian", Progress(io.StringIO()))


def test_a_missing_installer_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    def run(words: list[str], **_: object) -> None:
        raise FileNotFoundError(2, "No such file or directory", words[0])

    monkeypatch.setattr(subprocess, "run", run)
    with pytest.raises(StartError, match="pacman cannot be run"):
        system.install([EGL], "arch", Progress(io.StringIO()))
