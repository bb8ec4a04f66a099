"""Acts on a page below the sheet: made when first asked for, shown, hidden, brought up to date."""

from __future__ import annotations

from typing import TYPE_CHECKING, Generic, TypeVar

from PySide6.QtCore import QObject, Qt, QTimer
from PySide6.QtWidgets import QWidget

from app.windowing.layout import toggle
from app.windowing.page import Page

if TYPE_CHECKING:
    from app.window import Window


PageT = TypeVar("PageT", bound=Page)


class PagedActs(QObject, Generic[PageT]):
    """What menus do with one page.

    Attributes
    ----------
    DOCK, HEIGHT
        The key of its dock, and the height that this opens with.
    page
        The page; None until it is asked for.
    """

    DOCK = ""
    HEIGHT = 300

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self.window = window
        self.page: PageT | None = None
        window.session.changed.connect(self._on_changed)
        window.session.file_changed.connect(self._on_changed)

    def stop(self) -> None:
        """Let nothing run on."""
        if self.page is not None:
            self.page.stop()

    def make(self) -> PageT:
        """Return a new page."""
        raise NotImplementedError

    def first(self, page: PageT) -> QWidget:
        """Return what has the keys when the page comes up."""
        raise NotImplementedError

    def pane(self) -> QWidget | None:
        """Return what has the keys of the page, None while there is no page."""
        return self.first(self.page) if self.page is not None else None

    def toggle(self) -> None:
        """Show or hide the page."""
        if self.window.docks[self.DOCK].isHidden():
            self.show_page()
        else:
            toggle(self.window, self.DOCK)

    def show_page(self) -> PageT:
        """Bring the page up; a sheet seen whole stays so beside it."""
        dock, page = self.window.docks[self.DOCK], self._made()
        if dock.isHidden() and self.window.view.shows_all():
            QTimer.singleShot(0, self.window.sheets.sights.begin)
        dock.show()
        self.window.resizeDocks([dock], [self.HEIGHT], Qt.Orientation.Vertical)
        page.refresh()
        self.first(page).setFocus()
        return page

    def _made(self) -> PageT:
        """Return the page, made the first time."""
        if self.page is None:
            dock = self.window.docks[self.DOCK]
            self.page, empty = self.make(), dock.widget()
            dock.setWidget(self.page)
            dock.visibilityChanged.connect(self._on_shown)
            empty.deleteLater()
        return self.page

    def _on_changed(self, *_: object) -> None:
        if self.page is not None and self.page.isVisible():
            self.page.refresh()

    def _on_shown(self, shown: bool) -> None:
        if self.page is not None and shown:
            self.page.refresh()
