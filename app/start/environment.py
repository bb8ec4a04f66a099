"""The `.venv` of a checkout: where it is, what it should hold, whether it is up to date.

It is up to date when its stamp, written last of all, names the running Python and the pins as
they are now. A set-up that was killed leaves no stamp, so its half-made folder is made anew.
"""

import hashlib
import json
import os
import sys
import sysconfig
from dataclasses import dataclass
from pathlib import Path

PINS = Path(__file__).parent / "pins"
GROUPS = ("run", "test")
_STAMP = "voltwalk-stamp.json"


def python_tag() -> str:
    """Name the running Python as far as installed packages depend on it.

    The third number of the version is left out: packages survive a bug-fix release, and a machine
    without a network must not have to fetch them again for it.
    """
    return f"{sys.implementation.cache_tag}-{sysconfig.get_platform()}"


def pins_of(group: str, folder: Path = PINS) -> Path:
    """Return the file of pins of `group`."""
    return folder / f"{group}.txt"


@dataclass(frozen=True, slots=True)
class Environment:
    """The virtual environment of the checkout at `root`, pinned by the files in `pins`."""

    root: Path
    pins: Path = PINS

    @property
    def folder(self) -> Path:
        """The folder of the environment."""
        return self.root / ".venv"

    @property
    def python(self) -> Path:
        """The Python of the environment."""
        within = "Scripts/python.exe" if os.name == "nt" else "bin/python"
        return self.folder / within

    @property
    def is_running(self) -> bool:
        """Whether this very process runs in the environment."""
        return Path(sys.prefix).resolve() == self.folder.resolve()

    def wanted(self, groups: tuple[str, ...]) -> dict[str, str]:
        """Return the stamp that `groups` ask for: the Python, and a digest of each group's pins."""
        digests = {g: _digest(pins_of(g, self.pins)) for g in groups}
        return {"python": python_tag(), **digests}

    def found(self) -> dict[str, str]:
        """Return the stamp that is there; empty when missing, unreadable or without its Python."""
        try:
            stamp = json.loads((self.folder / _STAMP).read_text(encoding="utf-8"))
        except (OSError, ValueError):
            return {}
        if not isinstance(stamp, dict) or not self.python.exists():
            return {}
        return {str(key): str(value) for key, value in stamp.items()}

    def is_current(self, groups: tuple[str, ...]) -> bool:
        """Whether nothing needs to be done before `groups` can be used."""
        return self.wanted(groups).items() <= self.found().items()

    def can_be_updated(self) -> bool:
        """Whether packages can be changed in place: complete once, and for the running Python."""
        return self.found().get("python") == python_tag()

    def groups_to_install(self, groups: tuple[str, ...]) -> tuple[str, ...]:
        """Return `groups` and those installed before, so that an update drops none of them."""
        before = self.found()
        return tuple(g for g in GROUPS if g in groups or g in before)

    def write_stamp(self, groups: tuple[str, ...]) -> None:
        """Say that `groups` are installed completely."""
        text = json.dumps(self.wanted(groups), indent=1, sort_keys=True)
        (self.folder / _STAMP).write_text(text + "\n", encoding="utf-8")


def _digest(path: Path) -> str:
    # Line ends are evened out: a checkout on Windows may have turned them.
    return hashlib.sha256(path.read_text(encoding="utf-8").encode()).hexdigest()
