"""The typed line on the sheet: where it stands, and what is done with what it reads."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QVBoxLayout

if TYPE_CHECKING:
    from app.window import Window


class Typed(QObject):
    """Joins the typed line to one window."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self.window = window
        self.session = window.session

    def fill(self, layout: QVBoxLayout) -> None:
        """Put what belongs to it into the middle of the window, around the sheet."""

    def detach(self) -> None:
        """Hear no more."""
