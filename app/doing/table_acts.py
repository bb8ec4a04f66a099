"""Acts on tables: the page that shows the circuit under another one, and loading one's own."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from app.doing.paged import PagedActs
from app.tabling.page import TablesPage
from model.editing.tables import take_table
from model.file import FileError
from model.file.csv_table import load_table, with_table


class TableActs(PagedActs[TablesPage]):
    """What menus do with tables."""

    DOCK, HEIGHT = "tables", 320

    def do_dock_tables(self) -> None:
        """Show or hide the page of tables."""
        self.toggle()

    def make(self) -> TablesPage:
        """Return a new page of tables."""
        page = TablesPage(self.window.session)
        page.load_asked.connect(self.do_load_table)
        return page

    def first(self, page: TablesPage) -> QWidget:
        """Return the choice of the other table."""
        return page.other

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
