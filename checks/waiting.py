"""Who waits for whom: loads and coils that are dead because a relay before them is.

A relay that never pulls in has a finding of its own; what hangs on its contacts need not be told
again. Relays that wait for their own contact, or for each other's, have no such first one.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property

import numpy as np

from checks.basis import Basis, Use

Sides = tuple[frozenset[int], frozenset[int]]
"""Nodes that could be fed and nodes that could be grounded."""


class Waiting:
    """What the contacts of dead relays keep from the rest of a circuit.

    Parameters
    ----------
    basis
        The circuit analysed.
    dead
        Coils that pull in in no state.
    """

    def __init__(self, basis: Basis, dead: Iterable[Use]) -> None:
        self._basis = basis
        self._dead = list(dead)
        on: list[bool] = np.asarray(basis.survey.on.any(axis=0), np.bool_).tolist()
        self._closed = {
            e.key
            for i, e in enumerate(basis.network.edges)
            if (on[i] or e.role != "contact") and not basis.bridges(e)
        }

    def _sides(self, relays: Iterable[str]) -> Sides:
        """Return both sides by contacts that close in some state, and all those of some relays."""
        owners = frozenset(relays)
        keys = self._closed | {e.key for e in self._basis.network.edges if e.owner in owners}
        plus = {e.a for e in self._basis.sources}
        return (
            self._reach(plus, keys, forward=True),
            self._reach(set(self._basis.minuses), keys, forward=False),
        )

    def _reach(
        self, start: set[int], keys: set[tuple[str, str]], *, forward: bool
    ) -> frozenset[int]:
        """Return the nodes joined to the start nodes by conductors among these edges.

        Diodes are passed from anode to cathode, or the other way with `forward` False.
        """
        found, todo = set(start), list(start)
        while todo:
            node = todo.pop()
            for other, edge in self._basis.links.get(node, ()):
                against = edge.role == "diode" and (node == edge.a) is not forward
                if other not in found and edge.key in keys and not against:
                    found.add(other)
                    todo.append(other)
        return frozenset(found)

    @cached_property
    def _ever(self) -> Sides:
        """Both sides by contacts that close in some state."""
        return self._sides(())

    @cached_property
    def _helped(self) -> Sides:
        """Both sides if the contacts of every dead relay closed too."""
        return self._sides(u.part.id for u in self._dead)

    def waits(self, use: Use) -> bool:
        """Tell whether a load or coil is dead because a relay before it is."""
        return not _joined(use, self._ever) and _joined(use, self._helped)

    def waits_at(self, node: int) -> bool:
        """Tell whether only a relay that never pulls in keeps the plus from a node."""
        return node in self._helped[0] and node not in self._ever[0]

    @cached_property
    def locked(self) -> tuple[str, ...]:
        """Relays that wait for their own contact or for each other's: no other one is to blame."""
        told = {u.part.id for u in self._dead if not self.waits(u)}
        left = [u for u in self._dead if u.part.id not in told]
        while left:
            sides = self._sides(told)
            freed = {u.part.id for u in left if _joined(u, sides)}
            if not freed:
                break
            told |= freed
            left = [u for u in left if u.part.id not in told]
        return tuple(dict.fromkeys(u.part.id for u in left))


def _joined(use: Use, sides: Sides) -> bool:
    """Tell whether a load is joined to both sides."""
    ends = {use.a, use.b}
    return bool(ends & sides[0] and ends & sides[1])
