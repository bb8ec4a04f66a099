"""Details: what is known of the selected part or wire, and where each default is from."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QApplication, QFrame, QLabel, QScrollArea, QVBoxLayout, QWidget

from app.docks.behind import behind_lines
from app.docks.circuit_fields import circuit_fields
from app.docks.fields import Field, part_fields, wire_fields
from app.docks.now import found_lines, now_lines
from app.docks.operate import OperateBox
from app.docks.page import Page, Shape, fill, shape_of
from app.docks.rows import Row
from app.entry.errors import EntryError
from app.session import Session
from app.tr import tr
from model.circuit import Part, Wire
from model.errors import ModelError
from model.lookup import kind_of, label, wire_label

NOTHING = "The circuit. Select a part or a wire to see what is known of it."
ROWS = 60
"""Rows of the pages kept for when things of their shape are selected again; about 100 kB each."""


class Details(QScrollArea):
    """A page of rows for the selection; it follows in the next turn, once for all that happened."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self._pages: dict[Shape, Page] = {}
        self._fields: dict[str, Field] = {}
        self._id, self._stale, self._stale_now = "", True, True
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.timeout.connect(self._on_later)
        self._all = QWidget()
        self._layout = QVBoxLayout(self._all)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self.setWidget(self._all)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(tr("Details"))
        self.catch_up()

    # What is shown, as it is now

    @property
    def rows(self) -> dict[str, Row]:
        """The rows by their keys."""
        return self._page().rows

    @property
    def operate(self) -> OperateBox | None:
        """The part of the page for a control, None where the selection is none."""
        return self._page().operate

    @property
    def now(self) -> QLabel:
        """What holds now."""
        return self._page().now

    @property
    def found(self) -> QLabel:
        """What the checks found."""
        return self._page().found

    @property
    def behind(self) -> QLabel:
        """What is behind the numbers."""
        return self._page().behind

    # What happens

    def refresh(self) -> None:
        """Take note that selection or circuit have changed; the page follows in the next turn."""
        self._stale = True
        self.refresh_now()

    def refresh_now(self) -> None:
        """Take note of a newer analysis; the page follows in the next turn."""
        self._stale_now = True
        self._later.start()

    def catch_up(self) -> None:
        """Show the selection as it is now, if that is not yet done."""
        self._later.stop()
        if self._stale:
            self._stale = False
            self._show()
        if self._stale_now:
            self._stale_now = False
            self._show_now()

    def focus_on(self, key: str) -> None:
        """Put the cursor into a row and select its text."""
        row = self.rows.get(key)
        if row is not None:
            row.input.setFocus()
            self.ensureWidgetVisible(row)
            if hasattr(row.input, "selectAll"):
                row.input.selectAll()

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with what happened while hidden."""
        super().showEvent(event)
        self.catch_up()

    def _on_later(self) -> None:
        if self.isVisible():
            self.catch_up()

    def _on_given(self, key: str, text: str) -> None:
        """Make what was typed a change, or say under the row why it cannot be."""
        field = self._fields[key]
        try:
            change = field.setter(self.session.circuit, text)
        except (ModelError, EntryError) as error:
            self._last().rows[key].tell(str(error), wrong=True)
            return
        self.session.do(change)

    # The page

    def _page(self) -> Page:
        self.catch_up()
        return self._last()

    def _last(self) -> Page:
        """Return the page shown: of those kept, the last."""
        return next(reversed(self._pages.values()))

    def _show(self) -> None:
        record = self._record()
        key = record.id if record else ""
        if key != self._id and self._pages:
            known = self.session.circuit.parts.keys() | self.session.circuit.wires.keys()
            self._last().leave(give=not self._id or self._id in known)
        fields = self._fields_of(record)
        control = isinstance(record, Part) and bool(self.session.position(record.id))
        page = self._page_for(shape_of(fields, record is not None, control), fields)
        self._fields = {f.key: f for f in fields}
        behind = behind_lines(self.session.circuit, record) if record else []
        page.show_fields(self._title(record), fields, behind)
        if page.operate is not None:
            page.operate.part_id = key
        if key != self._id:
            self.verticalScrollBar().setValue(0)
        self._id = key

    def _show_now(self) -> None:
        record, analysis, page = self._record(), self.session.analysis, self._last()
        if page.operate is not None:
            page.operate.refresh()
        fill(page.now, now_lines(analysis, record) if record else [])
        fill(page.found, found_lines(analysis, record.id) if record else [])

    def _page_for(self, shape: Shape, fields: list[Field]) -> Page:
        """Return the page of a shape and show it in place of the one before; it takes the keys."""
        before = self._last() if self._pages else None
        page = self._pages.pop(shape, None) or self._make(shape, fields)
        self._pages[shape] = page
        if before is not None and before is not page:
            self._exchange(before, page)
        self._let_go()
        return page

    def _let_go(self) -> None:
        """Let the pages go that were selected longest ago, where all have more rows than kept."""
        counts = {shape: len(page.rows) for shape, page in self._pages.items()}
        for stale in list(counts)[:-1]:
            if sum(counts.values()) > ROWS:
                self._pages.pop(stale).deleteLater()
                del counts[stale]

    def _make(self, shape: Shape, fields: list[Field]) -> Page:
        page = Page(self.session, shape, fields)
        page.given.connect(self._on_given)
        self._layout.addWidget(page)
        return page

    def _exchange(self, before: Page, page: Page) -> None:
        """Show one page and hide the other; the keys stay with Details if they were there."""
        keys, key = QApplication.focusWidget(), before.focused()
        page.show()
        if keys is not None and before.isAncestorOf(keys):
            row = page.rows.get(key)
            (row.input if row else self).setFocus()
        before.hide()

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

    def _title(self, record: Part | Wire | None) -> str:
        if isinstance(record, Part):
            return f"{label(record)} · {tr(kind_of(self.session.circuit, record).title)}"
        if record is not None:
            return f"{wire_label(record)} · {tr('Wire')}"
        count = len(self.session.selection)
        return tr("{count} things are selected.", count=count) if count else tr(NOTHING)
