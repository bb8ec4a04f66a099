"""Ground points that lead to a shell which is not joined to the supply.

What it finds
    Ground points with wires on them while no wire joins the shell to the supply's minus; a battery
    whose plus is joined to the shell instead.

Why it matters
    Every load that returns through the shell is dead, or finds its way back through something
    else.

Example
    The battery's minus cable was never bolted to the body.

How to fix
    Run a cable from the battery's minus to a ground point; it carries the sum of all returns.

Limits
    One finding for all ground points: the shell is one conductor.

Reference
    Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from checks.case import Case
from checks.finding import FAULT, Finding

NAME = "ground-not-joined"
FAMILY = "ground path"
_BASE = """
    G1 battery
    F1 fuse-blade
    M1 module
    X1 ground
    X2 ground
    W1 G1.+ F1.1 2.5 0.15
    W2 F1.2 M1.+ 2.5 1
    W3 M1.- X1.g 2.5 0.5
"""
_TURNED = """
    G1 battery
    F1 fuse-blade
    S1 switch
    H1 lamp
    X1 ground
    W1 G1.- F1.1 2.5 0.15
    W2 F1.2 S1.1 1 1
    W3 S1.2 H1.+ 1 1
    W4 H1.- X1.g 1 0.5
    W5 X1.g G1.+ 10 0.3
"""
BAD = ((_BASE, ((FAULT, ("X1",)),)), (_TURNED, ((FAULT, ("G1",)),)))
GOOD = (_BASE + "W4 X2.g G1.- 10 0.3",)


def find(case: Case) -> Iterator[Finding]:
    """Yield one finding where the shell is not joined to the supply."""
    if case.plus_on_shell:
        yield _backwards(case, case.plus_on_shell)
        return
    used = [e.owner for _, e in case.network.of_role("ground") if case.wires_at(e.owner, "g")]
    if case.shell_joined or not used or not case.sources:
        return
    wires = [w.id for part in used for w in case.wires_at(part, "g")]
    yield Finding(
        rule=NAME,
        severity=FAULT,
        parts=tuple(used),
        wires=(),
        says="The shell is not joined to the supply's minus, so nothing that returns through "
        "{grounds} has a way back.",
        values={"grounds": ", ".join(case.name(p) for p in used)},
        path=tuple(("wires", w) for w in wires),
    )


def _backwards(case: Case, part_id: str) -> Finding:
    """Return the finding of a battery the wrong way round."""
    return Finding(
        rule=NAME,
        severity=FAULT,
        parts=(part_id,),
        says="The shell is joined to the plus of {part}, not to its minus. Right only in a vehicle "
        "built so; elsewhere {part} is the wrong way round, and diodes, electronics and motors are "
        "fed backwards.",
        values={"part": case.name(part_id)},
        path=(("parts", part_id),),
    )
