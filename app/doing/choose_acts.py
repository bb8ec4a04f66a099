"""Acts that select: a whole circuit, what a fuse feeds, what is found by its name."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, TypeVar

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QVBoxLayout

from app.slim.finder import FindBar
from model.circuit import Circuit, Part, Wire
from model.editing import fed_by, of_colour, of_kind, of_size, on_ground, whole_circuit
from model.errors import ModelError
from model.lookup import body_of, wires_at

if TYPE_CHECKING:
    from app.window import Window

Of = TypeVar("Of")


class ChooseActs(QObject):
    """Selecting and finding, as menus and keys ask for it."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self.window = window
        self.session = window.session
        self.bar = FindBar(window.session)

    def fill(self, layout: QVBoxLayout) -> None:
        """Put the bar above the sheet and hear it."""
        layout.insertWidget(0, self.bar)
        self.bar.left.connect(self.window.looks.do_sheet)
        self.bar.found.connect(self._on_found)

    def detach(self) -> None:
        """Show no more hits."""
        self.bar.found.disconnect(self._on_found)

    # Finding

    def do_find(self) -> None:
        """Open the bar in which a name or number is typed."""
        if self.window.around.gallery.isVisible():
            self.window.around.leave_gallery()
        self.bar.open(self.bar.edit.text())

    def do_find_next(self) -> None:
        """Select the next hit."""
        self._step(1)

    def do_find_before(self) -> None:
        """Select the hit before."""
        self._step(-1)

    def _step(self, by: int) -> None:
        if self.bar.edit.text().strip():
            self.bar.step(by)
        else:
            self.do_find()

    def _on_found(self) -> None:
        """Bring what the bar has found into view, on whatever sheet it stands."""
        chosen = self.session.selection
        self.session.show_sheet_of(chosen)
        area = self.window.scene.area_of(chosen)
        if not area.isEmpty():
            self.window.view.ensureVisible(area, 60, 60)

    # Selecting

    def do_select_circuit(self) -> None:
        """Select the whole circuit that the selection belongs to."""
        chosen = self._chosen("parts or wires")
        if chosen:
            self._select(whole_circuit(self.session.circuit, chosen))

    def do_select_fed(self) -> None:
        """Select everything that the selected fuse feeds."""
        part = self._one_part("a fuse or breaker")
        if part is not None:
            self._try(fed_by, part)

    def do_select_ground(self) -> None:
        """Select everything that returns to the selected ground point."""
        part = self._one_part("a ground point")
        if part is not None:
            self._try(on_ground, part)

    def do_select_kind(self) -> None:
        """Select every part of the kind of those selected."""
        circuit = self.session.circuit
        kinds = {p.kind for p in self._parts()}
        if kinds or self._chosen("a part"):
            self._select(of_kind(circuit, *kinds) if kinds else frozenset())

    def do_select_colour(self) -> None:
        """Select every wire of the colours of those selected."""
        self._by_wires({(w.colour, w.tracer) for w in self._wires()}, _of_colour)

    def do_select_size(self) -> None:
        """Select every wire of the sizes of those selected."""
        self._by_wires({w.size for w in self._wires()}, of_size)

    def do_select_joined(self) -> None:
        """Add to the selection what it is joined to: wires to their parts, parts to their wires."""
        circuit, chosen = self.session.circuit, self._chosen("parts or wires")
        ends = {e.part for w in self._wires() for e in (w.first, w.second) if e is not None}
        wires = {w.id for p in self._parts() for w in wires_at(circuit, p.id)}
        if chosen:
            self._select(chosen | ends | wires)

    def do_select_others(self) -> None:
        """Select what is not selected."""
        circuit = self.session.circuit
        every = frozenset((*circuit.parts, *circuit.wires))
        self._select(every - self.session.selection)

    def do_select_loose(self) -> None:
        """Select the wires with an end that is joined to nothing, and the parts without a wire."""
        circuit = self.session.circuit
        loose = {w.id for w in circuit.wires.values() if w.first is None or w.second is None}
        used = {e.part for w in circuit.wires.values() for e in (w.first, w.second) if e}
        hosts = {p.host for p in circuit.parts.values()}
        alone = {
            p.id
            for p in circuit.parts.values()
            if p.id not in used | hosts and body_of(circuit, p).terminals
        }
        self._select(loose | alone)

    def _select(self, ids: Iterable[str]) -> None:
        found = frozenset(ids)
        if not found:
            self.session.noticed.emit("There is nothing of the kind.")
            return
        self.session.select(found)
        parts = len(found & self.session.circuit.parts.keys())
        self.session.noticed.emit(f"Selected {parts} parts and {len(found) - parts} wires.")

    def _try(self, act: Callable[[Circuit, str], frozenset[str]], part: Part) -> None:
        try:
            self._select(act(self.session.circuit, part.id))
        except ModelError as error:
            self.session.noticed.emit(str(error))

    def _by_wires(self, values: set[Of], of: Callable[[Circuit, Of], frozenset[str]]) -> None:
        if values:
            circuit = self.session.circuit
            self._select(i for value in values for i in of(circuit, value))
        else:
            self._tell("a wire")

    def _chosen(self, what: str) -> frozenset[str]:
        if not self.session.selection:
            self._tell(what)
        return self.session.selection

    def _one_part(self, what: str) -> Part | None:
        parts = self._parts()
        if len(parts) == 1:
            return parts[0]
        self._tell(what)
        return None

    def _tell(self, what: str) -> None:
        self.session.noticed.emit(f"Select {what} first.")

    def _parts(self) -> list[Part]:
        circuit, chosen = self.session.circuit, self.session.selection
        return [p for p in circuit.parts.values() if p.id in chosen]

    def _wires(self) -> list[Wire]:
        circuit, chosen = self.session.circuit, self.session.selection
        return [w for w in circuit.wires.values() if w.id in chosen]


def _of_colour(circuit: Circuit, both: tuple[str, str]) -> frozenset[str]:
    return of_colour(circuit, *both)
