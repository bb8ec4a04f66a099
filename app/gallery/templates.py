"""Templates: small circuits that are dropped on a sheet as one thing, from `assets/templates`."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

import assets
from model.circuit import Circuit, Sheet
from model.editing import Edit, paste
from model.layout.geometry import Point

FOLDER = Path(assets.__file__).parent / "templates"
MARK = "template:"
"""What the key of a template starts with where kinds of parts stand beside it."""


@dataclass(frozen=True, slots=True)
class Template:
    """A template: the stem of its file, its title there, its pictogram and what it is for."""

    name: str
    title: str
    picture: str
    about: str

    @property
    def key(self) -> str:
        """Its key in the Tray and the gallery."""
        return MARK + self.name

    @property
    def path(self) -> Path:
        """Its file."""
        return FOLDER / f"{self.name}.voltwalk"


TEMPLATES = (
    Template(
        "relay-with-switch",
        "Relay with switch",
        "relay-resistor",
        "A relay, its switch and a fuse for each; join feed, load and ground.",
    ),
    Template(
        "fused-feed",
        "Fused feed",
        "fuse-blade",
        "A stud with three fused outputs behind one main fuse.",
    ),
    Template(
        "change-over-pair",
        "Change-over pair",
        "relay-changeover",
        "Two change-over relays that turn a motor both ways.",
    ),
    Template(
        "lesson-board",
        "Lesson board",
        "battery",
        "Battery, fuse, switch, relay and lamp, wired and ready to operate.",
    ),
    Template(
        "lesson-parts",
        "Lesson parts",
        "lamp",
        "Battery, fuse, switch, relay, lamp, motor and ground, laid out and not yet wired.",
    ),
    Template(
        "indicator-set",
        "Indicator set",
        "flasher",
        "Flasher, lever and four lamps.",
    ),
)


def template_of(key: str) -> Template | None:
    """Return the template of a key, None where the key is that of something else."""
    return next((t for t in TEMPLATES if t.key == key), None)


def placed(circuit: Circuit, template: Template, shown: Sheet, at: Point | None) -> Edit:
    """Return the edit that drops a template on a sheet as it is drawn, its middle at a point.

    Raises
    ------
    OSError
        Its file is not there.
    EditError
        Its file is no sound circuit.
    """
    edit = paste(circuit, template.path.read_text(encoding="utf-8"), shown, at)
    return replace(edit, change=replace(edit.change, label=f"Place {template.title}"))
