"""The card of a part on a sheet: its size, ports and label areas, around its centre.

The one source of card geometry for the window and the drawings. A wire ends at a port's spot, on
the card's edge; a terminal that several wires share has one spot a wire, so that they enter it
separately. Turning a card moves its terminals to other sides; texts stay upright.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import replace

from model.circuit import Circuit, Part, Place, Sheet
from model.kinds.body import Body, Coil, Terminal
from model.layout.ask import Ask
from model.layout.build import build
from model.layout.shape import Card, Port, Spot
from model.layout.sizes import COMPACT, ORDINARY, Sizes
from model.lookup import body_of, kind_of

__all__ = [
    "COMPACT_ABOVE",
    "Card",
    "Port",
    "Spot",
    "card",
    "cards",
    "is_compact",
    "joins",
    "sizes_of",
]

COIL, CONTACTS = "coil", "contacts"
"""The pieces in which a part may be drawn."""
COMPACT_ABOVE = 40
"""Circuits of more parts than this get compact cards."""


def is_compact(circuit: Circuit) -> bool:
    """Tell whether the circuit's cards are the compact ones."""
    return len(circuit.parts) > COMPACT_ABOVE


def sizes_of(circuit: Circuit) -> Sizes:
    """Return the sizes of a circuit's cards where none are asked for."""
    return COMPACT if is_compact(circuit) else ORDINARY


def joins(circuit: Circuit) -> Counter[tuple[str, str]]:
    """Count the wires at every node (part id, node name)."""
    ends = (end for wire in circuit.wires.values() for end in (wire.first, wire.second))
    return Counter(end.node for end in ends if end is not None)


def card(
    circuit: Circuit,
    part: Part,
    place: Place | None = None,
    counts: Mapping[tuple[str, str], int] | None = None,
    sizes: Sizes | None = None,
) -> Card:
    """Return the card of a part.

    Parameters
    ----------
    place
        Where it stands: its turn, mirroring and the elements it shows.
    counts
        Wires at every node, from `joins`; counted anew when not given.
    sizes
        What it is built from; by default ordinary or compact, as the circuit has it.
    """
    counts = joins(circuit) if counts is None else counts
    kind = kind_of(circuit, part)
    body = body_of(circuit, part)
    shows = place.shows if place else ()
    shown = _shown(body, shows)
    piece = piece_of(body, shows)
    ask = Ask(
        kind="" if piece == COIL else part.kind,
        family=kind.family,
        terminals=shown,
        wires=tuple(counts.get((part.id, t.node), 0) for t in shown),
        markings=part.markings,
        words=tuple(p.name for p in body.positions),
        reference=part.reference,
        name=_piece_name(circuit, part, place, piece) if piece and place else part.name,
        turn=place.turn if place else 0,
        mirrored=bool(place and place.mirrored),
        sizes=sizes or sizes_of(circuit),
    )
    made = build(ask)
    return replace(made, piece=piece) if piece else made


def piece_of(body: Body, shows: tuple[str, ...]) -> str:
    """Return which piece of a part these elements are, "" where they are all of it."""
    if not shows:
        return ""
    held = any(isinstance(e, Coil) for e in body.elements if e.name in shows)
    return COIL if held else CONTACTS


def nodes_shown(circuit: Circuit, part: Part, place: Place) -> set[str]:
    """Return the nodes of the terminals that are shown at a place of a part."""
    return {t.node for t in _shown(body_of(circuit, part), place.shows)}


def _piece_name(circuit: Circuit, part: Part, place: Place, piece: str) -> str:
    """Return what is written on a piece: which it is, and the sheet of the others if not here."""
    other = CONTACTS if piece == COIL else COIL
    away = []
    for number, sheet in enumerate(circuit.sheets.values(), 1):
        same = [p for p in sheet.places.values() if p.part == part.id and p.shows]
        if same and not any(p.id == place.id and p.shows == place.shows for p in same):
            away.append(sheet.name or f"Sheet {number}")
    if away:
        return f"{piece}; {other}: {', '.join(away)}"
    return f"{piece}, {part.name}" if part.name else piece


def cards(circuit: Circuit, sheet: Sheet, sizes: Sizes | None = None) -> dict[str, Card]:
    """Return the card of every place of a sheet, by place id."""
    counts = joins(circuit)
    return {
        place.id: card(circuit, circuit.parts[place.part], place, counts, sizes)
        for place in sheet.places.values()
        if place.part in circuit.parts
    }


def _shown(body: Body, shows: tuple[str, ...]) -> tuple[Terminal, ...]:
    """Return the terminals of the elements shown; all of them when nothing is named.

    Where every terminal of a part's own table would stand on the right, the first goes left.
    """
    terminals = body.terminals
    if len(terminals) > 1 and all(t.side == "right" for t in terminals):
        terminals = (replace(terminals[0], side="left"), *terminals[1:])
    if not shows:
        return terminals
    nodes = {n for e in body.elements if e.name in shows for n in (e.a, e.b)}
    return tuple(t for t in terminals if t.node in nodes)
