"""Acts on sizes: the page that shows the smallest ones that fit and takes them over."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt

from app.fitting.page import SizesPage
from app.windowing.layout import toggle

if TYPE_CHECKING:
    from app.window import Window

HEIGHT = 330


class SizeActs(QObject):
    """What menus do with sizes; the page is made when first asked for."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self.window = window
        self.page: SizesPage | None = None
        window.session.changed.connect(self._on_changed)
        window.session.file_changed.connect(self._on_changed)
        window.session.looked.connect(self._on_looked)

    def do_dock_sizes(self) -> None:
        """Show or hide the page of sizes."""
        dock = self.window.docks["sizes"]
        if dock.isHidden():
            self._show()
        else:
            toggle(self.window, "sizes")

    def do_size(self) -> None:
        """Size the ways of the loads selected, of the whole circuit where none is."""
        page = self._show()
        page.ask_selected()

    def stop(self) -> None:
        """Let nothing run on."""
        if self.page is not None:
            self.page.stop()

    def _show(self) -> SizesPage:
        """Bring the page up."""
        dock, page = self.window.docks["sizes"], self._made()
        dock.show()
        self.window.resizeDocks([dock], [HEIGHT], Qt.Orientation.Vertical)
        page.refresh()
        page.rows.setFocus()
        return page

    def _made(self) -> SizesPage:
        """Return the page, made the first time."""
        if self.page is None:
            dock = self.window.docks["sizes"]
            self.page, empty = SizesPage(self.window.session), dock.widget()
            dock.setWidget(self.page)
            dock.visibilityChanged.connect(self._on_shown)
            empty.deleteLater()
        return self.page

    def _on_changed(self, *_: object) -> None:
        if self.page is not None:
            self.page.refresh()

    def _on_looked(self) -> None:
        if self.page is not None:
            self.page.axis.update()

    def _on_shown(self, shown: bool) -> None:
        if self.page is not None and shown:
            self.page.refresh()
