"""Replacing parts by another kind in a slim bar: kinds to step through, losses foretold."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from app.attempt import attempt
from app.entry import kinds
from app.entry.words import clauses
from app.session import Session
from app.slim.bar import SlimBar
from model.circuit import Circuit
from model.editing import Edit, replace_kind
from model.kinds import Kind
from model.lookup import label


class ReplaceBar(SlimBar):
    """Takes the name of a kind, says what would be lost, and replaces what is selected.

    While one types, the kinds that the text can mean are counted; Down and Up go through them.
    """

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__("Replace by", "A kind of part, such as strip fuse", parent)
        self.session = session
        self.found: list[Kind] = []
        self.at = 0
        self.typed.connect(self._on_typed)
        self.entered.connect(self._on_entered)
        self.stepped.connect(self._on_stepped)

    def parts(self) -> list[str]:
        """Return the parts that are selected."""
        return [i for i in self.session.circuit.parts if i in self.session.selection]

    def refresh(self) -> None:
        """Say which kind is meant and what of the parts selected now would not fit it."""
        circuit, parts = self.session.circuit, self.parts()
        who = _names(circuit, parts)
        if not self.found or not parts:
            self.say(who or "No part is selected.")
            return
        kind = self.found[self.at]
        count = f"{self.at + 1} of {len(self.found)} · " if len(self.found) > 1 else ""
        lost = _lost(replace_kind(circuit, parts, kind.key))
        self.say(f"{count}{who} → {_title(kind)}. {lost}")

    def _on_typed(self, text: str) -> None:
        self.found, self.at = kinds_called(self.session.circuit, text), 0
        self.refresh()

    def _on_stepped(self, by: int) -> None:
        if self.found:
            self.at = (self.at + by) % len(self.found)
            self.refresh()

    def _on_entered(self, text: str) -> None:
        parts = self.parts()
        if not self.found or not parts:
            missing = f"“{text.strip()}” names no kind of part." if parts else "Select parts first."
            self.say(missing, wrong=True)
            return
        kind = self.found[self.at]
        if attempt(self.session, replace_kind, self.session.circuit, parts, kind.key):
            self.leave()
        else:
            self.say(self._why_not(kind), wrong=True)

    def _why_not(self, kind: Kind) -> str:
        if self.session.mode != "draw":
            return "Go to Draw (F5) to change the circuit."
        return f"Nothing to do: of the kind {_title(kind)} already."


def kinds_called(circuit: Circuit, text: str) -> list[Kind]:
    """Return the kinds a text can mean, the likeliest first.

    Its whole title or name, then what begins so, then what holds it, then what is nearly so.
    """
    wanted, words = " ".join(text.casefold().split()), clauses(text)
    if not wanted or not words:
        return []
    known = [(k, _called(k)) for k in kinds.kinds(circuit).values()]
    found = [k for k, names in known if wanted == names[0]]
    named = kinds.exact(circuit, words[0])
    found += [named.kind] if named else []
    found += [k for k, names in known if names[0].startswith(wanted)]
    found += [k for k, names in known if any(n.startswith(wanted) for n in names)]
    found += [k for k, names in known if any(wanted in n for n in names)]
    near = None if found else kinds.close(circuit, words[0])
    return list({k.key: k for k in [*found, *([near.kind] if near else [])]}.values())


def _called(kind: Kind) -> tuple[str, ...]:
    return (_title(kind).casefold(), *(a.casefold() for a in kind.aliases))


def _title(kind: Kind) -> str:
    return kind.title or kind.key


def _names(circuit: Circuit, parts: list[str], most: int = 4) -> str:
    more = f" and {len(parts) - most} more" if len(parts) > most else ""
    return ", ".join(label(circuit.parts[i]) for i in parts[:most]) + more


def _lost(edit: Edit) -> str:
    """Return what would not fit, in a line."""
    if not edit.change.swaps:
        return "It is of this kind already."
    return " ".join(edit.notes) or "All that is known of it fits."
