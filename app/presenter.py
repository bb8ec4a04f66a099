"""Between session and scene: hears what happened and gives the scene what it is to show."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QObject

from app.analysis import Analysis
from app.scene.geometry import SheetGeometry
from app.scene.guests import guests_by_host
from app.scene.painted import (
    PaintedPart,
    PaintedWire,
    painted_part,
    painted_wire,
    with_guests,
)
from app.scene.sheet_scene import Layouts, SheetScene, own_layout
from app.session import Session
from app.whereabouts import let_go
from model.circuit import Circuit
from model.document import Happened
from model.roles import Role, wire_roles

States = tuple[dict[str, PaintedPart], dict[str, PaintedWire]]
"""What is painted on parts and on wires, by id."""


class Presenter(QObject):
    """Keeps one scene in step with one session."""

    def __init__(self, session: Session, scene: SheetScene, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.session, self.scene = session, scene
        session.changed.connect(self._on_changed)
        session.analysed.connect(self._on_analysed)
        session.selected.connect(self.mark)
        session.looked.connect(self._on_looked)
        session.file_changed.connect(self._on_file)
        self._sheet = ""
        self._layouts: dict[str, Layouts] = {}
        self._states: tuple[tuple[object, ...], States] | None = None
        self._roles: tuple[Circuit, dict[str, Role]] | None = None
        self.show_circuit()

    def show_circuit(self) -> None:
        """Show the circuit, and the state as far as it is known."""
        now = self.session.sheet.id
        if self._sheet != now:
            self._layouts[self._sheet] = self.scene.change_layout(self._layouts.pop(now, None))
            self._sheet = now
            let_go(self._layouts, self.session.circuit)
        self.scene.show_circuit(self.session.circuit, self.session.sheet)
        self.show_state()

    def seen(self) -> dict[str, SheetGeometry]:
        """Return the layouts of the sheets that were shown, by their ids; the latest one first."""
        others = {k: own_layout(made) for k, made in self._layouts.items() if k}
        return {self._sheet: self.scene.layout_seen(), **others}

    def show_state(self) -> None:
        """Give the items what the latest analysis says."""
        parts, wires = self._states_now()
        if self.session.overlay == "role":
            roles = self._roles_now()
            wires = {k: replace(w, role=roles.get(k, "")) for k, w in wires.items()}
        self.scene.show_state(parts, wires, self.session.overlay)

    def _states_now(self) -> States:
        """Return what is painted, worked out once for an analysis of these parts and wires."""
        circuit = self.session.circuit
        of = (self.session.analysis, circuit.parts, circuit.wires)
        if self._states is None or any(
            a is not b for a, b in zip(self._states[0], of, strict=True)
        ):
            self._states = (of, states_of(self.session.analysis, circuit))
        return self._states[1]

    def _roles_now(self) -> dict[str, Role]:
        """Return the roles of the wires, worked out once for a circuit."""
        circuit = self.session.circuit
        if self._roles is None or self._roles[0] is not circuit:
            self._roles = (circuit, wire_roles(circuit))
        return self._roles[1]

    def mark(self) -> None:
        """Show what is selected and what is on the path of the finding shown."""
        finding = self.session.finding
        self.scene.mark(self.session.selection, finding.ids if finding else frozenset())

    def detach(self) -> None:
        """Hear no more."""
        session = self.session
        session.changed.disconnect(self._on_changed)
        session.analysed.disconnect(self._on_analysed)
        session.selected.disconnect(self.mark)
        session.looked.disconnect(self._on_looked)
        session.file_changed.disconnect(self._on_file)

    def _on_changed(self, happened: Happened) -> None:
        if ("*", "") in happened.touched:
            self.scene.forget_layout()
            self._layouts.clear()
        self.show_circuit()
        self.mark()

    def _on_analysed(self, analysis: Analysis) -> None:
        self.show_state()
        self.mark()

    def _on_looked(self) -> None:
        if self._sheet != self.session.sheet.id or self.scene.is_of_other_theme:
            self.show_circuit()
        self.show_state()
        self.mark()
        self.scene.restyle()

    def _on_file(self) -> None:
        self.show_circuit()
        self.mark()


def states_of(analysis: Analysis, circuit: Circuit) -> States:
    """Return what is painted on the parts and wires of a circuit that the analysis knows."""
    worst = analysis.worst_by_id()
    known = analysis.circuit
    parts = {
        i: painted_part(analysis, known.parts[i], worst.get(i, ""))
        for i in circuit.parts
        if i in known.parts
    }
    guests = guests_by_host(known, {i: p.value for i, p in parts.items()})
    parts |= {h: with_guests(parts[h], g, parts) for h, g in guests.items() if h in parts}
    wires = {
        i: painted_wire(analysis, known.wires[i], worst.get(i, ""))
        for i in circuit.wires
        if i in known.wires
    }
    return parts, wires
