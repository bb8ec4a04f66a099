"""A change as it is kept for undo: of a sheet only what differs between before and after.

A sheet is one record with all its places, and hardly an act leaves all of them alone; kept whole,
before and after, each act on a large sheet would cost as much as the sheet.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace
from sys import intern
from typing import Any

from model.changes import Change, Swap, reverted, swapped_in
from model.circuit import Circuit, Sheet
from model.errors import StructureError

Swaps = tuple[Swap, ...]
TABLES = ("places", "routes")


@dataclass(frozen=True, slots=True)
class SheetSwap:
    """What an act changed of one sheet: swaps of its places and of its routes.

    `before` and `after` are the rest of the sheet where that differs, else None.
    """

    key: str
    places: Swaps
    routes: Swaps
    before: Sheet | None = None
    after: Sheet | None = None

    def forth(self, circuit: Circuit) -> Swap:
        """Return the swap of the whole sheet, for a circuit as it was before."""
        old = self._now(circuit)
        return Swap("sheets", self.key, old, self._made(old, self.after, self.places, self.routes))

    def back(self, circuit: Circuit) -> Swap:
        """Return the swap of the whole sheet, for a circuit as it was after."""
        new = self._now(circuit)
        old = self._made(new, self.before, reverted(self.places), reverted(self.routes))
        return Swap("sheets", self.key, old, new)

    def _now(self, circuit: Circuit) -> Sheet:
        if self.key not in circuit.sheets:
            raise StructureError(f"The change does not fit: there is no sheet “{self.key}”.")
        return circuit.sheets[self.key]

    def _made(self, now: Sheet, rest: Sheet | None, places: Swaps, routes: Swaps) -> Sheet:
        return replace(
            rest or now,
            places=swapped_in(now.places, places) if places else now.places,
            routes=swapped_in(now.routes, routes) if routes else now.routes,
        )


@dataclass(frozen=True, slots=True)
class Kept:
    """A change that needs little room; it is made whole again with the circuit at hand."""

    label: str
    swaps: tuple[Swap | SheetSwap, ...]

    def forth(self, circuit: Circuit) -> Change:
        """Return the change, for a circuit as it was before."""
        whole = (s if isinstance(s, Swap) else s.forth(circuit) for s in self.swaps)
        return Change(self.label, tuple(whole))

    def back(self, circuit: Circuit) -> Change:
        """Return the change, for a circuit as it was after."""
        whole = (s if isinstance(s, Swap) else s.back(circuit) for s in self.swaps)
        return Change(self.label, tuple(whole))


def kept(change: Change) -> Kept:
    """Return a change as it is to be kept: made and reverted it does the same."""
    swaps = _merged(change.swaps)
    often = Counter((s.table, s.key) for s in swaps)
    alone = (s if often[s.table, s.key] > 1 else _lean(s) for s in swaps)
    return Kept(intern(change.label), tuple(alone))


def _merged(swaps: Swaps) -> Swaps:
    """Return the swaps without the steps between, where a record is swapped several times.

    What comes between an insertion or a removal and the swap it is merged with only replaces
    other records or moves none past it, so its place in the table stays right.
    """
    made: list[Swap] = []
    latest: dict[tuple[str, str], int] = {}
    for swap in swaps:
        name = (swap.table, swap.key)
        at = latest.get(name)
        first = made[at] if at is not None else None
        if at is not None and first is not None and first.new is not None and swap.new is not None:
            made[at] = Swap(first.table, first.key, first.old, swap.new, first.index)
            continue
        latest[name] = len(made)
        made.append(swap)
    return tuple(made)


def _lean(swap: Swap) -> Swap | SheetSwap:
    """Return a swap of a sheet as what differs, any other as it is."""
    old, new = swap.old, swap.new
    if not (isinstance(old, Sheet) and isinstance(new, Sheet)):
        return swap
    places, routes = (_between(t, getattr(old, t), getattr(new, t)) for t in TABLES)
    if places is None or routes is None:
        return swap
    rests = [replace(s, places={}, routes={}) for s in (old, new)]
    before, after = rests if rests[0] != rests[1] else (None, None)
    return SheetSwap(swap.key, places, routes, before, after)


def _between(table: str, old: Mapping[str, Any], new: Mapping[str, Any]) -> Swaps | None:
    """Return the swaps that make one table of the other, None where what stays changes order."""
    if old is new:
        return ()
    stays = [k for k in old if k in new]
    if stays != [k for k in new if k in old]:
        return None
    gone = [Swap(table, k, old[k], None, i) for i, k in enumerate(old) if k not in new]
    other = [Swap(table, k, old[k], new[k]) for k in stays if old[k] != new[k]]
    come = [Swap(table, k, None, new[k], i) for i, k in enumerate(new) if k not in old]
    return (*reversed(gone), *other, *come)
