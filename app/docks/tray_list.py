"""The list of the Tray: a row is carried off with the mouse, chosen with Enter, starred."""

from __future__ import annotations

from PySide6.QtCore import (
    QModelIndex,
    QPersistentModelIndex,
    QPoint,
    QPointF,
    QRect,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter
from PySide6.QtWidgets import (
    QApplication,
    QListWidget,
    QListWidgetItem,
    QStyleOptionViewItem,
    QWidget,
)

from app.docks.wrapped import Wrapped
from app.gallery.templates import MARK
from app.tr import tr

KEY = Qt.ItemDataRole.UserRole
STARRED = Qt.ItemDataRole.UserRole + 1
STAR_WIDTH = 26
ROW = 36
"""The least height of a row."""


class _Star(Wrapped):
    """Paints a star at the right of a favourite, and an empty one on the current row."""

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        """Paint the row, then its star."""
        super().paint(painter, option, index)
        starred, current = bool(index.data(STARRED)), index == self.parent().currentIndex()
        if not index.data(KEY) or not (starred or current):
            return
        area = star_area(option.rect)
        painter.save()
        painter.setPen(option.palette.color(option.palette.ColorRole.WindowText))
        painter.drawText(area, Qt.AlignmentFlag.AlignCenter, "★" if starred else "☆")
        painter.restore()

    def parent(self) -> TrayList:
        """Return the list."""
        found = super().parent()
        assert isinstance(found, TrayList)
        return found


class TrayList(QListWidget):
    """The list of kinds; a kind is carried off with the mouse or chosen with Enter."""

    carried = Signal(str, QPointF)
    dropped = Signal(QPointF)
    laid = Signal(str, QPointF)
    """A template was let go over a point of the screen."""
    given_up = Signal()
    """Escape while something is carried."""
    chosen = Signal(str)
    starred = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._pressed: QPoint | None = None
        self._carrying = False
        self.setIconSize(QSize(30, 30))
        self.setSpacing(1)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setWordWrap(True)
        self.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.setTextElideMode(Qt.TextElideMode.ElideRight)
        self.setAccessibleName(tr("Parts"))
        self.setFrameShape(QListWidget.Shape.NoFrame)
        self.setItemDelegate(_Star(self, KEY, ROW))
        self.itemDoubleClicked.connect(self._on_double)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Star a part, or remember where it was taken hold of."""
        at = event.position().toPoint()
        item = self.itemAt(at)
        left = event.button() == Qt.MouseButton.LeftButton
        was = self.currentItem()
        super().mousePressEvent(event)
        self._pressed = at if item and left and key_of(item) else None
        star = item is not None and star_area(self.visualItemRect(item)).contains(at)
        if item and self._pressed and star and (item is was or item.data(STARRED)):
            self._pressed = None
            self.starred.emit(key_of(item))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Carry the part once the mouse has really moved."""
        if self._pressed is None:
            return
        away = (event.position().toPoint() - self._pressed).manhattanLength()
        self._carrying = self._carrying or away >= QApplication.startDragDistance()
        if self._carrying:
            self.setCursor(Qt.CursorShape.DragCopyCursor)
            if not self._template():
                self.carried.emit(key_of(self.currentItem()), event.globalPosition())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go of what is carried."""
        if self._carrying and self._template():
            self.laid.emit(key_of(self.currentItem()), event.globalPosition())
        elif self._carrying:
            self.dropped.emit(event.globalPosition())
        self._pressed, self._carrying = None, False
        self.unsetCursor()
        super().mouseReleaseEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Choose the part with Enter; give up with Escape what is carried."""
        if event.key() == Qt.Key.Key_Escape and self._carrying:
            self._pressed, self._carrying = None, False
            self.unsetCursor()
            self.given_up.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and key_of(self.currentItem()):
            self.chosen.emit(key_of(self.currentItem()))
        else:
            super().keyPressEvent(event)

    def _template(self) -> bool:
        return key_of(self.currentItem()).startswith(MARK)

    def _on_double(self, item: QListWidgetItem) -> None:
        if key_of(item):
            self.chosen.emit(key_of(item))


def star_area(row: QRect) -> QRect:
    """Return where the star of a row stands."""
    return QRect(row.right() - STAR_WIDTH, row.top(), STAR_WIDTH, row.height())


def key_of(item: QListWidgetItem | None) -> str:
    """Return the kind of a row, "" for a heading or none."""
    return str(item.data(KEY) or "") if item else ""
