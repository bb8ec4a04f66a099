"""A ground side that stands too far above the supply's minus.

What it finds
    Loads whose ground end is more than 0.1 V above the minus of the supply while they run, and
    ground points that lift that far by themselves.

Why it matters
    Volts lost on the ground side are missing at the load, and everything else on the same ground
    point is lifted too: relays chatter, sensors read wrong.

Example
    A 22 A fan on half a metre of thin wire to a stud in the wing: 0.2 V.

How to fix
    A thicker or shorter return, a ground point of its own, a thicker cable to the battery.

Limits
    0.1 V is a limit for the whole ground side of an accessory; a starter's return is left to the
    voltage drop.

Reference
    Ground side at most 0.1 V under load: trade teaching (apextechnation.com), seen there.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checks.case import Case, Use
from checks.finding import ADVICE, Finding

NAME = "ground-lift"
FAMILY = "ground path"
LIMIT_V = 0.1
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
BAD = ((_BASE + "W5 M1.- X1.g 1.5 1", ((ADVICE, ("M1", "W5")),)),)
GOOD = (_BASE + "W5 M1.- X1.g 10 0.3",)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every ground point that lifts, then for loads with a poor return."""
    if not case.shell_joined:
        return
    lifted: dict[str, float] = {}
    for _, edge in case.network.of_role("ground"):
        volts = np.where(case.grounded_fine, case.survey.volts[:, edge.a], 0.0)
        index = int(volts.argmax())
        lifted[edge.owner] = float(volts[index])
        if volts[index] > LIMIT_V and case.wires_at(edge.owner, "g"):
            yield _stud(case, edge.owner, float(volts[index]), index)
    for use in case.loads:
        yield from _load(case, use, lifted)


def _stud(case: Case, part_id: str, volts: float, index: int) -> Finding:
    """Return the finding of a ground point."""
    wires = tuple(w.id for w in case.wires_at(part_id, "g"))
    return Finding(
        rule=NAME,
        severity=ADVICE,
        parts=(part_id,),
        wires=wires,
        says="{part} stands {volts:voltage} above the supply's minus under load; {limit:voltage} "
        "is the usual limit. Its way to the battery is too thin for what returns there.",
        values={"part": case.name(part_id), "volts": volts, "limit": LIMIT_V},
        source=SOURCE,
        path=tuple(("wires", w) for w in wires),
        setting=case.survey.states[index].setting,
    )


def _load(case: Case, use: Use, lifted: dict[str, float]) -> Iterator[Finding]:
    """Yield the finding of a load whose own return loses too much."""
    node = case.return_node(use)
    if node is None or use.draws == "starter":
        return
    index_node, name = node
    volts = np.where(case.runs(use) & case.grounded_fine, case.survey.volts[:, index_node], 0.0)
    index = int(volts.argmax())
    worst = float(volts[index])
    wires = tuple(w.id for w in case.wires_at(use.part.id, name))
    ends = {e.part for w in wires for e in case.ends(w) if e.part != use.part.id}
    if worst <= LIMIT_V or any(lifted.get(p, 0.0) > LIMIT_V for p in ends):
        return
    yield Finding(
        rule=NAME,
        severity=ADVICE,
        parts=(use.part.id,),
        wires=wires,
        says="The ground side of {part} loses {volts:voltage} under load; {limit:voltage} is the "
        "usual limit.",
        values={"part": use.name, "volts": worst, "limit": LIMIT_V},
        source=SOURCE,
        path=tuple(("wires", w) for w in wires),
        setting=case.survey.states[index].setting,
    )
