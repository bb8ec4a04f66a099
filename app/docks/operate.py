"""The part of Details for a control: the position it stands in, and its table of positions."""

from __future__ import annotations

from dataclasses import replace

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
from model.circuit import Part
from model.edits import set_part
from model.lookup import body_of, label, marking


class OperateBox(QWidget):
    """Position now, rest position, and which pairs every position closes."""

    def __init__(self, session: Session, part_id: str = "") -> None:
        super().__init__()
        self.session, self.part_id = session, part_id
        self._filled: list[tuple[str, str]] = []
        self.now, self.rest = _choice("Position now"), _choice("At rest")
        self.now.activated.connect(self._on_now)
        self.rest.activated.connect(self._on_rest)
        form = QFormLayout()
        form.addRow(tr("Position now"), self.now)
        form.addRow(tr("At rest"), self.rest)
        self.table = _table("Pairs closed in each position")
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
        closes = self._closes(part)
        if closes != self._filled:
            self._filled = closes
            self._fill()
        self.table.setFixedHeight(self.table.verticalHeader().length() + 4)
        self.now.setCurrentText(self.session.position(self.part_id))
        self.rest.setCurrentText(body_of(circuit, part).rest)

    def _closes(self, part: Part) -> list[tuple[str, str]]:
        """Return the name of every position and the pairs that it closes."""
        found = []
        for position in positions_of(self.session.circuit, part.id):
            pairs = ", ".join(f"{marking(part, a)}–{marking(part, b)}" for a, b in position.closed)
            found.append((position.name, pairs or tr("open")))
        return found

    def _fill(self) -> None:
        """Write the lists, and one row a position: its name and the pairs it closes."""
        names = [name for name, _ in self._filled]
        for box in (self.now, self.rest):
            box.clear()
            box.addItems(names)
        table = self.table
        table.setRowCount(len(names))
        for row, texts in enumerate(self._filled):
            for column, text in enumerate(texts):
                table.setItem(row, column, QTableWidgetItem(text))

    def _on_now(self) -> None:
        self.session.set_positions({self.part_id: self.now.currentText()})

    def _on_rest(self) -> None:
        part = self.session.circuit.parts[self.part_id]
        new = replace(part, rest=self.rest.currentText())
        self.session.do(set_part(self.session.circuit, new, f"Change rest of {label(part)}"))


def _choice(title: str) -> QComboBox:
    box = QComboBox()
    box.setAccessibleName(tr(title))
    return box


def _table(title: str) -> QTableWidget:
    table = QTableWidget(0, 2)
    table.setAccessibleName(tr(title))
    table.horizontalHeader().hide()
    table.verticalHeader().hide()
    table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
    table.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
    table.setTabKeyNavigation(False)  # Tab goes on to the rows below, arrows walk the cells
    head = table.horizontalHeader()
    head.setSectionResizeMode(0, QHeaderView.ResizeMode.ResizeToContents)
    head.setSectionResizeMode(1, QHeaderView.ResizeMode.Stretch)
    return table
