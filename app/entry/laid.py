"""A drawing of what is being typed: the wired parts as they flow, the others waiting below.

It is the automatic layout without its last polish, so that it is there at once after every line.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from app.entry.spot import snapped
from model.circuit import Circuit, Place
from model.layout.card import card, joins
from model.layout.drawing import Drawing
from model.layout.sizes import Sizes
from model.lookup import fresh_id

BETWEEN = 60.0
"""Between cards that wait."""
BELOW = 200.0
"""From the middles of the lowest cards drawn to those of the first row that waits."""
ROW = 900.0
"""A row of waiting cards goes on below where it is wider than this and than the drawing."""
Spots = dict[str, tuple[float, float]]


def laid_out(
    circuit: Circuit, sizes: Sizes | None, before: Iterable[Place], new: Iterable[str] = ()
) -> list[Place]:
    """Return automatic places for parts typed without one.

    Parameters
    ----------
    sizes
        What the cards are built from; None as the circuit has it.
    before
        The places they had; parts that are gone have none any more.
    new
        Parts that had none.
    """
    held = {p.part: p for p in before if p.part in circuit.parts}
    keys: dict[str, object] = {p.id: None for p in held.values()}
    for part in new:
        key = fresh_id(keys, "a")
        keys[key] = None
        held[part] = Place(key, part, pinned=False)
    own = [k for k in held if circuit.parts[k].host not in circuit.parts]
    wired = _wired(circuit)
    drawing = Drawing(_only(circuit, wired), sizes) if wired else None
    spots: Spots = dict(drawing.spots()) if drawing else {}
    turned = drawing.mirrored if drawing else set[str]()
    spots |= _waiting(circuit, [k for k in own if k not in spots], spots, sizes)
    return [
        replace(held[k], x=x, y=y, turn=0, mirrored=k in turned)
        for k, (x, y) in spots.items()
        if k in held
    ]


def _wired(circuit: Circuit) -> set[str]:
    """Return the parts that a wire ends at, or that one in them has."""
    ends = (e for w in circuit.wires.values() for e in (w.first, w.second) if e is not None)
    return {circuit.parts[e.part].host or e.part for e in ends if e.part in circuit.parts}


def _only(circuit: Circuit, wired: set[str]) -> Circuit:
    """Return the circuit with these parts, what sits in them and their wires."""
    parts = {k: p for k, p in circuit.parts.items() if k in wired or p.host in wired}
    return replace(circuit, parts=parts)


def _waiting(circuit: Circuit, parts: list[str], drawn: Spots, sizes: Sizes | None) -> Spots:
    """Return places in rows from left to right, below what is drawn."""
    counts = joins(circuit)
    left = min((x for x, _ in drawn.values()), default=0.0)
    right = max((x for x, _ in drawn.values()), default=0.0)
    x, y, deep = left, max((y for _, y in drawn.values()), default=-BELOW) + BELOW, 0.0
    found: Spots = {}
    for key in parts:
        outer = card(circuit, circuit.parts[key], None, counts, sizes).outer
        if x > left and x + outer.w > max(right, left + ROW):
            x, y, deep = left, y + deep + BETWEEN, 0.0
        found[key] = (snapped(x - outer.x), snapped(y))
        x, deep = x + outer.w + BETWEEN, max(deep, outer.h)
    return found
