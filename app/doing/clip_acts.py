"""Acts with the clipboard and on whole parts: cut, copy, paste, duplicate, replace, bulk."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

if TYPE_CHECKING:
    from app.window import Window


class ClipActs(QObject):
    """Copying and replacing, as menus and keys ask for it."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self.window = window
        self.session = window.session
