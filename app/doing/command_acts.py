"""Acts that find a command by its name and change its keys."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

if TYPE_CHECKING:
    from app.window import Window


class CommandActs(QObject):
    """The command finder and the list of keys."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self.window = window
        self.session = window.session
