"""The page of loads: what each draws and how long it is in use, and what that asks of the supply.

It follows the circuit while it is shown. The share of time in use is typed in place and kept in
the file as a rating of its part.
"""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QLabel,
    QPlainTextEdit,
    QSplitter,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from app.docks.fields import rating_change
from app.loads.table import KEY, USE, LoadTable, Table
from app.loads.told import CASES, balance_cells, cells, rests, scenario_cells, verdict
from app.loads.working import Worked, Working
from app.session import Session
from app.tr import tr
from app.windowing.page import Page, read_in, told_in
from model.circuit import Circuit
from model.errors import ModelError
from model.lookup import kind_of, label

WHEN = ("When", "Together", "At speed", "At idle", "Battery lasts", "State")
MEANT = {
    1: "What all loads and coils draw together",
    2: "What the alternator has left, or what is missing, at speed",
    3: "What the alternator has left, or what is missing, at idle",
    4: "How long the battery alone lasts, down to half its charge",
}
GIVEN = (2, 3)
"""Columns of what an alternator gives."""
KEPT = "Its kind has no such rating: add it under Parts of your own to keep it in the file."


class LoadsPage(Page):
    """Shows the load table of the open circuit."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.working = Working(self)
        self.said, self.rests = QLabel(), QPlainTextEdit()
        self.loads = LoadTable()
        self.scenarios = Table("Together, against alternator and battery", WHEN, last_wide=True)
        self._asked: Circuit | None = None
        self._worked: Worked | None = None
        self._waiting: Worked | None = None
        self._dress()
        self._lay()
        self.working.found.connect(self._on_found)
        self.working.failed.connect(self.said.setText)
        self.loads.currentItemChanged.connect(self._on_row)
        self.loads.given.connect(self._on_given)
        self.loads.left.connect(self._on_left)

    def refresh(self) -> None:
        """Work the table out again where the circuit is another and the page is seen."""
        circuit = self.session.circuit
        if circuit is self._asked or not self.isVisible():
            return
        self._asked = circuit
        self.said.setText(tr("Looking …"))
        self.working.ask(circuit)

    def follow(self) -> None:
        """Make the row current of the one part that is selected on the sheet."""
        current = self.loads.currentItem()
        chosen = self.session.selection
        if len(chosen) != 1 or (current is not None and current.data(0, KEY)[0] in chosen):
            return
        found = next((i for i in self._items() if i.data(0, KEY)[0] in chosen), None)
        if found is not None:
            self._make_current(found)

    def stop(self) -> None:
        """Let nothing run on."""
        self.working.stop()

    def _dress(self) -> None:
        told_in(self.said, tr("What it comes to"))
        for column, meant in MEANT.items():
            self.scenarios.headerItem().setToolTip(column, tr(meant))
        read_in(self.rests, tr("What it rests on"))

    def _lay(self) -> None:
        right, beside = QWidget(), QSplitter(Qt.Orientation.Horizontal)
        column = QVBoxLayout(right)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.scenarios, 3)
        column.addWidget(self.rests, 2)
        beside.addWidget(self.loads)
        beside.addWidget(right)
        beside.setChildrenCollapsible(False)
        beside.setSizes([500, 500])
        layout = QVBoxLayout(self)
        layout.setContentsMargins(8, 6, 8, 6)
        layout.addWidget(self.said)
        layout.addWidget(beside, 1)

    def _on_found(self, found: object) -> None:
        """Show a load table, as soon as nothing is being typed into the one before."""
        if not isinstance(found, Worked) or found.circuit is not self.session.circuit:
            return
        if self.loads.is_typed_in:
            self._waiting = found
        else:
            self._show(found)

    def _on_left(self) -> None:
        waiting, self._waiting = self._waiting, None
        if waiting is not None and waiting.circuit is self.session.circuit:
            self._show(waiting)

    def _show(self, found: Worked) -> None:
        circuit, energy = found.circuit, found.energy
        self._worked = found
        self._fill_loads(found)
        self.scenarios.clear()
        for column in GIVEN:
            self.scenarios.setColumnHidden(column, energy.rated_a <= 0.0)
        supplies = [b for b in found.balances if b.supply in CASES]
        cranking = any(b.supply == "cranking" for b in supplies)
        for scenario in energy.scenarios:
            if scenario.name != "start" or not cranking:
                self.scenarios.add(scenario_cells(circuit, energy, scenario))
        for balance in supplies:
            self.scenarios.add(balance_cells(circuit, energy, balance))
        self.rests.setPlainText("\n".join(rests(circuit, energy)))
        self.said.setText(verdict(energy))

    def _fill_loads(self, found: Worked) -> None:
        """Fill the rows anew, the same one current as before."""
        current = self.loads.currentItem()
        held = current.data(0, KEY) if current is not None else None
        self.loads.blockSignals(True)
        self.loads.clear()
        for row in found.energy.rows:
            key = (row.part, row.element, row.coil, row.use_key)
            item = self.loads.add(cells(found.circuit, row), key)
            if row.use_key in kind_of(found.circuit, found.circuit.parts[row.part]).specs:
                item.setFlags(item.flags() | Qt.ItemFlag.ItemIsEditable)
            else:
                item.setToolTip(USE, tr(KEPT))
            if key == held:
                self.loads.setCurrentItem(item)
        self.loads.blockSignals(False)
        self.follow()

    def _items(self) -> list[QTreeWidgetItem]:
        found = (self.loads.topLevelItem(i) for i in range(self.loads.topLevelItemCount()))
        return [i for i in found if i is not None]

    def _make_current(self, item: QTreeWidgetItem) -> None:
        self.loads.blockSignals(True)
        self.loads.setCurrentItem(item)
        self.loads.blockSignals(False)

    def _on_row(self, item: QTreeWidgetItem | None, _before: QTreeWidgetItem | None) -> None:
        """Select the part of a row on the sheet."""
        if item is not None and item.data(0, KEY)[0] in self.session.circuit.parts:
            part = item.data(0, KEY)[0]
            self.session.show_sheet_of((part,))
            self.session.select(frozenset({part}))

    def _on_given(self, part_id: str, rating: str, text: str) -> None:
        """Keep a share of time in the file; nothing typed goes back to the default."""
        circuit = self.session.circuit
        if self.session.mode != "draw":
            self.session.noticed.emit("Go to Draw (F5) to change the circuit.")
            return
        if part_id not in circuit.parts:
            return
        spec = kind_of(circuit, circuit.parts[part_id]).specs[rating]
        try:
            change = rating_change(circuit, part_id, spec, text)
            what = f"Share of time of {label(circuit.parts[part_id])}"
            self.session.do(replace(change, label=what))
        except ModelError as error:
            self.session.noticed.emit(str(error))
