"""One open circuit with everything around it that is not in the file.

The session owns the document, the undo stack, the selection, the mode, the positions the controls
stand in and the latest analysis. Widgets and the scene listen to it and never to each other.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoStack

from app.analysis import Analysis, Shown
from app.controls import Stepper, position_now
from app.past import Past
from app.scheduler import Scheduler
from app.theme import Look
from app.undo import ChangeCommand
from app.whereabouts import redrawn, sheet_for
from model.changes import Change
from model.circuit import Circuit, Sheet
from model.document import Document, Happened
from model.states import Memory, Setting

MODES = ("draw", "operate")
OVERLAYS = ("state", "findings", "role", "none")


class Session(QObject):
    """The open circuit and how it is looked at."""

    changed = Signal(object)
    """The circuit changed: a `Happened`."""
    analysed = Signal(object)
    """A newer `Analysis`."""
    selected = Signal()
    looked = Signal()
    """Mode, overlay, theme, sheet or the path shown changed."""
    noticed = Signal(str)
    """Something to tell in one sentence, "" to take it away."""
    file_changed = Signal()
    file_named = Signal()

    def __init__(self, circuit: Circuit, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.look = Look()
        self.undo, self._past = QUndoStack(self), Past()
        self.document = Document(circuit)
        self.mode = "draw"
        self.overlay = "state"
        self.sheet_id = ""
        self._doing = False
        self.selection: frozenset[str] = frozenset()
        self.finding: Shown | None = None
        self.path: Path | None = None
        self.read_only = False
        self.setting = at_rest(circuit)
        self.memory = Memory()
        self.stepper = Stepper()
        self.analysis = Analysis(circuit, self.setting)
        self.schedule = Scheduler(self._asked, self)
        self.schedule.solved.connect(self._on_solved)
        self.schedule.checked.connect(self._on_checked)
        self.document.listen(self._on_happened)
        self.schedule.touch(frozenset())

    @property
    def circuit(self) -> Circuit:
        """The circuit as it is now."""
        return self.document.circuit

    @property
    def sheet(self) -> Sheet:
        """The sheet shown; an empty one where the file has none."""
        sheets = self.circuit.sheets
        return sheets.get(self.sheet_id) or next(iter(sheets.values()), Sheet("s1", "Sheet 1"))

    def do(self, change: Change | None) -> bool:
        """Make a change as one step of undo; False when there is nothing to do or no leave to."""
        if change is None or not change.swaps:
            return False
        if self.read_only:
            self.noticed.emit("This file was made by a later version: it is open for reading only.")
            return False
        self._doing = True
        self.undo.push(ChangeCommand(self.document, self._past, change))
        self._doing = False
        return True

    def open(self, circuit: Circuit, path: Path | None, read_only: bool = False) -> None:
        """Take another circuit in place of this one."""
        self.undo.clear()
        self._past.clear()
        self.path, self.read_only = path, read_only
        self.sheet_id, self.selection, self.finding = "", frozenset(), None
        self.setting, self.memory = at_rest(circuit), Memory()
        self.stepper = Stepper()
        self.document.replace(circuit)
        self.schedule.touch(frozenset())
        self.file_changed.emit()
        self.selected.emit()
        self.looked.emit()

    def select(self, ids: frozenset[str]) -> None:
        """Select these parts and wires and nothing else."""
        if ids != self.selection:
            self.selection = ids
            self.selected.emit()

    def show_finding(self, finding: Shown | None) -> None:
        """Show the path of a finding, on whatever sheet it stands, or none."""
        self.finding = finding
        if finding is not None:
            self.sheet_id = sheet_for(self.circuit, finding.ids, self.sheet.id) or self.sheet_id
        self.looked.emit()

    def look_at(self, *, mode: str = "", overlay: str = "", theme: str = "") -> None:
        """Change mode, overlay or theme."""
        self.mode = mode or self.mode
        self.overlay = overlay or self.overlay
        if theme:
            self.look.take(theme)
        self.looked.emit()

    def show_sheet(self, sheet_id: str) -> None:
        """Show a sheet, nothing selected on it."""
        if sheet_id in self.circuit.sheets and sheet_id != self.sheet.id:
            self.sheet_id = sheet_id
            self.select(frozenset())
            self.looked.emit()

    def next_sheet(self, by: int = 1) -> None:
        """Show the next sheet, or the one before; past the end comes the first."""
        ids = list(self.circuit.sheets)
        if len(ids) > 1:
            self.show_sheet(ids[(ids.index(self.sheet.id) + by) % len(ids)])

    def show_sheet_of(self, ids: Iterable[str]) -> None:
        """Show a sheet on which some of these parts and wires stand, where this one has none."""
        wanted = sheet_for(self.circuit, ids, self.sheet.id)
        if wanted and wanted != self.sheet.id:
            self.sheet_id = wanted
            self.looked.emit()

    def set_positions(self, positions: dict[str, str]) -> None:
        """Put controls in positions, all of them together, and solve again.

        What was set before is settled first: relays remember every step, however quick.
        """
        self.schedule.settle()
        self.setting = self.setting.moved(positions)
        self.schedule.touch(frozenset(("parts", p) for p in positions))

    def position(self, part_id: str) -> str:
        """Return the position a control stands in now, "" for any other part."""
        return position_now(self.circuit, part_id, self.setting.positions.get(part_id, ""))

    def set_conditions(self, engine: str = "", supply: str = "") -> None:
        """Take the engine and the supply as told, and solve again."""
        now = self.setting
        self.setting = replace(now, engine=engine or now.engine, supply=supply or now.supply)
        self.schedule.touch(frozenset())

    def to_rest(self) -> None:
        """Put every control to rest, as when the power comes on."""
        self.setting, self.memory = at_rest(self.circuit), Memory()
        self.stepper = Stepper()
        self.schedule.touch(frozenset())

    def saved(self, path: Path) -> None:
        """Take note that the circuit is saved in a file as it is now."""
        self.path = path
        self.undo.setClean()
        self.file_named.emit()

    def close(self) -> None:
        """Stop what is pending and listen no more."""
        self.schedule.stop()
        self.document.forget(self._on_happened)

    def _asked(self) -> tuple[Circuit, Setting, Memory]:
        return self.circuit, self.setting, self.memory

    def _on_happened(self, happened: Happened) -> None:
        known = happened.after.parts.keys() | happened.after.wires.keys()
        self.select(self.selection & known)
        if self.finding and not self.finding.ids <= known:
            self.finding = None
        positions = {k: v for k, v in self.setting.positions.items() if k in known}
        self.setting = replace(self.setting, positions=positions)
        if not self._doing:  # undone or redone: it is to be seen
            self.sheet_id = redrawn(happened, self.sheet.id) or self.sheet_id
        self.changed.emit(happened)
        self.schedule.touch(happened.touched)

    def _on_solved(self, analysis: Analysis) -> None:
        if analysis.state is not None:
            self.memory = analysis.state.memory
            self.setting = replace(self.setting, engine=analysis.state.engine)
        kept = self.analysis
        if kept.circuit is analysis.circuit and kept.checked:
            analysis = replace(
                analysis, findings=kept.findings, checked=True, thorough=kept.thorough
            )
        self.analysis = analysis
        self.analysed.emit(analysis)

    def _on_checked(self, analysis: Analysis) -> None:
        self.analysis = analysis
        if self.finding is not None:
            self.finding = analysis.again(self.finding)
        self.analysed.emit(analysis)


def at_rest(circuit: Circuit) -> Setting:
    """Return the setting a circuit opens with: every control at rest, its own conditions."""
    conditions = circuit.settings.conditions
    return Setting({}, conditions.engine, conditions.supply)
