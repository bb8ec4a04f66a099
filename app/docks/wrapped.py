"""Rows of a list, and labels, that are as high as their words need at the width there is."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QLabel,
    QStyledItemDelegate,
    QStyleOptionViewItem,
)

BESIDE, LEAST_WIDTH, PADDING = 64, 40, 10
"""Pixels that picture and edges take of a row's width, the least left for words, and above."""


class Wrapped(QStyledItemDelegate):
    """Measures a row by its words; the style's own measure forgets the edges of a row.

    `role` marks the rows that are meant, other rows keep their own measure; `row` is the least
    height.
    """

    def __init__(self, view: QAbstractItemView, role: int, row: int) -> None:
        super().__init__(view)
        self._view, self._role, self._row = view, role, row

    def sizeHint(
        self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> QSize:
        """Return the height that a row's words need in as many lines as the width asks for."""
        if not index.data(self._role):
            return super().sizeHint(option, index)
        width = max(self._view.viewport().width() - BESIDE, LEAST_WIDTH)
        flags = Qt.TextFlag.TextWordWrap
        said = option.fontMetrics.boundingRect(QRect(0, 0, width, 9999), flags, str(index.data()))
        return QSize(0, max(self._row, said.height() + PADDING))


class WholeLabel(QLabel):
    """Wraps its words and is never lower than they need; a layout alone takes height from it."""

    def __init__(self) -> None:
        super().__init__()
        self.setWordWrap(True)

    def setText(self, text: str) -> None:
        """Show other words."""
        super().setText(text)
        self._take_height()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Take the height for the new width."""
        super().resizeEvent(event)
        self._take_height()

    def _take_height(self) -> None:
        self.setMinimumHeight(max(self.heightForWidth(self.width()), 0))
