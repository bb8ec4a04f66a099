"""The part of Details for a control: the position it stands in, and its table of positions."""

from __future__ import annotations

from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QFormLayout,
    QHeaderView,
    QLabel,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from app.controls import positions_of
from app.session import Session
from app.tr import tr
from model.edits import set_part
from model.lookup import body_of, label, marking


class OperateBox(QWidget):
    """Position now, rest position, and which pairs every position closes."""

    def __init__(self, session: Session, part_id: str) -> None:
        super().__init__()
        self.session, self.part_id = session, part_id
        names = [p.name for p in positions_of(session.circuit, part_id)]
        self.now = _choice("Position now", names)
        self.rest = _choice("At rest", names)
        self.now.activated.connect(self._on_now)
        self.rest.activated.connect(self._on_rest)
        form = QFormLayout()
        form.addRow(tr("Position now"), self.now)
        form.addRow(tr("At rest"), self.rest)
        self.table = QTableWidget()
        self.table.setAccessibleName(tr("Pairs closed in each position"))
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addLayout(form)
        layout.addWidget(QLabel(tr("Closes")))
        layout.addWidget(self.table)
        self.refresh()

    def refresh(self) -> None:
        """Show the positions as they are now."""
        circuit = self.session.circuit
        part = circuit.parts.get(self.part_id)
        if part is None:
            return
        self.now.setCurrentText(self.session.position(self.part_id))
        self.rest.setCurrentText(body_of(circuit, part).rest)
        self._fill()

    def _fill(self) -> None:
        """Write one row a position: its name and the pairs it closes."""
        part = self.session.circuit.parts[self.part_id]
        positions = positions_of(self.session.circuit, self.part_id)
        table = self.table
        table.setRowCount(len(positions))
        table.setColumnCount(2)
        table.horizontalHeader().hide()
        table.verticalHeader().hide()
        table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        table.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        table.setTabKeyNavigation(False)  # Tab goes on to the rows below, arrows walk the cells
        for row, position in enumerate(positions):
            pairs = ", ".join(f"{marking(part, a)}–{marking(part, b)}" for a, b in position.closed)
            table.setItem(row, 0, QTableWidgetItem(position.name))
            table.setItem(row, 1, QTableWidgetItem(pairs or tr("open")))
        head = table.horizontalHeader()
        head.setSectionResizeMode(0, QHeaderView.ResizeMode.ResizeToContents)
        head.setSectionResizeMode(1, QHeaderView.ResizeMode.Stretch)
        table.setFixedHeight(table.verticalHeader().length() + 4)

    def _on_now(self) -> None:
        self.session.set_positions({self.part_id: self.now.currentText()})

    def _on_rest(self) -> None:
        from dataclasses import replace

        part = self.session.circuit.parts[self.part_id]
        new = replace(part, rest=self.rest.currentText())
        self.session.do(set_part(self.session.circuit, new, f"Change rest of {label(part)}"))


def _choice(title: str, names: list[str]) -> QComboBox:
    box = QComboBox()
    box.setAccessibleName(tr(title))
    box.addItems(names)
    return box
