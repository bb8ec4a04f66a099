"""A fuse between a load and ground.

What it finds
    Fuses and breakers of which one side is joined to ground by wire and joints alone, while the
    other side is reached from the supply only through loads and coils.

Why it matters
    A short from the feed to the shell goes round such a fuse and nothing ends it. Once it has
    blown, the load stands still but all of it, its feed terminal and its return too, carries the
    battery's voltage.

Example
    A fuse in the black wire of a lamp. The red wire chafes through on the frame: the fuse is not
    in the way of that current and the wire glows.

How to fix
    Move it into the feed, as near the supply as it can be mounted, and join the ground straight.

Limits
    A fuse at the battery's own minus post is not looked at where the feed has one too, as some
    two-wire installations have both.

Reference
    Protection stands in the side that is not grounded: Lessons in Electric Circuits, volume DC,
    on fuses.
"""

from __future__ import annotations

from collections.abc import Iterator

from checks.case import Case
from checks.finding import DANGER, Finding
from checks.wording import listed
from model.network import Edge

NAME = "fuse-in-ground-side"
FAMILY = "protection"
_BASE = """
    G1 battery
    F1 fuse-blade rating_a=10
    S1 switch
    E1 heater current_a=4
    X1 ground
    W3 S1.2 E1.+ 1.5 1
    W5 X1.g G1.- 10 0.3
"""
BAD = (
    (
        _BASE
        + """
    W1 G1.+ S1.1 1.5 0.15
    W2 E1.- F1.1 1.5 0.3
    W4 F1.2 X1.g 1.5 0.3
    """,
        ((DANGER, ("F1", "E1")),),
    ),
)
GOOD = (
    _BASE
    + """
    W1 G1.+ F1.1 1.5 0.15
    W2 F1.2 S1.1 1.5 0.3
    W4 E1.- X1.g 1.5 0.3
    """,
)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every fuse in the ground side of a load."""
    if case.plus_on_shell:
        return  # the plus is on the shell: ground-not-joined says so
    for _, edge in case.network.of_role("fuse"):
        ends = {edge.a, edge.b}
        grounded = ends & case.always_ground
        if len(grounded) != 1 or ends & case.could_feed:
            continue
        served = _served(case, edge, (ends - grounded).pop())
        if served:
            yield _finding(case, edge, served)


def _served(case: Case, edge: Edge, start: int) -> tuple[str, ...]:
    """Return the loads and coils that return through a fuse, met from its far side."""
    seen, todo = {start}, [start]
    while todo:
        for other, link in case.links.get(todo.pop(), ()):
            if link.key != edge.key and other not in seen and other not in case.always_ground:
                seen.add(other)
                todo.append(other)
    uses = (*case.loads, *case.coils)
    return tuple(dict.fromkeys(u.part.id for u in uses if {u.a, u.b} & seen))


def _finding(case: Case, edge: Edge, served: tuple[str, ...]) -> Finding:
    """Return the finding of one fuse."""
    return Finding(
        rule=NAME,
        severity=DANGER,
        parts=(edge.owner, *served),
        says="{fuse} stands in the ground side of {loads}: a short from their feed to the shell "
        "goes round it, and once it has blown their terminals stay live. Put it into the feed.",
        values={
            "fuse": case.name(edge.owner),
            "loads": listed(case.name(p) for p in served),
        },
        source="Lessons in Electric Circuits, DC, on fuses",
        path=(("parts", edge.owner), *(("parts", p) for p in served)),
    )
