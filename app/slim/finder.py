"""Finding parts and wires in a slim bar: hits while one types, from hit to hit by key."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from app.session import Session
from app.slim.bar import SlimBar
from app.tr import tr
from model.circuit import Circuit
from model.editing import Hit, find
from model.lookup import label, wire_label

MOST = 500
PLAIN = ("reference", "number")
"""Fields that go without saying."""


class FindBar(SlimBar):
    """Looks for what is typed and selects one hit after the other."""

    found = Signal()
    """A hit was selected: it is to be shown."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__("Find", "Reference, name, number, colour, terminal, circuit", parent)
        self.session = session
        self.hits: tuple[Hit, ...] = ()
        self.at = 0
        self.extra.setText(tr("Select all"))
        self.extra.setAccessibleName(tr("Select all that was found"))
        self.extra.show()
        self.typed.connect(self._on_typed)
        self.entered.connect(self._on_entered)
        self.stepped.connect(self.step)
        self.extra.clicked.connect(self.select_all)

    def step(self, by: int) -> None:
        """Select the next hit, or the one before; after the last comes the first."""
        self._look(self.edit.text())
        if self.hits:
            self.at = (self.at + by) % len(self.hits)
            self._select()

    def select_all(self) -> None:
        """Select everything that was found."""
        self._look(self.edit.text())
        if self.hits:
            self.session.select(frozenset(h.id for h in self.hits))
            self.found.emit()
            self.say(f"All {len(self.hits)} are selected.")

    def _on_typed(self, text: str) -> None:
        self.at = 0
        self._look(text)
        if self.hits:
            self._select()

    def _on_entered(self, _text: str) -> None:
        self.step(1)

    def _look(self, text: str) -> None:
        """Take the hits of a text in the circuit as it is now."""
        self.hits = find(self.session.circuit, text, MOST)
        self.at = min(self.at, max(len(self.hits) - 1, 0))
        self.extra.setEnabled(bool(self.hits))
        missed = bool(text.strip()) and not self.hits
        self.say(f"Nothing is called “{text.strip()}”." if missed else "", wrong=missed)

    def _select(self) -> None:
        hit = self.hits[self.at]
        self.session.select(frozenset({hit.id}))
        self.found.emit()
        by = "" if hit.field in PLAIN else f" · {hit.field} {hit.text}"
        self.say(f"{self.at + 1} of {len(self.hits)} · {_name(self.session.circuit, hit)}{by}")


def _name(circuit: Circuit, hit: Hit) -> str:
    """Return what people call a hit."""
    part = circuit.parts.get(hit.id)
    return label(part) if part else wire_label(circuit.wires[hit.id])
