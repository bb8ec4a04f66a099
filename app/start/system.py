"""The system's own packages: which command installs them here, and doing so in a container."""

import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from app.start.errors import StartError
from app.start.progress import Progress

Family = Literal["debian", "fedora", "arch"]
_FAMILIES: tuple[Family, ...] = ("debian", "fedora", "arch")
_TITLES = {"debian": "Debian or Ubuntu", "fedora": "Fedora", "arch": "Arch"}
_SHOWN = {
    "debian": "sudo apt install",
    "fedora": "sudo dnf install",
    "arch": "sudo pacman -S",
}
_UNATTENDED: dict[Family, tuple[tuple[str, ...], ...]] = {
    "debian": (("apt-get", "update"), ("apt-get", "install", "-y", "--no-install-recommends")),
    "fedora": (("dnf", "install", "-y"),),
    "arch": (("pacman", "-Sy", "--noconfirm", "--needed"),),
}
_ALIASES: dict[str, Family] = {
    "ubuntu": "debian",
    "rhel": "fedora",
    "centos": "fedora",
    "manjaro": "arch",
}


@dataclass(frozen=True, slots=True)
class SystemPackage:
    """One thing that a system installs, by its name in each family of distributions."""

    debian: str
    fedora: str
    arch: str

    def name(self, family: Family) -> str:
        """Return the package's name in `family`."""
        return str(getattr(self, family))


def family_of(os_release: str) -> Family | None:
    """Return the family that the text of an os-release file speaks of, None when it is another."""
    fields = dict(line.split("=", 1) for line in os_release.splitlines() if "=" in line)
    words = f"{fields.get('ID', '')} {fields.get('ID_LIKE', '')}".replace('"', " ").split()
    for word in words:
        known = _ALIASES.get(word, word)
        for family in _FAMILIES:
            if family == known:
                return family
    return None


def this_family() -> Family | None:
    """Return the family of the running system."""
    try:
        return family_of(Path("/etc/os-release").read_text(encoding="utf-8"))
    except OSError:
        return None


def command(packages: list[SystemPackage], family: Family) -> str:
    """Return the one command that installs `packages` on `family`, as a person types it."""
    return f"{_SHOWN[family]} {' '.join(_names(packages, family))}"


def advice(packages: list[SystemPackage], family: Family | None) -> str:
    """Return what to do about missing `packages`: one command, or one for each family."""
    if family is not None:
        return f"Install it with: {command(packages, family)}"
    rows = [f"  {_TITLES[known]}: {command(packages, known)}" for known in _FAMILIES]
    return "\n".join(["Install it with the command of your system:", *rows])


def may_install() -> bool:
    """Whether packages may be installed unasked: as root with nobody at a terminal to ask."""
    is_root = hasattr(os, "geteuid") and os.geteuid() == 0
    return is_root and not (sys.stdin is not None and sys.stdin.isatty())


def install(packages: list[SystemPackage], family: Family, progress: Progress) -> None:
    """Install `packages` without asking.

    Raises
    ------
    StartError
        With the last line that the system's installer wrote.
    """
    names = _names(packages, family)
    progress.say(f"installing system packages: {' '.join(names)}")
    steps = _UNATTENDED[family]
    for step in steps:
        words = [*step, *names] if step is steps[-1] else list(step)
        _run(words, f"Try it by hand: {command(packages, family)}")


def _run(words: list[str], hint: str) -> None:
    env = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    try:
        done = subprocess.run(
            words, env=env, stdin=subprocess.DEVNULL, capture_output=True, text=True, check=False
        )
    except OSError as error:
        raise StartError(f"{words[0]} cannot be run ({error.strerror}). {hint}") from error
    if done.returncode:
        last = (done.stderr.strip() or done.stdout.strip() or "no reason given").splitlines()[-1]
        raise StartError(f"{words[0]} failed: {last} {hint}")


def _names(packages: list[SystemPackage], family: Family) -> list[str]:
    return list(dict.fromkeys(package.name(family) for package in packages))
