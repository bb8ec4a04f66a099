"""The page of Details: heading, what holds now, rows by group, what is behind the numbers.

Making its widgets costs far more than writing into them, so a page serves all things that have
the same rows.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from app.docks.fields import Field
from app.docks.operate import OperateBox
from app.docks.rows import Row
from app.session import Session
from app.tr import tr


@dataclass(frozen=True, slots=True)
class Shape:
    """What a page is made for: its rows (key, title, whether a list, group), and what else it has.

    `thing` says whether it is of a part or wire, `control` whether that has positions.
    """

    rows: tuple[tuple[str, str, bool, str], ...]
    thing: bool
    control: bool


def shape_of(fields: Sequence[Field], thing: bool, control: bool) -> Shape:
    """Return the shape that these fields need."""
    return Shape(tuple((f.key, f.title, bool(f.choices), f.group) for f in fields), thing, control)


class Page(QWidget):
    """The widgets of one shape; what they say is given to them."""

    given = Signal(str, str)
    """The key of a row, and what was typed or chosen there."""

    def __init__(self, session: Session, shape: Shape, fields: Sequence[Field]) -> None:
        super().__init__()
        self.heading = QLabel()
        self.heading.setWordWrap(True)
        self.heading.setTextFormat(Qt.TextFormat.PlainText)
        self.heading.setObjectName("heading" if shape.thing else "soft")
        self.now, self.found, self.behind = _lines("now"), _lines("found"), _lines("note")
        self.operate = OperateBox(session) if shape.control else None
        self.rows: dict[str, Row] = {}
        self._behind_group = _group("Behind the numbers")
        self._lay_out(fields)

    def show_fields(self, title: str, fields: Sequence[Field], behind: Sequence[str]) -> None:
        """Write what is known of a thing of this shape."""
        self.heading.setText(title)
        for field in fields:
            self.rows[field.key].take(field)
        self._behind_group.setVisible(bool(behind))
        fill(self.behind, behind)

    def leave(self, give: bool) -> None:
        """Give what is typed in a row, or drop it: another thing is to be shown."""
        for row in self.rows.values():
            row.leave(give)

    def focused(self) -> str:
        """Return the key of the row that has the keys, "" for none."""
        return next((k for k, row in self.rows.items() if row.input.hasFocus()), "")

    def _lay_out(self, fields: Sequence[Field]) -> None:
        layout = QVBoxLayout(self)
        layout.setContentsMargins(12, 10, 12, 12)
        layout.setSpacing(7)
        for widget in (self.heading, self.found, self.now, self.operate):
            if widget is not None:
                layout.addWidget(widget)
        group = ""
        for field in fields:
            if field.group != group:
                group = field.group
                layout.addWidget(_group(group))
            row = self.rows[field.key] = Row(field)
            row.given.connect(self.given)
            layout.addWidget(row)
        layout.addWidget(self._behind_group)
        layout.addWidget(self.behind)
        layout.addStretch(1)


def fill(label: QLabel, lines: Sequence[str]) -> None:
    """Write lines into a label; without any it is not there."""
    label.setText("\n".join(map(tr, lines)))
    label.setVisible(bool(lines))


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
