"""Automatic places: supply side left, loads right, ground points below what they serve.

A sheet without kept places gets the whole layered drawing of its circuit (`drawing`); new parts
among kept ones stand to what they join as in that drawing.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from model.circuit import Circuit, Place, Sheet
from model.layout.best import MOST_PARTS, best_of
from model.layout.card import card
from model.layout.drawing import Drawing
from model.layout.nearest import ASIDE, Spots, nearest_free
from model.layout.sizes import Sizes
from model.lookup import fresh_id

NEARBY = 250
"""A new part stands no farther than this from what it joins, each way, if there is room."""


def arrange(
    circuit: Circuit, sheet_id: str, only: set[str] | None = None, sizes: Sizes | None = None
) -> list[Place]:
    """Return places for parts of a sheet; nothing else moves.

    Parameters
    ----------
    only
        The parts to place. None: all that have no place on this sheet, or one no person chose.
    sizes
        What the cards are built from; by default as the circuit has it.

    Returns
    -------
    list of Place
        New or moved places, in the order of the circuit's parts; the same input gives the same.
    """
    sheet = circuit.sheets.get(sheet_id, Sheet(sheet_id))
    held = {p.part: p for p in sheet.places.values()}
    wanted = [p for p in _drawn(circuit) if _is_free(p, held.get(p), only)]
    fixed = [p for p in sheet.places.values() if p.part in circuit.parts and p.part not in wanted]
    for_class = sizes is not None and sizes.for_class
    if fixed or for_class or len(wanted) > MOST_PARTS:
        drawing = Drawing(circuit, sizes)
        ideal = drawing.spots()
        spots = _beside(drawing, wanted, fixed, ideal) if fixed else {p: ideal[p] for p in wanted}
        return _as_places(sheet, held, spots, drawing.mirrored)
    best = best_of(circuit, sizes)
    spots = {p: (best[p].x, best[p].y) for p in wanted}
    return [
        replace(p, turn=best[p.part].turn, mirrored=best[p.part].mirrored)
        for p in _as_places(sheet, held, spots, set())
    ]


def _drawn(circuit: Circuit) -> list[str]:
    """Return the parts that have cards of their own: those that sit in no other."""
    return [p.id for p in circuit.parts.values() if p.host not in circuit.parts]


def _is_free(part: str, place: Place | None, only: set[str] | None) -> bool:
    if only is not None:
        return part in only and not (place and place.shows)
    return place is None or not (place.pinned or place.shows)


def _as_places(
    sheet: Sheet, held: Mapping[str, Place], spots: Spots, mirrored: set[str]
) -> list[Place]:
    """Return the places, with the ids they had or fresh ones."""
    taken: dict[str, object] = dict(sheet.places)
    made = []
    for part, (x, y) in spots.items():
        old = held.get(part)
        key = old.id if old else fresh_id(taken, "a")
        taken[key] = None
        made.append(Place(key, part, x, y, mirrored=part in mirrored, pinned=False))
    return made


def _beside(drawing: Drawing, wanted: Sequence[str], fixed: Sequence[Place], ideal: Spots) -> Spots:
    """Return places for new parts among kept ones: as they stand to what they join."""
    circuit, counts = drawing.circuit, drawing.counts
    at = {p.part: (p.x, p.y) for p in fixed}
    sizes = drawing.sizes
    kept = [(card(circuit, circuit.parts[p.part], p, counts, sizes), p) for p in fixed]
    taken = [made.outer.moved(p.x, p.y) for made, p in kept]
    found: Spots = {}
    for part in sorted(wanted, key=lambda p: ideal[p]):
        near = [q for q in _wired_to(circuit, part) if q in at] or list(at)
        wishes = [_beyond(at[q], ideal[q], ideal[part]) for q in near]
        wish = (_middle([x for x, _ in wishes]), _middle([y for _, y in wishes]))
        outer = drawing.cards[part].outer
        xy = nearest_free(outer.grown(ASIDE), wish, taken)
        found[part] = at[part] = xy
        taken.append(outer.moved(*xy))
    return {p: found[p] for p in wanted}


def _beyond(
    at: tuple[float, float], ideal: tuple[float, float], mine: tuple[float, float]
) -> tuple[float, float]:
    """Return where a part stands to a kept one as in the whole drawing, though no farther off."""
    dx = max(-NEARBY, min(NEARBY, mine[0] - ideal[0]))
    dy = max(-NEARBY, min(NEARBY, mine[1] - ideal[1]))
    return (at[0] + dx, at[1] + dy)


def _middle(values: Sequence[float]) -> float:
    return sorted(values)[len(values) // 2] if values else 0.0


def _wired_to(circuit: Circuit, part: str) -> list[str]:
    """Return the parts at the other ends of a part's wires."""
    found = []
    for wire in circuit.wires.values():
        ends = [e.part for e in (wire.first, wire.second) if e is not None]
        if part in ends:
            found += [p for p in ends if p != part]
    return found
