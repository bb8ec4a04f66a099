"""Changing all that is selected in a slim bar: one text for many wires, or for many parts."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from app.entry.bulk import change_all
from app.entry.read import Refusal
from app.session import Session
from app.slim.bar import SlimBar


class ChangeBar(SlimBar):
    """Takes ratings or facts of wires; what is not typed stays, what differs is called several."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__("Change the selected", "2.5 mm² RD 1 m, or 8 A", parent)
        self.session = session
        self.typed.connect(self.foretell)
        self.entered.connect(self._on_entered)

    def refresh(self) -> None:
        """Say again what the line comes to, for what is selected now."""
        self.foretell(self.edit.text())

    def foretell(self, text: str) -> None:
        """Say what the text would change, or what can be typed and what holds now."""
        found = change_all(self.session.circuit, self.session.selection, text)
        refused = isinstance(found, Refusal)
        said = found.sentence if isinstance(found, Refusal) else found.preview
        self.say(said, wrong=refused and bool(text.strip()))

    def _on_entered(self, text: str) -> None:
        found = change_all(self.session.circuit, self.session.selection, text)
        if isinstance(found, Refusal):
            self.say(found.sentence, wrong=True)
        elif self.session.mode != "draw":
            self.say("Go to Draw (F5) to change the circuit.", wrong=True)
        elif self.session.do(found.change) or not found.change.swaps:
            self.leave()
