"""The pictures of the README, taken from the real window: `python3 -m app.pictures.readme`.

Without a folder they go to `assets/pictures`, where the README shows them; take them anew after
every change of the look. No screen is needed. The tests hold the pictures kept against new ones.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from app.window import Window
    from model.circuit import Circuit

ROOT = Path(__file__).resolve().parents[2]
FOLDER = ROOT / "assets" / "pictures"
EXAMPLES = ROOT / "assets" / "examples"
SIZE = (1280, 680)
SCREEN = (1280, 800)


@dataclass(frozen=True, slots=True)
class Picture:
    """One picture: its file, the circuit shown, and what is done in the window before."""

    name: str
    circuit: Callable[[], Circuit]
    pose: Callable[[Window], None]
    size: tuple[int, int] = SIZE


def pictures() -> tuple[Picture, ...]:
    """Return every picture of the README."""
    return (
        Picture("window", _Example("fuel-pump"), _pumping),
        Picture("first-finding", _FirstCircuit(0), _overloaded),
        Picture("first-circuit", _FirstCircuit(1), _heating),
        Picture("projector", _Example("horn"), _projected, SCREEN),
    )


@dataclass(frozen=True, slots=True)
class _Example:
    name: str

    def __call__(self) -> Circuit:
        from model.file import load

        return load(EXAMPLES / f"{self.name}.voltwalk").circuit


@dataclass(frozen=True, slots=True)
class _FirstCircuit:
    """The README's own first circuit; stage 0 has no relay yet."""

    stage: int

    def __call__(self) -> Circuit:
        from app.pictures.first_circuit import first_circuit

        return first_circuit(relay=self.stage > 0)


def _pumping(window: Window) -> None:
    """Run the pump, the relay selected."""
    window.looks.do_mode_operate()
    _put(window, "S1", "ON")
    window.session.select(frozenset({_part(window, "K1")}))


def _overloaded(window: Window) -> None:
    """Select the finding about the switch, with the heater on."""
    _put(window, "S1", "ON")
    window.session.schedule.flush()
    window.looks.do_overlay_findings()
    window.session.select(frozenset({_part(window, "S1")}))
    window.findings.select(0)


def _heating(window: Window) -> None:
    """Run the heater through its relay."""
    window.looks.do_mode_operate()
    _put(window, "S1", "ON")


def _projected(window: Window) -> None:
    """Blow the horn for the class, every dock away."""
    window.looks.do_mode_operate()
    window.looks.do_theme_projector()
    window.looks.do_docks()
    _put(window, "S1", "PRESS")


def _put(window: Window, reference: str, position: str) -> None:
    """Put a control in a position that it has."""
    from app.controls import positions_of

    part_id = _part(window, reference)
    assert position in [p.name for p in positions_of(window.session.circuit, part_id)], position
    window.session.set_positions({part_id: position})


def _part(window: Window, reference: str) -> str:
    from model.lookup import parts_named

    (found,) = parts_named(window.session.circuit, reference)
    return found.id


def take(picture: Picture, folder: Path) -> Path:
    """Take one picture and return its file.

    Raises
    ------
    OSError
        The picture cannot be written there.
    """
    from PySide6.QtCore import Qt
    from PySide6.QtWidgets import QApplication

    from app.session import Session
    from app.window import Window

    window = Window(Session(picture.circuit()))
    window.setAttribute(Qt.WidgetAttribute.WA_DontShowOnScreen)
    window.resize(*picture.size)
    window.show()
    for act in (picture.pose, _fit):
        _settle(window)
        act(window)
    _settle(window)
    path = folder / f"{picture.name}.png"
    saved = window.grab().save(str(path))
    window.close()
    window.deleteLater()
    QApplication.processEvents()
    if not saved:
        raise OSError(f"cannot write {path}: is the folder there and yours?")
    return path


def _fit(window: Window) -> None:
    window.view.fit()


def _settle(window: Window) -> None:
    """Let everything pending be laid out, solved, checked and painted."""
    from PySide6.QtWidgets import QApplication

    QApplication.processEvents()
    window.session.schedule.flush()
    QApplication.processEvents()


def take_all(folder: Path, wanted: Iterable[Picture] = ()) -> list[Path]:
    """Take every picture, or those wanted, and return their files."""
    from PySide6.QtWidgets import QApplication

    app = QApplication.instance() or QApplication(["voltwalk"])
    assert isinstance(app, QApplication)
    app.setStyle("Fusion")
    return [take(picture, folder) for picture in wanted or pictures()]


def main(argv: Sequence[str]) -> int:
    """Take the pictures into the folder that `argv` names; 0 done, 2 wrong call, 3 not written."""
    if len(argv) > 1:
        sys.stderr.write("usage: python3 -m app.pictures.readme [FOLDER]\n")
        return 2
    os.environ["QT_QPA_PLATFORM"] = "offscreen"
    try:
        made = take_all(Path(argv[0]) if argv else FOLDER)
    except OSError as error:
        sys.stderr.write(f"{error}\n")
        return 3
    sys.stdout.write("".join(f"{path}\n" for path in made))
    return 0


if __name__ == "__main__":
    from app.start.launch import enter

    enter("run")
    sys.exit(main(sys.argv[1:]))
