"""Acts on loads: the page of what they draw, against battery and alternator."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt

from app.loads.page import LoadsPage
from app.windowing.layout import toggle

if TYPE_CHECKING:
    from app.window import Window

HEIGHT = 300


class LoadActs(QObject):
    """What menus do with the load table; the page is made when first asked for."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self.window = window
        self.page: LoadsPage | None = None
        window.session.changed.connect(self._on_changed)
        window.session.file_changed.connect(self._on_changed)
        window.session.selected.connect(self._on_selected)

    def do_dock_loads(self) -> None:
        """Show or hide the page of loads."""
        dock = self.window.docks["loads"]
        if not dock.isHidden():
            toggle(self.window, "loads")
            return
        page = self._made()
        dock.show()
        self.window.resizeDocks([dock], [HEIGHT], Qt.Orientation.Vertical)
        page.refresh()
        page.loads.setFocus()

    def stop(self) -> None:
        """Let nothing run on."""
        if self.page is not None:
            self.page.stop()

    def _made(self) -> LoadsPage:
        """Return the page, made the first time."""
        if self.page is None:
            dock = self.window.docks["loads"]
            self.page, empty = LoadsPage(self.window.session), dock.widget()
            dock.setWidget(self.page)
            dock.visibilityChanged.connect(self._on_shown)
            empty.deleteLater()
        return self.page

    def _on_changed(self, *_: object) -> None:
        if self.page is not None:
            self.page.refresh()

    def _on_selected(self) -> None:
        if self.page is not None and self.page.isVisible():
            self.page.follow()

    def _on_shown(self, shown: bool) -> None:
        if self.page is not None and shown:
            self.page.refresh()
