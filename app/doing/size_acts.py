"""Acts on sizes: the page that shows the smallest ones that fit and takes them over."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from app.doing.paged import PagedActs
from app.fitting.page import SizesPage

if TYPE_CHECKING:
    from app.window import Window


class SizeActs(PagedActs[SizesPage]):
    """What menus do with sizes."""

    DOCK, HEIGHT = "sizes", 330

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        window.session.looked.connect(self._on_looked)

    def do_dock_sizes(self) -> None:
        """Show or hide the page of sizes."""
        self.toggle()

    def do_size(self) -> None:
        """Size the ways of the loads selected, of the whole circuit where none is."""
        self.show_page().ask_selected()

    def make(self) -> SizesPage:
        """Return a new page of sizes."""
        return SizesPage(self.window.session)

    def first(self, page: SizesPage) -> QWidget:
        """Return the rows of sizes."""
        return page.rows

    def _on_looked(self) -> None:
        if self.page is not None:
            self.page.axis.update()
