"""What the pages below the sheet have in common."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QPlainTextEdit, QWidget

from app.session import Session


class Page(QWidget):
    """A page that shows something worked out of the open circuit."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session

    def refresh(self) -> None:
        """Show the circuit as it is."""
        raise NotImplementedError

    def stop(self) -> None:
        """Let nothing run on."""
        raise NotImplementedError


def told_in(label: QLabel, name: str = "") -> None:
    """Let a label show whole sentences, whatever signs are in them."""
    label.setWordWrap(True)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setAccessibleName(name)


def read_in(text: QPlainTextEdit, name: str) -> None:
    """Let a text be read and left by the keys, not changed."""
    text.setReadOnly(True)
    text.setTabChangesFocus(True)
    text.setAccessibleName(name)
