"""Acts that find a command by its name and change its keys."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt
from PySide6.QtWidgets import QApplication, QWidget

from app.actions import ACTIONS
from app.actions.spec import ActionSpec
from app.commanding.finder import CommandFinder
from app.commanding.keymap import KeyMap, TableKeyMap
from app.commanding.page import KeysPage
from app.schedule.keys import FIXED, TABLE_KEYS
from app.windowing.layout import toggle

if TYPE_CHECKING:
    from app.window import Window

HEIGHT = 300
OF_TABLE = "table_"


class CommandActs(QObject):
    """The command finder and the list of keys; both are made when first asked for."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self.window = window
        self.keymap = KeyMap(ACTIONS, window.keep)
        self.table_keys = TableKeyMap(table_specs(), window.keep)
        self.finder: CommandFinder | None = None
        self.page: KeysPage | None = None
        self._came_from: QWidget | None = None

    def do_find_command(self) -> None:
        """Open the finder over whatever is shown."""
        window = self.window
        if self.finder is None:
            self.finder = CommandFinder(
                window.session, window.actions_, self.keymap, window.keep, window
            )
            self.finder.chosen.connect(self._on_chosen)
            self.finder.left.connect(self._on_left)
        self._came_from = QApplication.focusWidget()
        self.finder.open()

    def do_dock_keys(self) -> None:
        """Show or hide the page of keys."""
        dock = self.window.docks["keys"]
        if self.page is None:
            self.page, empty = KeysPage(self.keymap, self.table_keys, FIXED), dock.widget()
            self.page.changed.connect(self.window.keys_changed)
            dock.setWidget(self.page)
            empty.deleteLater()
        toggle(self.window, "keys")
        if not dock.isHidden():
            self.page.refresh()
            self.window.resizeDocks([dock], [HEIGHT], Qt.Orientation.Vertical)
            self.page.filter.setFocus()

    def take_keys(self) -> None:
        """Let every action have the keys it has now; a page that is open shows them."""
        for key in self.keymap.specs:
            self.window.actions_.take_keys(key, self.keymap.keys(key))
        own = {k: self.table_keys.keys(k) for k in self.table_keys.specs}
        self.window.schedule.keys.take({k.removeprefix(OF_TABLE): v for k, v in own.items()})
        if self.page is not None:
            self.page.refresh()

    def _on_chosen(self, key: str) -> None:
        self.window.actions_[key].trigger()

    def _on_left(self) -> None:
        """Give the keys back to where they were."""
        came_from = self._came_from
        self._came_from = None
        if came_from is not None and came_from.isVisible():
            came_from.setFocus()
        else:
            self.window.view.setFocus()


def table_specs() -> list[ActionSpec]:
    """Return what keys do in a table as the page of keys lists it."""
    return [ActionSpec(OF_TABLE + k.does, k.title, "In a table", (k.keys,)) for k in TABLE_KEYS]
