"""The tabs of the sheets: one a sheet, renamed in place, put in order by drag."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPoint, Qt, Signal
from PySide6.QtGui import QContextMenuEvent, QFocusEvent, QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QLineEdit, QTabBar, QWidget

from app.tr import tr
from model.circuit import Circuit

OWN_KEYS = (Qt.Key.Key_F2, Qt.Key.Key_Delete)
"""Keys that mean the sheet, and not what is selected on it, while the tabs have the focus."""


def names_of(circuit: Circuit) -> dict[str, str]:
    """Return what people call the sheets, by id, in their order."""
    return {
        k: s.name or tr("Sheet {number}", number=i)
        for i, (k, s) in enumerate(circuit.sheets.items(), 1)
    }


class NameEdit(QLineEdit):
    """Where a sheet's name is typed; Enter or leaving takes it, Esc does not."""

    taken = Signal(str)
    left = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take or leave the name."""
        if event.key() == Qt.Key.Key_Escape:
            self.hide()
            self.left.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._take()
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Take what was typed."""
        super().focusOutEvent(event)
        self._take()

    def _take(self) -> None:
        if not self.isHidden():
            self.hide()
            self.taken.emit(self.text())


class SheetTabs(QTabBar):
    """Tabs that ask for things and change nothing themselves; the data of a tab is a sheet's id."""

    chosen = Signal(str)
    renamed = Signal(str, str)
    """The id and the new name."""
    ordered = Signal(str, int)
    """The id of a sheet that was dragged, and its position among the others."""
    removal_asked = Signal()
    menu_asked = Signal(QPoint)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("sheets")
        self.setAccessibleName(tr("Sheets"))
        self.setAccessibleDescription(tr("F2 renames, Delete removes, arrows show another sheet"))
        self.setShape(QTabBar.Shape.RoundedSouth)
        self.setDocumentMode(True)
        self.setDrawBase(False)
        self.setExpanding(False)
        self.setMovable(True)
        self.setElideMode(Qt.TextElideMode.ElideRight)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._filling = False
        self._renaming = ""
        self.edit = NameEdit(self)
        self.edit.setAccessibleName(tr("Name of the sheet"))
        self.edit.setStyleSheet("min-height: 0; padding: 0 4px;")
        self.edit.hide()
        self.edit.taken.connect(self._on_taken)
        self.edit.left.connect(self._on_left)
        self.currentChanged.connect(self._on_current)

    def ids(self) -> list[str]:
        """Return the sheets in the order of the tabs."""
        return [str(self.tabData(i)) for i in range(self.count())]

    def show_sheets(self, names: dict[str, str], current: str, told: dict[str, str]) -> None:
        """Show these sheets; `told` is what else is said of them where the mouse rests."""
        self._filling = True
        if self.ids() != list(names):
            self.edit.hide()
            while self.count():
                self.removeTab(0)
            for key in names:
                self.setTabData(self.addTab(""), key)
        for at, (key, name) in enumerate(names.items()):
            shown = name.replace("&", "&&")
            if self.tabText(at) != shown:
                self.setTabText(at, shown)
            self.setAccessibleTabName(at, name)
            self.setTabToolTip(at, told.get(key, ""))
        if current in names:
            self.setCurrentIndex(list(names).index(current))
        self._filling = False

    def rename(self) -> None:
        """Let the name of the sheet shown be typed in its tab."""
        at = self.currentIndex()
        if at < 0:
            return
        self._renaming = str(self.tabData(at))
        self.edit.setText(self.tabText(at).replace("&&", "&"))
        self.edit.setGeometry(self.tabRect(at).adjusted(1, 1, 60, -1))
        self.edit.show()
        self.edit.selectAll()
        self.edit.setFocus()

    def event(self, event: QEvent) -> bool:
        """Keep F2 and Delete for the sheet."""
        override = event.type() == QEvent.Type.ShortcutOverride
        if override and isinstance(event, QKeyEvent) and event.key() in OWN_KEYS:
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Rename with F2, remove with Delete."""
        if event.key() == Qt.Key.Key_F2:
            self.rename()
        elif event.key() == Qt.Key.Key_Delete:
            self.removal_asked.emit()
        else:
            super().keyPressEvent(event)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Rename the tab under the mouse."""
        at = self.tabAt(event.position().toPoint())
        if at >= 0:
            self.setCurrentIndex(at)
            self.rename()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Tell of a tab that was dragged elsewhere."""
        super().mouseReleaseEvent(event)
        at = self.currentIndex()
        if at >= 0:
            self.ordered.emit(str(self.tabData(at)), at)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Offer what can be done with the sheet under the mouse."""
        at = self.tabAt(event.pos())
        if at >= 0:
            self.setCurrentIndex(at)
        self.menu_asked.emit(event.globalPos())

    def _on_current(self, at: int) -> None:
        if not self._filling and at >= 0:
            self.chosen.emit(str(self.tabData(at)))

    def _on_taken(self, name: str) -> None:
        if self._renaming:
            key, self._renaming = self._renaming, ""
            self.renamed.emit(key, name)

    def _on_left(self) -> None:
        self._renaming = ""
        self.setFocus()
