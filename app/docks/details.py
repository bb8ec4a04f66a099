"""Details: what is known of the selected part or wire, and where each default is from."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QLabel, QScrollArea, QVBoxLayout, QWidget

from app.docks.behind import behind_lines
from app.docks.circuit_fields import circuit_fields
from app.docks.fields import Field, part_fields, wire_fields
from app.docks.now import found_lines, now_lines
from app.docks.operate import OperateBox
from app.docks.rows import Row
from app.entry.errors import EntryError
from app.session import Session
from app.tr import tr
from model.circuit import Part, Wire
from model.errors import ModelError
from model.lookup import kind_of, label, wire_label

NOTHING = "The circuit. Select a part or a wire to see what is known of it."


class Details(QScrollArea):
    """A page of rows, rebuilt for another selection, refreshed for a change."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.rows: dict[str, Row] = {}
        self._shown: tuple[str, ...] = ()
        self._fields: dict[str, Field] = {}
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(tr("Details"))
        self.operate: OperateBox | None = None
        self.now, self.found, self.behind = _lines("now"), _lines("found"), _lines("note")
        self.refresh()

    def refresh(self) -> None:
        """Show the selection as it is now."""
        record = self._record()
        fields = self._fields_of(record)
        shown = (record.id if record else "", *(f.key for f in fields))
        if shown != self._shown or not self.widget():
            self._shown = shown
            self._build(record, fields)
        self._fields = {f.key: f for f in fields}
        for key, row in self.rows.items():
            row.take(self._fields[key])
        _fill(self.behind, behind_lines(self.session.circuit, record) if record else [])
        self.refresh_now()

    def refresh_now(self) -> None:
        """Show what the latest analysis says of the selection."""
        record, analysis = self._record(), self.session.analysis
        if self.operate is not None:
            self.operate.refresh()
        _fill(self.now, now_lines(analysis, record) if record else [])
        _fill(self.found, found_lines(analysis, record.id) if record else [])

    def focus_on(self, key: str) -> None:
        """Put the cursor into a row and select its text."""
        row = self.rows.get(key)
        if row is not None:
            row.input.setFocus()
            self.ensureWidgetVisible(row)
            if hasattr(row.input, "selectAll"):
                row.input.selectAll()

    def _record(self) -> Part | Wire | None:
        """Return the one thing selected, None for nothing or for several."""
        if len(self.session.selection) != 1:
            return None
        key = next(iter(self.session.selection))
        circuit = self.session.circuit
        return circuit.parts.get(key) or circuit.wires.get(key)

    def _fields_of(self, record: Part | Wire | None) -> list[Field]:
        if isinstance(record, Part):
            return part_fields(self.session.circuit, record)
        if record is not None:
            return wire_fields(self.session.circuit, record)
        return [] if self.session.selection else circuit_fields(self.session.circuit)

    def _build(self, record: Part | Wire | None, fields: list[Field]) -> None:
        """Make the page anew."""
        page = QWidget()
        layout = QVBoxLayout(page)
        layout.setContentsMargins(12, 10, 12, 12)
        layout.setSpacing(7)
        layout.addWidget(self._heading(record))
        self.now, self.found, self.behind = _lines("now"), _lines("found"), _lines("note")
        layout.addWidget(self.found)
        layout.addWidget(self.now)
        self.operate = None
        if isinstance(record, Part) and self.session.position(record.id):
            self.operate = OperateBox(self.session, record.id)
            layout.addWidget(self.operate)
        self.rows = {}
        group = ""
        for field in fields:
            if field.group != group:
                group = field.group
                layout.addWidget(_group(group))
            layout.addWidget(self._row(field))
        if record is not None and behind_lines(self.session.circuit, record):
            layout.addWidget(_group("Behind the numbers"))
        layout.addWidget(self.behind)
        layout.addStretch(1)
        self.setWidget(page)

    def _row(self, field: Field) -> Row:
        row = Row(field)
        row.given.connect(self._on_given)
        self.rows[field.key] = row
        return row

    def _heading(self, record: Part | Wire | None) -> QLabel:
        heading = QLabel(self._title(record))
        heading.setWordWrap(True)
        heading.setTextFormat(Qt.TextFormat.PlainText)
        heading.setObjectName("heading" if record else "soft")
        return heading

    def _title(self, record: Part | Wire | None) -> str:
        if isinstance(record, Part):
            return f"{label(record)} · {tr(kind_of(self.session.circuit, record).title)}"
        if record is not None:
            return f"{wire_label(record)} · {tr('Wire')}"
        count = len(self.session.selection)
        return tr("{count} things are selected.", count=count) if count else tr(NOTHING)

    def _on_given(self, key: str, text: str) -> None:
        """Make what was typed a change, or say under the row why it cannot be."""
        field = self._fields[key]
        try:
            change = field.setter(self.session.circuit, text)
        except (ModelError, EntryError) as error:
            self.rows[key].tell(str(error), wrong=True)
            return
        self.session.do(change)


def _group(title: str) -> QLabel:
    heading = QLabel(tr(title).upper())
    heading.setObjectName("group")
    return heading


def _lines(name: str) -> QLabel:
    """Return a label for some lines of text that may be copied."""
    label = QLabel()
    label.setObjectName(name)
    label.setWordWrap(True)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    label.hide()
    return label


def _fill(label: QLabel, lines: list[str]) -> None:
    """Write lines into a label; without any it is not there."""
    label.setText("\n".join(map(tr, lines)))
    label.setVisible(bool(lines))
