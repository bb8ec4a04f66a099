"""What stands beside the cell in the making: a list of what fits, and a sentence of what is wrong.

Both float over the window; one of each serves every cell of a table.
"""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtGui import QAccessible, QAccessibleEvent
from PySide6.QtWidgets import QLabel, QListWidget, QListWidgetItem, QWidget

from app.entry.suggest import Suggestion
from app.theme import Look, Theme
from app.tr import tr

ROWS = 7
GAP = 3
LEAST, MOST = 190, 380
TEXT = Qt.ItemDataRole.UserRole
STYLE = """
QListWidget {{ background: {card}; color: {ink}; border: 1px solid {chosen}; border-radius: 6px;
  padding: 2px; }}
QListWidget::item {{ border-radius: 4px; padding: 2px 6px; border: none; }}
QListWidget::item:selected {{ background: {panel_alt}; color: {ink}; border: none; }}
QLabel {{ background: {card}; color: {danger}; border: 1px solid {danger}; border-radius: 6px;
  padding: 5px 8px; }}
"""


class Beside(QWidget):
    """Owns the list and the sentence; is itself never seen."""

    def __init__(self, owner: QWidget, look: Look) -> None:
        super().__init__(owner)
        self.hide()
        self.look = look
        self.list, self.said = QListWidget(self), QLabel(self)
        self.list.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.list.setAccessibleName(tr("What can be typed here"))
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.said.setAccessibleName(tr("Why this cannot be"))
        self.said.setWordWrap(True)
        self.said.setTextFormat(Qt.TextFormat.PlainText)
        self._chosen = False

    @property
    def chosen(self) -> str:
        """The text chosen with Down, "" for none."""
        return self.in_hand if self._chosen else ""

    @property
    def in_hand(self) -> str:
        """The text that stands marked in the list, "" for none."""
        item = None if self.list.isHidden() else self.list.currentItem()
        return str(item.data(TEXT)) if item is not None else ""

    def offer(self, found: list[Suggestion], cell: QWidget, typed: str) -> None:
        """Show what fits; the first is marked where it begins as typed."""
        self._chosen = False
        self.list.clear()
        for suggestion in found:
            self.list.addItem(_item(suggestion))
        if not found:
            self.list.hide()
            return
        begun = bool(typed.strip()) and _begins(found[0], typed.strip())
        self.list.setCurrentRow(0 if begun else -1)
        self._dress(self.list, cell.window())
        self._show(self.list, cell, self._size(len(found)))

    def step(self, by: int) -> None:
        """Choose the next one that fits."""
        if self.list.isHidden():
            return
        row = self.list.currentRow() if self._chosen else (-1 if by > 0 else 0)
        row = max(-1, min(row + by, self.list.count() - 1))
        self._chosen = row >= 0
        self.list.setCurrentRow(row)

    def refuse(self, sentence: str, cell: QWidget) -> None:
        """Say what is wrong, to the eye and to a screen reader; the list gives way to it."""
        self.list.hide()
        self.said.setText(tr(sentence))
        self._dress(self.said, cell.window())
        self._show(self.said, cell, QSize(MOST, self.said.heightForWidth(MOST)))
        QAccessible.updateAccessibility(QAccessibleEvent(self.said, QAccessible.Event.Alert))

    def clear_refusal(self) -> None:
        """Take the sentence away."""
        self.said.hide()

    def close_all(self) -> None:
        """Take both away; they come back under their owner."""
        for widget in (self.list, self.said):
            widget.hide()
            widget.setParent(self)
        self._chosen = False

    def _size(self, count: int) -> QSize:
        row = max(self.list.sizeHintForRow(0), 20)
        width = max(LEAST, min(self.list.sizeHintForColumn(0) + 30, MOST))
        return QSize(width, min(count, ROWS) * row + 8)

    def _dress(self, widget: QWidget, window: QWidget) -> None:
        """Put a widget over the window, in the theme's colours."""
        if widget.parentWidget() is not window:
            widget.setParent(window)
            widget.setStyleSheet(style_of(self.look.theme))
            widget.ensurePolished()

    def _show(self, widget: QWidget, cell: QWidget, size: QSize) -> None:
        """Put a widget below the cell, or above it where there is no room."""
        window = cell.window()
        widget.resize(size)
        widget.move(_spot(QRect(cell.mapTo(window, QPoint()), cell.size()), size, window.size()))
        widget.show()
        widget.raise_()


def style_of(theme: Theme) -> str:
    """Return the style of list and sentence in a theme."""
    return STYLE.format(**{name: getattr(theme, name) for name in theme.__slots__})


def _spot(cell: QRect, size: QSize, room: QSize) -> QPoint:
    below = cell.bottom() + GAP
    fits = below + size.height() <= room.height()
    y = below if fits else cell.top() - GAP - size.height()
    return QPoint(max(0, min(cell.left(), room.width() - size.width())), max(0, y))


def _begins(suggestion: Suggestion, typed: str) -> bool:
    small = typed.casefold()
    return suggestion.text.casefold().startswith(small) or small in suggestion.what.casefold()


def _item(suggestion: Suggestion) -> QListWidgetItem:
    what = tr(suggestion.what)
    item = QListWidgetItem(f"{suggestion.text}    {what}" if what else suggestion.text)
    item.setData(TEXT, suggestion.text)
    spoken = f"{suggestion.text}, {what}" if what else suggestion.text
    item.setData(Qt.ItemDataRole.AccessibleTextRole, spoken)
    return item
