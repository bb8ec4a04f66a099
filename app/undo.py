"""The one undo command of the program: it wraps a change of the model."""

from __future__ import annotations

from PySide6.QtGui import QUndoCommand

from model.changes import Change
from model.document import Document
from model.kept import kept


class ChangeCommand(QUndoCommand):
    """One act of a person on the undo stack. It holds the change and the document, no more.

    Commands are flat: a composite act is one change, since child commands crash the binding. There
    may be thousands of them: each keeps only what differs.
    """

    __slots__ = ("_document", "_kept")

    def __init__(self, document: Document, change: Change) -> None:
        super().__init__(change.label)
        self._document = document
        self._kept = kept(change)

    def redo(self) -> None:
        """Make the change (Qt calls this once when the command is pushed)."""
        self._document.apply(self._kept.forth(self._document.circuit))

    def undo(self) -> None:
        """Take the change back."""
        self._document.revert(self._kept.back(self._document.circuit))
