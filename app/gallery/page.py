"""The gallery: every example with its picture, and the templates, in place of the sheet."""

from __future__ import annotations

import logging
from pathlib import Path

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtGui import QColor, QIcon, QKeyEvent, QPixmap
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.gallery.templates import TEMPLATES
from app.gallery.thumbs import SIZE, paper_of, thumb
from app.theme import LIGHT, Theme
from app.tr import tr
from model.errors import ModelError

log = logging.getLogger(__name__)
PATH, TEMPLATE = Qt.ItemDataRole.UserRole, Qt.ItemDataRole.UserRole + 1
ABOUT = (
    "Examples open as a circuit of their own; templates are dropped on the sheet that is open. "
    "Enter or a double click takes one, Esc goes back."
)

LINES = 3
"""Of text below a picture."""


class Pictures(QListWidget):
    """A grid of pictures; Enter takes the current one."""

    taken = Signal(QListWidgetItem)

    def __init__(self, name: str) -> None:
        super().__init__()
        self.setAccessibleName(tr(name))
        self.setViewMode(QListWidget.ViewMode.IconMode)
        self.setIconSize(SIZE)
        below = LINES * self.fontMetrics().lineSpacing() + 10
        self.setGridSize(SIZE + QSize(24, below))
        self.setMovement(QListWidget.Movement.Static)
        self.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.setWordWrap(True)
        self.setTextElideMode(Qt.TextElideMode.ElideNone)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setFrameShape(QListWidget.Shape.NoFrame)
        self.itemDoubleClicked.connect(self.taken)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take the current picture with Enter; the page has Esc."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.currentItem():
            self.taken.emit(self.currentItem())
        elif event.key() == Qt.Key.Key_Escape:
            event.ignore()
        else:
            super().keyPressEvent(event)


class Gallery(QWidget):
    """The page; its pictures are made one a turn of the event loop while it is shown."""

    opened = Signal(object)
    """The path of an example that was taken."""
    laid = Signal(str)
    """The key of a template that was taken."""
    closed = Signal()

    def __init__(self, folder: Path, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.list = Pictures("Examples and templates")
        self._folder, self._waiting = folder, list[QListWidgetItem]()
        self._paper = LIGHT
        self._next = QTimer(self)
        self._next.setInterval(0)
        self._next.timeout.connect(self._on_next)
        self.list.taken.connect(self._on_taken)
        about, close = QLabel(tr(ABOUT)), QToolButton()
        about.setObjectName("soft")
        about.setWordWrap(True)
        close.setObjectName("act")
        close.setText(tr("Back to the sheet"))
        close.setAccessibleName(tr("Back to the sheet"))
        close.clicked.connect(self.closed)
        head = QHBoxLayout()
        head.addWidget(about, 1)
        head.addWidget(close)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(14, 10, 14, 0)
        layout.addLayout(head)
        layout.addWidget(self.list)

    @property
    def busy(self) -> bool:
        """Whether pictures are still to be made."""
        return bool(self._waiting)

    def open(self, theme: Theme = LIGHT) -> None:
        """Show the page, give it the keys, and make the pictures that are missing."""
        if not self.list.count():
            self._paper = paper_of(theme)
            self._fill()
        self.show()
        self.list.setFocus()
        self.follow(theme)

    def follow(self, theme: Theme) -> None:
        """Make the pictures on the paper of a theme; the keys stay where they are."""
        if paper_of(theme) is not self._paper:
            self._waiting = [self.list.item(row) for row in range(self.list.count())]
        self._paper = paper_of(theme)
        if self._waiting:
            self._next.start()

    def leave(self) -> None:
        """Put the page away; pictures not made yet wait for the next time."""
        self._next.stop()
        self.hide()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go back to the sheet with Esc."""
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
        else:
            super().keyPressEvent(event)

    def _fill(self) -> None:
        """List templates, which are few, then examples; empty paper in place of their pictures."""
        blank = QPixmap(SIZE)
        blank.fill(QColor(Qt.GlobalColor.transparent))
        for made in TEMPLATES:
            self._item(blank, tr("Template: {title}", title=tr(made.title)), made.path, made.key)
            self.list.item(self.list.count() - 1).setToolTip(tr(made.about))
        for path in sorted(self._folder.glob("*.voltwalk")):
            self._item(blank, path.stem.replace("-", " ").capitalize(), path, "")
        self.list.setCurrentRow(0)

    def _item(self, blank: QPixmap, title: str, path: Path, template: str) -> None:
        item = QListWidgetItem(QIcon(blank), title, self.list)
        item.setData(PATH, path)
        item.setData(TEMPLATE, template)
        item.setTextAlignment(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop)
        self._waiting.append(item)

    def _on_next(self) -> None:
        """Make one picture; a file that does not open keeps its empty paper and says why."""
        if not self._waiting:
            self._next.stop()
            return
        item = self._waiting.pop(0)
        try:
            title, image = thumb(item.data(PATH), self._paper)
        except (ModelError, OSError) as error:
            log.info("no picture: %s", error)
            item.setToolTip(str(error))
            return
        drawn = QPixmap.fromImage(image)
        icon = QIcon(drawn)
        icon.addPixmap(drawn, QIcon.Mode.Selected)
        item.setIcon(icon)
        if not item.data(TEMPLATE):
            item.setText(title)

    def _on_taken(self, item: QListWidgetItem) -> None:
        if item.data(TEMPLATE):
            self.laid.emit(str(item.data(TEMPLATE)))
        else:
            self.opened.emit(item.data(PATH))
