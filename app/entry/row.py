"""A row of the list under the typed line: the word, what it is, and the key that takes it."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QSize, Qt
from PySide6.QtGui import QFontMetrics, QPainter, QPalette
from PySide6.QtWidgets import QApplication, QStyle, QStyledItemDelegate, QStyleOptionViewItem

PAD = 8
"""Above and below the letters of a row together, in pixels."""
INSET, BETWEEN = 9, 14
CHOSEN = "chosen"
"""Property of the list: whether the row in hand was chosen, so that Enter takes it."""
WHAT = Qt.ItemDataRole.UserRole + 1
_Index = QModelIndex | QPersistentModelIndex


class EntryRow(QStyledItemDelegate):
    """Paints the word in ink and what it is softly beside it, in one column for all rows."""

    column = 0
    """Where the second column starts, in pixels from the first."""

    def sizeHint(self, option: QStyleOptionViewItem, index: _Index) -> QSize:
        """Give every row one height."""
        return QSize(0, row_height(option.fontMetrics))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: _Index) -> None:
        """Paint a row."""
        self.initStyleOption(option, index)
        option.text = ""
        widget = option.widget
        style = widget.style() if widget else QApplication.style()
        style.drawControl(QStyle.ControlElement.CE_ItemViewItem, option, painter, widget)
        area: QRect = option.rect.adjusted(INSET, 0, -INSET, 0)
        palette: QPalette = option.palette
        metrics: QFontMetrics = option.fontMetrics
        soft = palette.color(QPalette.ColorRole.PlaceholderText)
        key = self._key_of(option)
        painter.save()
        painter.setFont(option.font)
        painter.setPen(soft)
        painter.drawText(area, _RIGHT, key)
        middle = area.adjusted(self.column + BETWEEN, 0, -metrics.horizontalAdvance(key) - 6, 0)
        painter.drawText(middle, _LEFT, _cut(metrics, str(index.data(WHAT)), middle.width()))
        painter.setPen(palette.color(QPalette.ColorRole.Text))
        painter.drawText(area, _LEFT, _cut(metrics, str(index.data()), area.width()))
        painter.restore()

    def _key_of(self, option: QStyleOptionViewItem) -> str:
        """Return the key that takes a row: Tab the one in hand, Enter one that was chosen."""
        state = option.state
        if not state & QStyle.StateFlag.State_Selected:
            return ""
        return "Enter" if option.widget.property(CHOSEN) else "Tab"


_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter


def row_height(metrics: QFontMetrics) -> int:
    """Return the height of a row in pixels."""
    return metrics.height() + PAD


def _cut(metrics: QFontMetrics, text: str, width: int) -> str:
    return metrics.elidedText(text, Qt.TextElideMode.ElideRight, width)
