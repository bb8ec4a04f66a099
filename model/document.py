"""The document: the circuit now, its revision, and who wants to know what changed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from model.changes import Change
from model.circuit import TABLES, Circuit


@dataclass(frozen=True, slots=True)
class Happened:
    """What a listener is told: the ids touched, by table, before and after, and the revision."""

    before: Circuit
    after: Circuit
    touched: frozenset[tuple[str, str]]
    revision: int


Listener = Callable[[Happened], None]


class Document:
    """A circuit that changes: applies and reverts changes and tells its listeners.

    The circuit itself is immutable, so `circuit` is a snapshot that stays as it is. Listeners
    are called only when something really changed, in the order they came.
    """

    def __init__(self, circuit: Circuit | None = None) -> None:
        self._circuit = circuit or Circuit()
        self._revision = 0
        self._listeners: list[Listener] = []

    @property
    def circuit(self) -> Circuit:
        """The circuit as it is now."""
        return self._circuit

    @property
    def revision(self) -> int:
        """A number that grows with every change."""
        return self._revision

    def listen(self, listener: Listener) -> None:
        """Tell this listener of changes from now on."""
        self._listeners.append(listener)

    def forget(self, listener: Listener) -> None:
        """Tell this listener no more; not being listed is no error."""
        if listener in self._listeners:
            self._listeners.remove(listener)

    def apply(self, change: Change) -> None:
        """Make a change."""
        self._become(change.apply(self._circuit), change.touched)

    def revert(self, change: Change) -> None:
        """Undo a change that was the last one made."""
        self._become(change.revert(self._circuit), change.touched)

    def replace(self, circuit: Circuit) -> None:
        """Take another circuit (a file was opened)."""
        everything = frozenset({("*", "")})
        self._become(circuit, everything)

    def _become(self, circuit: Circuit, touched: frozenset[tuple[str, str]]) -> None:
        """Take the new value and tell the listeners if it differs."""
        before, self._circuit = self._circuit, circuit
        if before == circuit and _in_order(before) == _in_order(circuit):
            return
        self._revision += 1
        happened = Happened(before, circuit, touched, self._revision)
        for listener in tuple(self._listeners):
            listener(happened)


def _in_order(circuit: Circuit) -> list[list[str]]:
    """Return the ids of every table: their order is what tables that are equal may differ in."""
    return [list(getattr(circuit, table)) for table in TABLES]
