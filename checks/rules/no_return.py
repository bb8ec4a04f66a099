"""A load or coil that nothing can join to the supply's minus.

What it finds
    Loads and coils of which neither end is joined, in any position, to the minus of the supply by
    wires, contacts, joints and ground points.

Why it matters
    Current needs a way back. Without one the load stays dead although its plus reads full volts,
    and so do both of its ends: the commonest hook-up error.

Example
    A pump with its ground wire missing: both terminals read 12.6 V, the pump is still.

How to fix
    Join the ground side to a ground point, and that ground point to the supply.

Limits
    A way back only through another load counts as none.

Reference
    Kirchhoff's current law. The reading (battery volts on both ends) is common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from checks.case import Case, Use
from checks.finding import FAULT, Finding

NAME = "no-return"
FAMILY = "continuity"
BAD = (
    (
        """
        G1 battery
        F1 fuse-blade
        S1 switch
        M1 pump
        X1 ground
        W1 G1.+ F1.1 2.5 0.15
        W2 F1.2 S1.1 2.5 1
        W3 S1.2 M1.+ 2.5 1
        W4 X1.g G1.- 10 0.3
        """,
        ((FAULT, ("M1",)),),
    ),
)
GOOD = (
    """
    G1 battery
    F1 fuse-blade
    S1 switch
    M1 pump
    X1 ground
    W1 G1.+ F1.1 2.5 0.15
    W2 F1.2 S1.1 2.5 1
    W3 S1.2 M1.+ 2.5 1
    W4 X1.g G1.- 10 0.3
    W5 M1.- X1.g 2.5 0.5
    """,
)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every load and coil without a way back."""
    for use in (*case.loads, *case.coils):
        if {use.a, use.b} & case.could_ground or not _wired(case, use):
            continue
        yield Finding(
            rule=NAME,
            severity=FAULT,
            parts=(use.part.id,),
            says="{part} has no way back to the supply: neither {a} nor {b} is joined to its "
            "minus in any position.",
            values={"part": use.name, "a": use.a_node, "b": use.b_node},
            source="Kirchhoff's current law",
            path=tuple(("wires", w.id) for n in (use.a_node, use.b_node)
                       for w in case.wires_at(use.part.id, n)),
        )  # fmt: skip


def _wired(case: Case, use: Use) -> bool:
    """Tell whether any wire reaches the load at all; if none does it is a loose part."""
    return bool({use.a, use.b} & case.could_feed)
