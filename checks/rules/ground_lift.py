"""A ground side that stands too far above the supply's minus.

What it finds
    Loads whose ground end is more than 0.1 V above the minus of the supply while they run; joints
    and ground points that stand so high, once for all loads that return through them: in the state
    that lifts them most, with every load that is on then, its current and its part of the lift.

Why it matters
    Volts lost on the ground side are missing at the load, and everything else on the same ground
    point is lifted too: relays chatter, sensors read wrong.

Example
    A 22 A fan on half a metre of thin wire to a stud in the wing: 0.2 V.

How to fix
    A thicker or shorter return, a ground point of its own, a thicker cable to the battery.

Limits
    0.1 V is a limit for the whole ground side of an accessory; a starter's return is left to the
    voltage drop. Shorts, and states in which a fuse carries twice its rating, do not last and do
    not count. Where a wire on the way has no size or length yet, the finding is unknown.

Reference
    Ground side at most 0.1 V under load: trade teaching (apextechnation.com), seen there.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from checks.case import Case, Use
from checks.finding import ADVICE, UNKNOWN, Finding
from checks.lifts import LIMIT_V, WAYS, shares, told
from checks.wording import listed

NAME = "ground-lift"
FAMILY = "ground path"
SOURCE = "ground side at most 0.1 V under load (trade teaching, apextechnation.com)"
_BASE = """
    G1 battery
    F1 fuse-blade rating_a=30
    S1 switch contact_a=40
    M1 fan current_a=15
    X1 ground
    W1 G1.+ F1.1 6 0.15
    W2 F1.2 S1.1 6 1
    W3 S1.2 M1.+ 6 1
    W4 X1.g G1.- 25 0.3
"""
BAD = (
    (_BASE + "W5 M1.- X1.g 1.5 1", ((ADVICE, ("M1", "W5")),)),
    (
        _BASE + "X2 splice\nW5 M1.- X2.s 10 0.2\nW6 X2.s X1.g 1 1",
        ((ADVICE, ("X2", "M1", "W6")),),
    ),
)
GOOD = (_BASE + "W5 M1.- X1.g 10 0.3",)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every ground point that lifts, then for joints and loads before one."""
    if not case.shell_joined:
        return
    fine = case.grounded_fine & case.lasting & ~case.shorts
    lifted: set[str] = set()
    for _, edge in case.network.of_role("ground"):
        volts = np.where(fine, case.survey.volts[:, edge.a], 0.0)
        row = int(volts.argmax())
        if volts[row] > LIMIT_V and case.wires_at(edge.owner, "g"):
            lifted.add(edge.owner)
            yield _stud(case, edge.owner, float(volts[row]), row)
    causes: dict[int, list[_Lift]] = {}
    for lift in _lifts(case, fine):
        if not lifted & _owners(case, lift.last):
            causes.setdefault(lift.last, []).append(lift)
    for lifts in causes.values():
        yield _finding(case, lifts)


def _stud(case: Case, part_id: str, volts: float, index: int) -> Finding:
    """Return the finding of a ground point."""
    wires = tuple(w.id for w in case.wires_at(part_id, "g"))
    node = case.network.node_of(part_id, "g")
    on, values = told(case, shares(case, index, node) if node is not None else [])
    guessed = case.guessed(_below(case, index, part_id))
    return Finding(
        rule=NAME,
        severity=UNKNOWN if guessed else ADVICE,
        parts=(part_id,),
        wires=wires,
        says="{part} stands {volts:voltage} above the supply's minus with " + on + " on; "
        "{limit:voltage} is the usual limit. Its way to the battery is too thin for what returns "
        "there." + guessed,
        values={"part": case.name(part_id), "volts": volts, "limit": LIMIT_V, **values},
        source=SOURCE,
        path=tuple(("wires", w) for w in wires),
        setting=case.survey.settings[index],
    )


def _below(case: Case, row: int, part_id: str) -> list[str]:
    """Return the wires through which a ground point's current goes on to the battery."""
    ground = case.network.shell
    flows = case.flows(row)
    node = case.network.node_of(part_id, "g")
    ways = [f for n in (node, ground) if n is not None for f in flows.leaving(n)]
    ends = {f.low for f in ways} | {ground}
    ways += [f for n in ends for f in flows.leaving(n)]
    return [f.edge.owner for f in ways if f.edge.role == "wire"]


@dataclass(frozen=True, slots=True)
class _Lift:
    """A load whose ground end is lifted: by how much, in which state, and by what.

    `last` is the last node on the way to the supply that stands above the limit, `wires` those
    from there on to the next node.
    """

    use: Use
    volts: float
    row: int
    last: int
    wires: tuple[str, ...]


def _lifts(case: Case, fine: NDArray[np.bool_]) -> Iterator[_Lift]:
    """Yield how each load's ground end is lifted, where it is."""
    some = [(u, n) for u in case.loads if u.draws != "starter" and (n := case.return_node(u))]
    if not some:
        return
    runs = np.array([case.runs(use) for use, _ in some])
    volts = np.where(runs & fine, case.survey.volts.T[[n for _, (n, _) in some]], 0.0)
    rows = volts.argmax(axis=1)
    most = volts[np.arange(len(some)), rows]
    for k in np.flatnonzero(most > LIMIT_V).tolist():
        yield _lift(case, *some[k], float(most[k]), int(rows[k]))


def _lift(case: Case, use: Use, node: tuple[int, str], volts: float, row: int) -> _Lift:
    """Return how a load's ground end is lifted in the worst state."""
    last, wires = _last_lifted(case, row, node[0])
    if last == node[0]:
        wires = tuple(w.id for w in case.wires_at(use.part.id, node[1]))
    return _Lift(use, volts, row, last, wires)


def _last_lifted(case: Case, row: int, node: int) -> tuple[int, tuple[str, ...]]:
    """Follow the most current from a node to the last node above the limit."""
    flows = case.flows(row)
    while True:
        ways = [f for f in flows.leaving(node) if f.edge.role in WAYS]
        if not ways:
            return node, ()
        most = max(ways, key=lambda f: f.amps)
        if flows.volts[most.low] <= LIMIT_V:
            return node, tuple(f.edge.owner for f in ways if f.edge.role == "wire")
        node = most.low


def _owners(case: Case, node: int) -> frozenset[str]:
    """Return the parts that have a terminal at a node."""
    return case.parts_by_node.get(node, frozenset())


def _finding(case: Case, lifts: list[_Lift]) -> Finding:
    """Return the finding of a load's own return, or of the joint that several return through."""
    worst = max(lifts, key=lambda lift: lift.volts)
    loads = tuple(dict.fromkeys(lift.use.part.id for lift in lifts))
    joints = _joint(case, worst)
    on, shared = told(case, shares(case, worst.row, worst.last)) if joints else ("", {})
    says = (
        "The ground side of {loads} loses {volts:voltage} under load; {limit:voltage} is the "
        "usual limit."
    )
    if joints:
        says = (
            "{joint}, through which {loads} return, stands {lift:voltage} above the supply's "
            "minus with " + on + " on; {limit:voltage} is the usual limit for a ground side. Its "
            "way to the battery is too thin for what returns there."
        )
    guessed = case.guessed(worst.wires)
    return Finding(
        rule=NAME,
        severity=UNKNOWN if guessed else ADVICE,
        parts=(*joints, *loads),
        wires=worst.wires,
        says=says + guessed,
        values={
            "loads": listed(case.name(p) for p in loads),
            "joint": case.name(joints[0]) if joints else "",
            "volts": worst.volts,
            "lift": float(case.survey.volts[worst.row, worst.last]),
            "limit": LIMIT_V,
            **shared,
        },
        source=SOURCE,
        path=tuple(("wires", w) for w in worst.wires),
        setting=case.survey.settings[worst.row],
    )


def _joint(case: Case, lift: _Lift) -> tuple[str, ...]:
    """Return the joint that is the last lifted node, none where it is the load itself."""
    owners = _owners(case, lift.last)
    return () if lift.use.part.id in owners else tuple(sorted(owners))[:1]
