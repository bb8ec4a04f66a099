"""The Tray: every kind of part, by family, found by typing, taken by dragging or Enter."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QPointF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent
from PySide6.QtWidgets import (
    QApplication,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QVBoxLayout,
    QWidget,
)

from app.pictures.loader import kind_icon
from app.session import Session
from model.kinds import KINDS, Kind

FAMILIES = {
    "supply": "Supply",
    "protection": "Protection",
    "control": "Controls",
    "relay": "Relays",
    "load": "Loads",
    "joint": "Joints",
    "ground": "Ground",
    "diode": "Diode and resistor",
    "own": "Your own parts",
}
KEY = Qt.ItemDataRole.UserRole


class TrayList(QListWidget):
    """The list of kinds; a kind is carried off with the mouse or chosen with Enter."""

    carried = Signal(str, QPointF)
    dropped = Signal(QPointF)
    chosen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._pressed: QPoint | None = None
        self._carrying = False
        self.setIconSize(QSize(30, 30))
        self.setSpacing(1)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setTextElideMode(Qt.TextElideMode.ElideRight)
        self.setAccessibleName("Parts")
        self.setFrameShape(QListWidget.Shape.NoFrame)
        self.itemDoubleClicked.connect(self._on_double)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Remember where a part was taken hold of."""
        super().mousePressEvent(event)
        item = self.itemAt(event.position().toPoint())
        left = event.button() == Qt.MouseButton.LeftButton
        self._pressed = event.position().toPoint() if item and left and key_of(item) else None

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Carry the part once the mouse has really moved."""
        if self._pressed is None:
            return
        away = (event.position().toPoint() - self._pressed).manhattanLength()
        self._carrying = self._carrying or away >= QApplication.startDragDistance()
        if self._carrying:
            self.setCursor(Qt.CursorShape.DragCopyCursor)
            self.carried.emit(key_of(self.currentItem()), event.globalPosition())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go of what is carried."""
        if self._carrying:
            self.dropped.emit(event.globalPosition())
        self._pressed, self._carrying = None, False
        self.unsetCursor()
        super().mouseReleaseEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Choose the part with Enter."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and key_of(self.currentItem()):
            self.chosen.emit(key_of(self.currentItem()))
        else:
            super().keyPressEvent(event)

    def _on_double(self, item: QListWidgetItem) -> None:
        if key_of(item):
            self.chosen.emit(key_of(item))


class Tray(QWidget):
    """The list with its search line."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.search = QLineEdit()
        self.search.setPlaceholderText("Find a part")
        self.search.setAccessibleName("Find a part")
        self.search.setClearButtonEnabled(True)
        self.list = TrayList()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(8, 8, 8, 0)
        layout.addWidget(self.search)
        layout.addWidget(self.list)
        self.search.textChanged.connect(self._on_search)
        self.search.returnPressed.connect(self._on_enter)
        self._theme = ""
        self.refresh()

    def refresh(self) -> None:
        """Fill the list: kinds of the program and of the circuit, in the theme's ink."""
        theme = self.session.look.theme
        self._theme = theme.name
        self.list.clear()
        own = [o.kind for o in self.session.circuit.own_kinds.values()]
        for family, title in FAMILIES.items():
            kinds = [k for k in (*KINDS.values(), *own) if k.family == family]
            if kinds:
                self._heading(title)
            for kind in kinds:
                self._row(kind)
        self._on_search(self.search.text())

    def on_looked(self) -> None:
        """Take the icons of another theme."""
        if self.session.look.theme.name != self._theme:
            self.refresh()

    def _heading(self, title: str) -> None:
        item = QListWidgetItem(title.upper(), self.list)
        font = item.font()
        font.setBold(True)
        font.setPointSizeF(font.pointSizeF() * 0.78)
        item.setFont(font)
        item.setForeground(self.session.look.theme.colour("ink_soft"))
        item.setFlags(Qt.ItemFlag.NoItemFlags)
        item.setSizeHint(QSize(0, 28))

    def _row(self, kind: Kind) -> None:
        icon = kind_icon(kind.picture, self.session.look.theme.colour("ink"))
        item = QListWidgetItem(icon, kind.title, self.list)
        item.setData(KEY, kind.key)
        item.setToolTip(kind.about or kind.title)

    def _on_search(self, text: str) -> None:
        """Show the kinds whose title or other names hold the text."""
        wanted = text.strip().casefold()
        first = None
        for row in range(self.list.count()):
            item = self.list.item(row)
            fits = self._fits(item, wanted)
            item.setHidden(not fits)
            first = first or (item if fits and key_of(item) else None)
        if first is not None and wanted:
            self.list.setCurrentItem(first)

    def _fits(self, item: QListWidgetItem, wanted: str) -> bool:
        key = key_of(item)
        if not key:
            return not wanted
        kind = KINDS.get(key)
        words = (item.text(), *(kind.aliases if kind else ()))
        return any(wanted in w.casefold() for w in words)

    def _on_enter(self) -> None:
        if key_of(self.list.currentItem()):
            self.list.chosen.emit(key_of(self.list.currentItem()))


def key_of(item: QListWidgetItem | None) -> str:
    """Return the kind of a row, "" for a heading or none."""
    return str(item.data(KEY) or "") if item else ""
