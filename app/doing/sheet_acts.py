"""Acts on sheets: tabs, overview, a new sheet, a part shown on one more."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QVBoxLayout

if TYPE_CHECKING:
    from app.window import Window


class SheetActs(QObject):
    """Sheets, as tabs, menus and keys ask for it."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self.window = window
        self.session = window.session

    def fill(self, layout: QVBoxLayout) -> None:
        """Put what belongs to it into the middle of the window, around the sheet."""

    def do_sheet_next(self) -> None:
        """Show the next sheet, whole."""
        self.session.next_sheet()
        self.window.view.fit()

    def do_sheet_before(self) -> None:
        """Show the sheet before, whole."""
        self.session.next_sheet(-1)
        self.window.view.fit()

    def detach(self) -> None:
        """Hear no more."""
