"""Circuits on the disk as the window needs them: load, save, the demo, drawings."""

from __future__ import annotations

import logging
from pathlib import Path

import assets
from app.acts import blank
from app.session import Session
from model.circuit import Circuit
from model.file import FileError, load, save

log = logging.getLogger(__name__)
EXAMPLES = Path(assets.__file__).parent / "examples"
DEMO = "fuel-pump.voltwalk"

__all__ = ["demo", "demo_path", "draw", "load", "save"]


def demo_path() -> Path | None:
    """Return the file of the demo circuit: that of the name, else the first example."""
    named = EXAMPLES / DEMO
    found = [named] if named.is_file() else sorted(EXAMPLES.glob("*.voltwalk"))
    return found[0] if found else None


def demo() -> Circuit:
    """Return the demo circuit, a blank sheet where none is to be had."""
    path = demo_path()
    if path is None:
        return blank()
    try:
        return load(path).circuit
    except FileError as error:
        log.warning("the demo circuit does not open: %s", error)
        return blank()


def draw(session: Session, path: Path, circuit: Circuit | None = None) -> str:
    """Draw the sheet shown to a file and return a sentence about it.

    The circuit is that of the session where none is told, such as one with more places.
    """
    from app.export import export

    try:
        export(circuit or session.circuit, path, session.analysis, session.sheet.id)
    except (OSError, ValueError) as error:
        return f"{path.name} is not drawn: {error}"
    return f"Drawn to {path.name}."
