"""Which wires lie in a sheath or enclosure of their own, and how far from a supply a fuse may be.

Small-craft practice knows three distances from where a conductor gets its current to its fuse, by
how well it is kept from chafing through; road vehicles have no figure in law.
"""

from __future__ import annotations

from model.circuit import Circuit, Wire

BARE_M = 0.18
"""7 in (178 mm, here to the nearest 10 mm): 33 CFR 183.455; 180 mm in ISO 13590."""
SHEATHED_M = 1.016
"""40 in, in a sheath or enclosure along all of its way: 33 CFR 183.455, ABYC E-11."""
POST_M = 1.829
"""72 in, in a sheath, straight from the battery's post: ABYC E-11."""
ROAD_M = 0.3
"""What the trade keeps on road vehicles, for which no law has a figure; common practice, no
source (180 to 300 mm are said)."""
NO_SHEATH = frozenset(("", "none", "no", "open", "tape", "taped", "clips", "ties"))
"""Covers of a branch that keep nothing from chafing through."""


def sheathed(circuit: Circuit, wire: Wire) -> bool:
    """Tell whether a wire is a core of a sheathed cable, or runs in covered branches only."""
    cable = circuit.cables.get(wire.cable)
    if cable is not None and covers(cable.sheath):
        return True
    branches = [circuit.branches[b] for b in wire.branches if b in circuit.branches]
    if not branches or not all(covers(b.cover) for b in branches):
        return False
    lengths = [b.length_m for b in branches]
    if wire.length_m is None or None in lengths:
        return True
    return sum(m for m in lengths if m is not None) >= wire.length_m - 1e-9


def covers(what: str) -> bool:
    """Tell whether a cover by its name is a sheath; tape and ties are none."""
    return what.strip().lower() not in NO_SHEATH
