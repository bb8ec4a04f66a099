"""The one undo command of the program: it wraps a change of the model."""

from __future__ import annotations

from PySide6.QtGui import QUndoCommand

from app.past import Past
from model.changes import Change
from model.document import Document
from model.kept import kept


class ChangeCommand(QUndoCommand):
    """One act of a person on the undo stack. It knows where the change is kept, no more.

    Commands are flat: a composite act is one change, since child commands crash the binding. There
    may be thousands of them: each keeps only what differs, and the older ones are packed.
    """

    __slots__ = ("_box", "_document", "_number", "_past")

    def __init__(self, document: Document, past: Past, change: Change) -> None:
        super().__init__(change.label)
        self._document, self._past = document, past
        self._box, self._number = past.put(kept(change))

    def redo(self) -> None:
        """Make the change (Qt calls this once when the command is pushed)."""
        act = self._past.act(self._box, self._number)
        self._document.apply(act.forth(self._document.circuit))

    def undo(self) -> None:
        """Take the change back."""
        act = self._past.act(self._box, self._number)
        self._document.revert(act.back(self._document.circuit))
