"""What stays of a network while only numbers change: its nodes, its edges, what follows from both.

A length, a size, a rating changes what an edge conducts and nothing else. Networks that differ in
no more than that share one frame, and what was once found out about it is not looked for again.
"""

from __future__ import annotations

from collections.abc import Callable
from operator import is_
from typing import Any, TypeVar

Fact = TypeVar("Fact")


class Frame:
    """Facts that hold for every network of the same nodes and edges, by name.

    A fact may rest on which nodes and edges there are, on their owners, roles and inner elements
    and on the kinds of parts; never on an ohm, a rating, a length or another number.

    Attributes
    ----------
    latest
        What the latest network of this frame left for the next one: no facts, but results with
        the very records they rest on, to be taken again where those are still the same objects.
    """

    def __init__(self) -> None:
        self._facts: dict[object, Any] = {}
        self.latest: dict[object, Any] = {}

    def fact(self, name: object, make: Callable[[], Fact]) -> Fact:
        """Return a fact, found out at the first time it is asked for."""
        if name not in self._facts:
            self._facts[name] = make()
        found: Fact = self._facts[name]
        return found

    def kept(
        self, name: object, key: object, records: tuple[object, ...], make: Callable[[], Fact]
    ) -> Fact:
        """Return a result of some records, that of the network before while they are the same.

        Parameters
        ----------
        name, key
            What is asked, and of which part, wire or edge.
        records
            All that the result rests on besides the settings and tables of the circuit.
        make
            Reckons it anew.
        """
        held = self.latest.setdefault(name, {})
        old = held.get(key)
        if old is not None and len(old[0]) == len(records) and all(map(is_, old[0], records)):
            found: Fact = old[1]
            return found
        made = make()
        held[key] = (records, made)
        return made
