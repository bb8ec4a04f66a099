"""Acts on loads: the page of what they draw, against battery and alternator."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from app.doing.paged import PagedActs
from app.loads.page import LoadsPage

if TYPE_CHECKING:
    from app.window import Window


class LoadActs(PagedActs[LoadsPage]):
    """What menus do with the load table."""

    DOCK = "loads"

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        window.session.selected.connect(self._on_selected)

    def do_dock_loads(self) -> None:
        """Show or hide the page of loads."""
        self.toggle()

    def make(self) -> LoadsPage:
        """Return a new page of loads."""
        return LoadsPage(self.window.session)

    def first(self, page: LoadsPage) -> QWidget:
        """Return the table of loads."""
        return page.loads

    def _on_selected(self) -> None:
        if self.page is not None and self.page.isVisible():
            self.page.follow()
