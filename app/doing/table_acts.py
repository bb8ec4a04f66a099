"""Acts on tables: the page that shows the circuit under another one, and loading one's own."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt

from app.tabling.page import TablesPage
from app.windowing.layout import toggle
from model.editing.tables import take_table
from model.file import FileError
from model.file.csv_table import load_table, with_table

if TYPE_CHECKING:
    from app.window import Window

HEIGHT = 320


class TableActs(QObject):
    """What menus do with tables; the page is made when first asked for."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self.window = window
        self.page: TablesPage | None = None
        window.session.changed.connect(self._on_changed)
        window.session.file_changed.connect(self._on_changed)

    def do_dock_tables(self) -> None:
        """Show or hide the page of tables."""
        dock = self.window.docks["tables"]
        if self.page is None:
            self.page, empty = TablesPage(self.window.session), dock.widget()
            self.page.load_asked.connect(self.do_load_table)
            dock.setWidget(self.page)
            dock.visibilityChanged.connect(self._on_shown)
            empty.deleteLater()
        toggle(self.window, "tables")
        if not dock.isHidden():
            self.window.resizeDocks([dock], [HEIGHT], Qt.Orientation.Vertical)
            self.page.refresh()
            self.page.other.setFocus()

    def do_load_table(self) -> None:
        """Load a table of the person's own from a CSV file into the circuit."""
        window = self.window
        folder = str(window.session.path.parent) if window.session.path else ""
        path = window.ask.table_path(window, folder)
        if path is None:
            return
        try:
            table = load_table(path)
            with_table(window.session.circuit, table, path.name)
        except FileError as error:
            window.tell(str(error))
            return
        window.session.do(take_table(window.session.circuit, table).change)
        window.tell(
            f"The table {table.id} is in this circuit now, supplied by you. Choose it in Details, "
            "with nothing selected."
        )

    def stop(self) -> None:
        """Let nothing run on."""
        if self.page is not None:
            self.page.stop()

    def _on_changed(self, *_: object) -> None:
        if self.page is not None and self.page.isVisible():
            self.page.refresh()

    def _on_shown(self, shown: bool) -> None:
        if self.page is not None and shown:
            self.page.refresh()
