"""The page of keys: every command with its keys, to be read, filtered, changed and copied."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QAbstractItemModel, QModelIndex, QPersistentModelIndex, Qt, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QKeySequenceEdit,
    QLabel,
    QLineEdit,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QToolButton,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from app.commanding.keymap import SHEET_KEYS, KeyMap, shown
from app.commanding.search import ALSO, menu_of, plain
from app.tr import tr

KEY = Qt.ItemDataRole.UserRole
COLUMNS = ("Command", "Menu", "Keys")
OF_SHEET, OF_TABLE = "On the sheet", "In a table"
Fixed = tuple[str, str]
"""Keys that stay as they are, and what they do."""


class _Keys(QStyledItemDelegate):
    """Takes new keys for a row by their being pressed."""

    pressed = Signal(str, str)
    """The action's key and the keys pressed for it."""

    def createEditor(
        self,
        parent: QWidget,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> QWidget:
        """Return a field that takes the next key; other columns are not edited."""
        if index.column() != 2:
            return None  # type: ignore[return-value]
        edit = QKeySequenceEdit(parent)
        edit.setMaximumSequenceLength(1)
        edit.setAccessibleName(tr("Press the new key"))
        return edit

    def setModelData(
        self,
        editor: QWidget,
        model: QAbstractItemModel,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        """Tell what was pressed; the page decides."""
        assert isinstance(editor, QKeySequenceEdit)
        key = model.index(index.row(), 0).data(KEY)
        if key:
            self.pressed.emit(str(key), editor.keySequence().toString())


class KeysPage(QWidget):
    """Lists all keys; a double click or Enter on a row takes another key for it."""

    changed = Signal()

    def __init__(
        self,
        keymap: KeyMap,
        tables: KeyMap,
        fixed: Sequence[Fixed],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.maps = (keymap, tables)
        self._fixed = [(OF_SHEET, *f) for f in SHEET_KEYS] + [(OF_TABLE, *f) for f in fixed]
        self.filter, self.table, self.said = QLineEdit(), QTreeWidget(), QLabel()
        self.swap, self.reset = _button("Swap the two"), _button("Default keys")
        self.reset_all, self.copy = _button("All defaults"), _button("Copy as text")
        self._offered = ("", "")
        self._delegate = _Keys(self.table)
        self._dress()
        self._connect()
        self.refresh()

    def refresh(self) -> None:
        """List the keys as they are now, in the rows that the filter leaves."""
        at = self._current()
        self.table.clear()
        wanted = self.filter.text().casefold().split()
        for keymap in self.maps:
            for key, spec in keymap.specs.items():
                words = f"{plain(spec)} {menu_of(spec)} {ALSO.get(key, '')}"
                keys = shown(keymap.keys(key))
                if all(w in f"{words} {keys}".casefold() for w in wanted):
                    self._add(key, (plain(spec), menu_of(spec), keys))
        for where, keys, does in self._fixed:
            told = f"{tr(keys)} {tr(does)} {tr(where)} {keys} {does} {where}"
            if all(w in told.casefold() for w in wanted):
                self._add("", (tr(does[0].upper() + does[1:]), tr(where), tr(keys)))
        self._go_to(at)

    def text(self) -> str:
        """Return all keys as text, a line each."""
        rows = [
            (shown(m.keys(k)), plain(s), menu_of(s))
            for m in self.maps
            for k, s in m.specs.items()
            if m.keys(k)
        ]
        rows += [(keys, does, where) for where, keys, does in self._fixed]
        return "\n".join("\t".join(row) for row in rows)

    def take(self, key: str, keys: str) -> None:
        """Give an action a key, or say why not; a key that another has is offered as a swap."""
        self._offer("", "")
        keymap = self._map(key)
        refused = keymap.refusal(keys)
        other = keymap.holder(keys, but=key)
        if refused:
            self._say(refused)
        elif other:
            name = plain(keymap.specs[other])
            self._say(f"{shown((keys,))} calls “{name}”.")
            self._offer(key, keys)
        else:
            keymap.put(key, (keys,) if keys else ())
            self._say(f"“{plain(keymap.specs[key])}”: {shown((keys,)) or 'no key'}.")
            self._told()

    def _map(self, key: str) -> KeyMap:
        """Return the map that has an act: that of the commands, or that of the tables."""
        return next(m for m in self.maps if key in m.specs)

    def _dress(self) -> None:
        self.filter.setPlaceholderText(tr("Command or key"))
        self.filter.setAccessibleName(tr("Filter the keys"))
        self.filter.setClearButtonEnabled(True)
        self.said.setObjectName("soft")
        self.said.setAccessibleName(tr("What was changed"))
        self.said.setWordWrap(True)
        self.said.hide()
        self.table.setAccessibleName(tr("Keys"))
        self.table.setHeaderLabels([tr(c) for c in COLUMNS])
        self.table.setRootIsDecorated(False)
        self.table.setUniformRowHeights(True)
        self.table.setItemDelegateForColumn(2, self._delegate)
        triggers = QAbstractItemView.EditTrigger
        self.table.setEditTriggers(triggers.DoubleClicked | triggers.EditKeyPressed)
        head = self.table.header()
        head.setAccessibleName(tr("Columns of the keys"))
        head.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        for column in (1, 2):
            head.setSectionResizeMode(column, QHeaderView.ResizeMode.ResizeToContents)
        head.setStretchLastSection(False)
        top, layout = QHBoxLayout(), QVBoxLayout(self)
        layout.setContentsMargins(10, 4, 10, 8)
        top.addWidget(self.filter, 1)
        for button in (self.swap, self.reset, self.reset_all, self.copy):
            top.addWidget(button)
        self.swap.hide()
        layout.addLayout(top)
        layout.addWidget(self.said)
        layout.addWidget(self.table)

    def _connect(self) -> None:
        self.filter.textChanged.connect(self._on_filter)
        self._delegate.pressed.connect(self.take)
        self.table.itemActivated.connect(self._on_activated)
        self.swap.clicked.connect(self._on_swap)
        self.reset.clicked.connect(self._on_reset)
        self.reset_all.clicked.connect(self._on_reset_all)
        self.copy.clicked.connect(self._on_copy)

    def _add(self, key: str, texts: tuple[str, str, str]) -> None:
        row = QTreeWidgetItem(list(texts))
        row.setData(0, KEY, key)
        if key:
            row.setFlags(row.flags() | Qt.ItemFlag.ItemIsEditable)
            if not self._map(key).is_default(key):
                font = row.font(2)
                font.setBold(True)
                row.setFont(2, font)
        self.table.addTopLevelItem(row)

    def _current(self) -> str:
        row = self.table.currentItem()
        return str(row.data(0, KEY) or "") if row else ""

    def _go_to(self, key: str) -> None:
        for i in range(self.table.topLevelItemCount()):
            row = self.table.topLevelItem(i)
            if row is not None and key and row.data(0, KEY) == key:
                self.table.setCurrentItem(row)

    def _say(self, text: str) -> None:
        self.said.setText(tr(text))
        self.said.setVisible(bool(text))

    def _offer(self, key: str, keys: str) -> None:
        """Offer to let two actions swap keys, or offer nothing."""
        self._offered = (key, keys)
        self.swap.setVisible(bool(key))

    def _told(self) -> None:
        self.refresh()
        self.changed.emit()

    def _on_filter(self, _text: str) -> None:
        self.refresh()

    def _on_activated(self, row: QTreeWidgetItem, _column: int) -> None:
        if row.data(0, KEY):
            self.table.editItem(row, 2)

    def _on_swap(self) -> None:
        key, keys = self._offered
        keymap = self._map(key)
        keymap.swap(key, keys)
        self._offer("", "")
        self._say(f"“{plain(keymap.specs[key])}”: {shown((keys,))}.")
        self._told()

    def _on_reset(self) -> None:
        if self._current():
            self._map(self._current()).reset(self._current())
            self._told()

    def _on_reset_all(self) -> None:
        for keymap in self.maps:
            keymap.reset()
        self._offer("", "")
        self._say("All commands have their default keys.")
        self._told()

    def _on_copy(self) -> None:
        QGuiApplication.clipboard().setText(self.text())
        self._say("Copied.")


def _button(text: str) -> QToolButton:
    button = QToolButton()
    button.setText(tr(text))
    button.setObjectName("act")
    button.setAccessibleName(tr(text))
    return button
