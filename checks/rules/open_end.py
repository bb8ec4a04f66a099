"""A wire that ends nowhere.

What it finds
    Wires with one end, or none, joined to a part.

Why it matters
    A live end that hangs free can touch the shell: it is a short waiting to happen. A dead one is
    an unfinished drawing.

Example
    A switched feed run to the rear for a lamp that was taken out.

How to fix
    Join it, or insulate its end and say so in the note.

Limits
    "Live" is reckoned from the end that is joined, over every state looked at.

Reference
    Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from checks.case import Case
from checks.finding import ADVICE, FAULT, Finding
from model.circuit import Wire

NAME = "open-end"
FAMILY = "continuity"
_BASE = """
    G1 battery
    F1 fuse-blade
    M1 module
    X1 ground
    W1 G1.+ F1.1 2.5 0.15
    W2 F1.2 M1.+ 2.5 1
    W3 M1.- X1.g 2.5 0.5
    W4 X1.g G1.- 10 0.3
"""
BAD = (
    (_BASE + "W5 F1.2 - 1 2", ((FAULT, ("F1", "W5")),)),
    (_BASE + "W5 X1.g - 1 2", ((ADVICE, ("X1", "W5")),)),
    (_BASE + "W5 - - 1 2", ((ADVICE, ("W5",)),)),
)
GOOD = (_BASE,)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every wire with an open end."""
    for wire in case.circuit.wires.values():
        if wire.first is None or wire.second is None:
            yield _finding(case, wire)


def _finding(case: Case, wire: Wire) -> Finding:
    """Return the finding of one wire: a fault where the hanging end is live."""
    end = wire.first or wire.second
    name = case.wire_name(wire.id)
    if end is None:
        return Finding(
            rule=NAME,
            severity=ADVICE,
            wires=(wire.id,),
            says="{wire} is joined to nothing at either end.",
            values={"wire": name},
        )
    node = case.network.node_of(*case.node(end))
    live = node is not None and bool(case.live(node).any())
    says = (
        "{wire} leaves {part} and ends nowhere, and its free end can be live: join or insulate it."
        if live
        else "{wire} leaves {part} and ends nowhere."
    )
    return Finding(
        rule=NAME,
        severity=FAULT if live else ADVICE,
        parts=(end.part,),
        wires=(wire.id,),
        says=says,
        values={"wire": name, "part": case.name(end.part)},
        path=(("parts", end.part), ("wires", wire.id)),
    )
