"""Room on a sheet: which card stands over another, and the nearest place where none does."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from model.circuit import Circuit, Place, Sheet
from model.editing.draft import FARTHEST, listed
from model.layout.card import Card, card, joins
from model.layout.geometry import Point, Rect, snap_up, united
from model.layout.nearest import nearest_free
from model.layout.sizes import Sizes
from model.lookup import label

LEAPS = 60
"""How many leaps away a block of cards may land before it goes below everything."""


PIECE = "@"
"""What stands before the id of a place where one place of a part is meant, not all of them."""


def places_meant(shown: Sheet, ids: Iterable[str]) -> list[Place]:
    """Return the places of parts by their ids, and single places by theirs after `PIECE`."""
    wanted = set(ids)
    return [p for p in shown.places.values() if p.part in wanted or PIECE + p.id in wanted]


class Room:
    """The cards of a sheet as it is drawn.

    Parameters
    ----------
    circuit
        The circuit; parts sitting in others have no card of their own.
    shown
        The sheet with every place on it.
    sizes
        The sizes of its cards; None: those that the circuit has.
    """

    def __init__(self, circuit: Circuit, shown: Sheet, sizes: Sizes | None = None) -> None:
        self.circuit = circuit
        self.shown = shown
        self.sizes = sizes
        self._counts = joins(circuit)

    def places_of(self, part_ids: Iterable[str]) -> list[Place]:
        """Return the places of these parts on the sheet, in its order."""
        return self.drawn(places_meant(self.shown, part_ids))

    def others(self, places: Iterable[Place]) -> list[Rect]:
        """Return the areas of every card but these."""
        chosen = {p.id for p in places}
        standing = self.drawn(p for p in self.shown.places.values() if p.id not in chosen)
        return [self.area(p) for p in standing]

    def area(self, place: Place) -> Rect:
        """Return the area of a card with its labels, on the sheet."""
        return self._card(place).outer.moved(place.x, place.y)

    def body(self, place: Place) -> Rect:
        """Return the area of a card without its labels, on the sheet."""
        return self._card(place).body.moved(place.x, place.y)

    def _card(self, place: Place) -> Card:
        part = self.circuit.parts[place.part]
        return card(self.circuit, part, place, self._counts, self.sizes)

    def drawn(self, places: Iterable[Place]) -> list[Place]:
        """Return those places whose parts have cards of their own."""
        drawn = self._drawn()
        return [p for p in places if p.part in drawn]

    def _drawn(self) -> set[str]:
        parts = self.circuit.parts
        return {k for k, p in parts.items() if p.host not in parts}

    def apart(self, places: Sequence[Place], axis: str = "") -> tuple[list[Place], str]:
        """Return the places, none over another card, and a sentence on those moved aside.

        Parameters
        ----------
        places
            Where the chosen cards should stand.
        axis
            "x" moves them along x only as long as there is room, "y" along y, "" either way.
        """
        taken = self.others(places)
        made, moved = [], []
        for place in sorted(places, key=_order(axis)):
            found = self._free(place, taken, axis)
            taken.append(self.area(found))
            made.append(found)
            if (found.x, found.y) != (place.x, place.y):
                moved.append(label(self.circuit.parts[place.part]))
        said = f"Moved aside to stay clear of other cards: {listed(moved, 5)}." if moved else ""
        return made, said

    def together(self, places: Sequence[Place], gap: float = 0.0) -> list[Place]:
        """Return the places moved as one, where none of them stands over another card.

        `gap` is what has to be free between them and other cards.
        """
        taken = [r.grown(gap) for r in self.others(places)]
        areas = [self.area(p) for p in places]
        if not any(a.overlaps(t) for a in areas for t in taken):
            return list(places)
        dx, dy = _clear(united(areas), taken)
        return [replace(p, x=p.x + dx, y=p.y + dy) for p in places]

    def _free(self, place: Place, taken: Sequence[Rect], axis: str) -> Place:
        """Return the place nearest to a wish whose card is over no other."""
        area = self.area(place)
        if not any(area.overlaps(t) for t in taken):
            return place
        if axis:
            step = _along(area, taken, axis)
            dx, dy = (step, 0.0) if axis == "x" else (0.0, step)
            if max(abs(place.x + dx), abs(place.y + dy)) <= FARTHEST:
                return replace(place, x=place.x + dx, y=place.y + dy)
        at = (place.x, place.y)
        x, y = nearest_free(area.moved(-place.x, -place.y), at, taken)
        return replace(place, x=x, y=y)


def _order(axis: str) -> Callable[[Place], tuple[float, float, str]]:
    """Return the order in which cards take their places along an axis."""
    if axis == "x":
        return lambda p: (p.x, p.y, p.id)
    return lambda p: (p.y, p.x, p.id)


def _along(area: Rect, taken: Sequence[Rect], axis: str) -> float:
    """Return the least step along an axis that clears an area, onwards before back."""
    level = axis == "x"
    blocked = []
    for other in taken:
        beside = replace(area, x=other.x, w=other.w) if level else replace(
            area, y=other.y, h=other.h)  # fmt: skip
        if beside.overlaps(other):
            blocked.append((other.x - area.right, other.right - area.x) if level else
                           (other.y - area.bottom, other.bottom - area.y))  # fmt: skip
    steps = [snap_up(high) for _, high in blocked] + [-snap_up(-low) for low, _ in blocked]
    free = (s for s in steps if not any(low < s < high for low, high in blocked))
    return float(min(free, key=lambda s: (abs(s), s < 0)))


def _clear(block: Rect, taken: Sequence[Rect]) -> Point:
    """Return a short way for a block of cards to where it is over no other; large ones in leaps."""
    leap = snap_up(max(block.w, block.h, 1) / 16)
    for size in range(1, LEAPS):
        reach = range(-size, size + 1)
        ring = {(a, b) for s in reach for e in (-size, size) for a, b in ((s, e), (e, s))}
        for a, b in sorted(ring, key=lambda o: (o[0] ** 2 + o[1] ** 2, o[1] < 0, o[0] < 0, o)):
            here = block.moved(a * leap, b * leap)
            if not any(here.overlaps(t) for t in taken):
                return (float(a * leap), float(b * leap))
    return (0.0, float(snap_up(united(taken).bottom - block.y)))
