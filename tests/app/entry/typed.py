"""Lines typed one after the other into a circuit, as a person would, without a window."""

from __future__ import annotations

from collections.abc import Iterable

from app.entry import Cursor, Entry, Refusal, read
from model.circuit import Circuit, Part, Wire
from model.lookup import parts_named, wires_named


class Typist:
    """Types lines and makes their changes; every change must revert to what was before."""

    def __init__(self, circuit: Circuit | None = None, cursor: Cursor | None = None) -> None:
        self.circuit = circuit or Circuit()
        self.cursor = cursor or Cursor()
        self.said: list[str] = []

    def types(self, line: str) -> Entry:
        """Type a line that can be done."""
        found = read(self.circuit, line, self.cursor)
        assert isinstance(found, Entry), f"{line!r}: {found}"
        after = found.change.apply(self.circuit)
        assert found.change.revert(after) == self.circuit
        self.circuit, self.cursor = after, found.cursor
        self.said.append(found.preview)
        return found

    def all(self, lines: Iterable[str]) -> Typist:
        """Type several lines."""
        for line in lines:
            self.types(line)
        return self

    def refused(self, line: str) -> Refusal:
        """Type a line that cannot be done."""
        found = read(self.circuit, line, self.cursor)
        assert isinstance(found, Refusal), f"{line!r}: {found}"
        return found

    def part(self, reference: str) -> Part:
        """Return the one part of a reference."""
        (found,) = parts_named(self.circuit, reference)
        return found

    def wire(self, number: str) -> Wire:
        """Return the one wire of a number."""
        (found,) = wires_named(self.circuit, number)
        return found


def pump_parts() -> Typist:
    """Return a typist with a battery, a fuse, a switch, a relay, a pump and a ground point."""
    return Typist().all(("battery", "fuse", "switch", "relay", "pump", "ground"))
