"""Acts that select: a whole circuit, what a fuse feeds, what is found by its name."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

if TYPE_CHECKING:
    from app.window import Window


class ChooseActs(QObject):
    """Selecting and finding, as menus and keys ask for it."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self.window = window
        self.session = window.session
