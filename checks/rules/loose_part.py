"""A part that is not in the circuit.

What it finds
    Parts without any wire; fuses, switches, diodes and ground points of which only one side is
    joined; wired slots with nothing in them; ways of a connector with wires on one face only.

Why it matters
    It is either forgotten or in the wrong place; a fuse with nothing behind it protects nothing.

Example
    A fuse whose output was never wired.

How to fix
    Wire it, or delete it.

Limits
    Spare terminals of relays, connectors and multi-position switches are normal and not told.

Reference
    Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from checks.case import Case
from checks.finding import ADVICE, Finding
from checks.wording import listed
from model.circuit import Part
from model.lookup import body_of

NAME = "loose-part"
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
EMPTY = "{part} is wired at slot {end}, and nothing sits there: no current passes."
HALF = "Way {end} of {part} has a wire on one face only: what comes there goes no farther."
_BOX = """
    G1 battery
    X2 fuse-box ways=2
    M1 module
    X1 ground
    W1 G1.+ X2.B 2.5 0.15
    W2 X2.1 M1.+ 2.5 1
    W3 M1.- X1.g 2.5 0.5
    W4 X1.g G1.- 10 0.3
"""
_PLUG = """
    G1 battery
    F1 fuse-blade
    X2 connector ways=2
    M1 module
    X1 ground
    W1 G1.+ F1.1 2.5 0.15
    W2 F1.2 X2.1/a 2.5 1
    W3 X2.1/b M1.+ 2.5 1
    W4 M1.- X2.2/b 2.5 0.5
    W5 X1.g G1.- 10 0.3
"""
BAD = (
    (_BOX, ((ADVICE, ("X2",)),)),
    (_PLUG, ((ADVICE, ("X2",)),)),
    (_BASE + "H1 lamp", ((ADVICE, ("H1",)),)),
    (_BASE + "F2 fuse-blade rating_a=5\nW5 G1.+ F2.1 1 0.15", ((ADVICE, ("F2",)),)),
)
GOOD = (_BASE, _BOX + "F1 fuse-blade host=X2 slot=1", _PLUG + "W6 X2.2/a X1.g 2.5 0.5")


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every loose part."""
    kept = case.network.frame.kept
    for part in case.circuit.parts.values():
        yield from kept(NAME, part.id, (part,), partial(_loose, case, part))


def _loose(case: Case, part: Part) -> tuple[Finding, ...]:
    """Return what is loose about a part: that follows from what is joined to what."""
    return (*_empty(case, part), *_half(case, part), *_unwired(case, part))


def _unwired(case: Case, part: Part) -> Iterator[Finding]:
    """Yield a finding for a part without wires, or with a wire at one of its two ends only."""
    nodes = [t.node for t in body_of(case.circuit, part).terminals]
    wired = [n for n in nodes if case.wires_at(part.id, n)]
    if part.host or part.id in case.hosts:
        return
    if not wired:
        yield _finding(part, case, "{part} is not wired to anything.", "")
    elif len(nodes) == 2 and len(wired) == 1 and not case.is_load(part.id):
        missing = next(n for n in nodes if n not in wired)
        yield _finding(part, case, "Nothing is joined to {part}.{end}.", missing)


def _empty(case: Case, part: Part) -> Iterator[Finding]:
    """Yield a finding for a part with wired slots in which nothing sits."""
    body = body_of(case.circuit, part)
    if not body.slots:
        return
    taken = {p.slot for p in case.circuit.parts.values() if p.host == part.id}
    own = {s.name: {n for _, n in s.joins} for s in body.slots}
    shared = {n for n in set().union(*own.values()) if sum(n in o for o in own.values()) > 1}
    empty = [
        s for s in own
        if s not in taken and any(case.wires_at(part.id, n) for n in own[s] - shared)
    ]  # fmt: skip
    if empty:
        yield _finding(part, case, EMPTY, listed(empty))


def _half(case: Case, part: Part) -> Iterator[Finding]:
    """Yield a finding for a connector with ways that are wired on one face only."""
    faces: dict[str, list[bool]] = {}
    for terminal in body_of(case.circuit, part).terminals:
        if terminal.face:
            wired = bool(case.wires_at(part.id, terminal.node))
            faces.setdefault(terminal.key, []).append(wired)
    half = [key for key, wired in faces.items() if any(wired) and not all(wired)]
    if half:
        yield _finding(part, case, HALF, listed(half))


def _finding(part: Part, case: Case, says: str, end: str) -> Finding:
    """Return the finding of one part."""
    return Finding(
        rule=NAME,
        severity=ADVICE,
        parts=(part.id,),
        says=says,
        values={"part": case.name(part.id), "end": end},
    )
