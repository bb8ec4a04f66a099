"""Which acts are offered where the mouse is: those that fit what is selected."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from model.circuit import Circuit
from model.editing.apart import pieces
from model.kinds.body import FusePath
from model.lookup import body_of, kind_of

NOTHING = ("type", "paste", "", "find", "select_all", "", "tidy")
"""Offered where nothing is selected."""
NEEDS = {
    "change": ("parts", "wires"),
    "replace": ("parts",),
    "rename": ("one",),
    "size": ("parts",),
    "remove_splice": ("joint",),
    "splice": ("pair",),
    "swap_ends": ("wires",),
    "bend": ("wires",),
    "draw_apart": ("apart",),
    "draw_as_one": ("pieces",),
    "hold_other": ("pieces",),
    "rotate": ("parts",),
    "mirror": ("parts",),
    "select_fed": ("fuse",),
    "select_ground": ("ground",),
    "select_kind": ("parts",),
    "select_colour": ("wires",),
    "select_size": ("wires",),
    "&Arrange": ("parts",),
}
"""What must be selected for an act to be offered, one of these; the others always are."""


def offered(circuit: Circuit, chosen: Collection[str], acts: Collection[str]) -> tuple[str, ...]:
    """Return those of the acts that fit a selection, with "" between groups."""
    if not chosen:
        return NOTHING
    there = set(what_is(circuit, chosen))
    kept: list[str] = []
    for key in acts:
        fits = key not in NEEDS or there.intersection(NEEDS[key])
        if fits and (key or (kept and kept[-1])):
            kept.append(key)
    return tuple(kept[:-1] if kept and not kept[-1] else kept)


def what_is(circuit: Circuit, chosen: Collection[str]) -> Iterator[str]:
    """Yield what a selection holds."""
    parts = [circuit.parts[i] for i in chosen if i in circuit.parts]
    wires = [i for i in chosen if i in circuit.wires]
    yield from ["parts"] * bool(parts) + ["wires"] * bool(wires)
    if len(chosen) == 1:
        yield "one"
    if len(chosen) == 2 and wires:
        yield "pair"
    if len(parts) == 1:
        yield kind_of(circuit, parts[0]).family
        body = body_of(circuit, parts[0])
        if any(isinstance(e, FusePath) for e in body.elements):
            yield "fuse"
        if pieces(body):
            yield "pieces" if is_apart(circuit, parts[0].id) else "apart"


def is_apart(circuit: Circuit, part_id: str) -> bool:
    """Tell whether a part's coil and contacts are drawn apart on any sheet."""
    places = (p for s in circuit.sheets.values() for p in s.places.values())
    return any(p.part == part_id and p.shows for p in places)
