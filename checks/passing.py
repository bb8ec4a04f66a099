"""Which contacts can be closed together on one way through a circuit.

Two contacts of one part that no position closes together (both sides of a change-over contact,
two outputs of a selector) are never passed on the same way, however far apart they lie on it.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import combinations

from model.kinds.body import Contact
from model.network import Edge

Mover = tuple[str, str]
"""A part and what moves its contacts: an armature, or "" for its own position."""
Held = frozenset[tuple[Mover, frozenset[str]]]
"""The positions that the contacts passed so far leave open, by mover."""
FREE: Held = frozenset()
"""Nothing passed yet."""


def mover(edge: Edge) -> Mover | None:
    """Return what moves a contact, None for anything else."""
    return (edge.owner, edge.inner.by) if isinstance(edge.inner, Contact) else None


def choosy(edges: Iterable[Edge]) -> frozenset[Mover]:
    """Return the movers with contacts that are never closed together."""
    closed: dict[Mover, list[frozenset[str]]] = {}
    for edge in edges:
        if isinstance(edge.inner, Contact):
            key = (edge.owner, edge.inner.by)
            closed.setdefault(key, []).append(frozenset(edge.inner.closed))
    return frozenset(
        key for key, sets in closed.items() if any(not a & b for a, b in combinations(sets, 2))
    )


def after(edge: Edge, held: Held, movers: frozenset[Mover]) -> Held | None:
    """Return what is left open after an edge is passed, None where it cannot be closed."""
    key = mover(edge)
    if key is None or key not in movers or not isinstance(edge.inner, Contact):
        return held
    left = frozenset(edge.inner.closed)
    rest = []
    for one, positions in held:
        if one == key:
            left &= positions
        else:
            rest.append((one, positions))
    return frozenset((*rest, (key, left))) if left else None


class Been:
    """Where a walk has been, and with what left open."""

    def __init__(self) -> None:
        self._held: dict[int, list[Held]] = {}

    @property
    def nodes(self) -> frozenset[int]:
        """Every node it came to."""
        return frozenset(self._held)

    def new(self, node: int, held: Held) -> bool:
        """Note a visit; tell whether it leaves anything open that an earlier one did not."""
        known = self._held.setdefault(node, [])
        if any(_covers(one, held) for one in known):
            return False
        known.append(held)
        return True


def _covers(one: Held, other: Held) -> bool:
    """Tell whether all that `other` leaves open is left open by `one` too."""
    mine = dict(other)
    return all(key in mine and mine[key] <= positions for key, positions in one)
