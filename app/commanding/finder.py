"""The command finder: a line, and under it the commands that it may mean."""

from __future__ import annotations

from PySide6.QtCore import QPoint, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHeaderView,
    QMainWindow,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
)

from app.actions.made import Actions
from app.actions.spec import ActionSpec
from app.commanding.able import why_not
from app.commanding.keymap import KeyMap, shown
from app.commanding.search import find_commands, menu_of, plain
from app.keeping import Keep
from app.session import Session
from app.slim.bar import SlimEdit
from app.tr import tr

LAST, MOST_LAST = "commands/last", 12
ROWS, EMS, EDGE = 9, 60, 10
"""Rows shown, the width in widths of an M, and the distance from what lies around."""
KEY = Qt.ItemDataRole.UserRole


class CommandFinder(QFrame):
    """Floats over the sheet while it is open; Enter does the command in hand."""

    chosen = Signal(str)
    left = Signal()

    def __init__(
        self, session: Session, actions: Actions, keymap: KeyMap, keep: Keep, parent: QMainWindow
    ) -> None:
        super().__init__(parent)
        self._over, self._session = parent, session
        self._actions, self._keymap, self._keep = actions, keymap, keep
        self.edit, self.list = SlimEdit(), QTreeWidget()
        self._dress()
        self.edit.textEdited.connect(self._on_text)
        self.edit.stepped.connect(self._on_step)
        self.edit.escaped.connect(self.leave)
        self.edit.returnPressed.connect(self._on_return)
        self.list.itemClicked.connect(self._on_clicked)
        self.hide()

    def open(self) -> None:
        """Show the finder with the commands used last, and take the keys."""
        self.edit.clear()
        self._fill("")
        room = self._over.width() - 2 * EDGE
        self.setFixedWidth(min(EMS * self.fontMetrics().horizontalAdvance("M"), room))
        self.adjustSize()
        self.move((self._over.width() - self.width()) // 2, self._top() + EDGE)
        self.show()
        self.raise_()
        self.edit.setFocus()

    def _top(self) -> int:
        """Return where the sheet begins, in the window over which the finder floats."""
        below = self._over.centralWidget()
        return below.mapTo(self._over, QPoint(0, 0)).y() if below else 0

    def leave(self) -> None:
        """Close the finder."""
        self.hide()
        self.left.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Let no key that the line has used up go on to the sheet."""
        event.accept()

    def _dress(self) -> None:
        self.setObjectName("entry")
        self.setAccessibleName(tr("Find a command"))
        self.edit.setPlaceholderText(tr("What do you want to do?"))
        self.edit.setAccessibleName(tr("Find a command"))
        self.edit.setAccessibleDescription(tr("Arrows choose, Enter does it, Escape leaves"))
        self.list.setAccessibleName(tr("Commands"))
        self.list.setColumnCount(3)
        self.list.setHeaderHidden(True)
        self.list.setRootIsDecorated(False)
        self.list.setUniformRowHeights(True)
        self.list.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.list.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        head = self.list.header()
        head.setStretchLastSection(False)
        head.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        for column in (1, 2):
            head.setSectionResizeMode(column, QHeaderView.ResizeMode.ResizeToContents)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(8, 8, 8, 8)
        layout.addWidget(self.edit)
        layout.addWidget(self.list)

    def _on_text(self, text: str) -> None:
        self._fill(text)

    def _fill(self, text: str) -> None:
        """List what a text may mean; the first is in hand."""
        last = self._keep.words(LAST)
        found = find_commands(tuple(self._actions.specs.values()), text, last)
        self.list.clear()
        self.list.addTopLevelItems([self._row(spec) for spec in found])
        if found:
            self._go_to(0)
        row = max(self.list.sizeHintForRow(0), 22)
        self.list.setFixedHeight(min(max(len(found), 1), ROWS) * row + 6)
        self.adjustSize()

    def _row(self, spec: ActionSpec) -> QTreeWidgetItem:
        """Return a row: the command, its menu, its keys; grey, and why, where it cannot be done."""
        keys = shown(self._keymap.keys(spec.key))
        why = why_not(self._session, spec.key, self._actions[spec.key].isEnabled())
        row = QTreeWidgetItem([plain(spec), tr(why) or menu_of(spec), keys])
        row.setData(0, KEY, spec.key)
        said = ", ".join(filter(None, (plain(spec), keys or tr("no key"), tr(why))))
        row.setData(0, Qt.ItemDataRole.AccessibleTextRole, said)
        row.setDisabled(bool(why))
        return row

    def _on_step(self, by: int) -> None:
        count = self.list.topLevelItemCount()
        if count:
            at = self.list.currentIndex().row() + by
            self._go_to(min(max(at, 0), count - 1))

    def _go_to(self, row: int) -> None:
        self.list.setCurrentIndex(self.list.model().index(row, 0))

    def _on_return(self) -> None:
        self._take(self.list.currentItem())

    def _on_clicked(self, row: QTreeWidgetItem, _column: int) -> None:
        self._take(row)

    def _take(self, row: QTreeWidgetItem | None) -> None:
        """Leave, then do the command: it may want the keys for itself."""
        if row is None or row.isDisabled():
            return
        key = str(row.data(0, KEY))
        self._keep.first(LAST, key, MOST_LAST)
        self.leave()
        self.chosen.emit(key)
