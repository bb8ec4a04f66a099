"""Where on a sheet a new part's card goes: at the cursor, or beside what stands there."""

from __future__ import annotations

from app.entry.plan import Point
from model.circuit import Circuit, Part
from model.layout.card import card, cards
from model.layout.geometry import Rect

GRID = 10.0
STEP = 40.0
ROOM = 20.0
"""Between cards, on each side, so that wires and their labels pass."""
BESIDE = 90.0
"""Between a card and the one typed after it: a wire and its label pass."""
RINGS = 60


def snapped(value: float) -> float:
    """Return the nearest place on the grid."""
    return round(value / GRID) * GRID


def free_spot(circuit: Circuit, sheet_id: str, part: Part, near: Point) -> Point:
    """Return the middle of a card for a new part: near a point and over no other card."""
    new = card(circuit, part).outer.grown(ROOM)
    held = _held(circuit, sheet_id)
    x, y = snapped(near[0]), snapped(near[1])
    for ring in range(RINGS):
        for dx, dy in _ring(ring):
            moved = new.moved(x + dx, y + dy)
            if not any(moved.overlaps(other) for other in held):
                return x + dx, y + dy
    return x, y


def beside(circuit: Circuit, part: Part, at: Point) -> Point:
    """Return the point just right of a card that stands at a point, for the next part."""
    outer = card(circuit, part).outer
    return snapped(at[0] + 2 * outer.right + BESIDE), at[1]


def _held(circuit: Circuit, sheet_id: str) -> list[Rect]:
    sheet = circuit.sheets.get(sheet_id)
    if sheet is None:
        return []
    made = cards(circuit, sheet)
    return [made[k].outer.moved(p.x, p.y) for k, p in sheet.places.items() if k in made]


def _ring(size: int) -> list[Point]:
    """Return the steps that lie `size` away from the middle, to the right first."""
    across = range(-size, size + 1)
    steps = ((x * STEP, y * STEP) for x in across for y in across if max(abs(x), abs(y)) == size)
    return sorted(steps, key=lambda s: (abs(s[1]), -s[0]))
