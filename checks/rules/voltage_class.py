"""A supply or a load of another voltage than it meets.

What it finds
    Batteries in series or alone that give half as much again as the circuit's nominal voltage, and
    loads that get at least half as much again as the voltage they are stated at (12 V on 24 V).

Why it matters
    Twice the voltage is four times the power: lamps burn out at once, motors and electronics soon.

Example
    A 12 V lamp on the 24 V of a truck; two batteries of 24 V drawn in series where two of 12 V
    were meant.

How to fix
    A load for the circuit's voltage, or a converter. Two batteries that make 24 V are of 12 V each:
    state their rest voltage.

Limits
    Coils have a rule of their own (coil-voltage-class). A load of a higher class than its supply is
    told by voltage-drop or never-on. Half the battery tapped for a 12 V load loads one battery
    only; that is not looked at.

Reference
    Power goes with the square of the voltage (Ohm's law). 24 V systems are permitted up to 36 V for
    an hour (ISO 16750-2, at second hand), 12 V ones up to 18 V: half as much again.
"""

from __future__ import annotations

from collections.abc import Iterator

from checks.case import Case, Use
from checks.finding import DANGER, Finding
from checks.wording import listed
from model.network import Edge
from model.resistances import load_amps_volts
from model.state import CONDUCTORS

NAME = "voltage-class"
FAMILY = "rating"
SOURCE = "Ohm's law; ISO 16750-2 (18 V and 36 V for an hour), at second hand"
ANOTHER = 1.5
"""Ratio from which a voltage is of another class."""
_BASE = """
    24 V
    F1 fuse-blade rating_a=5
    S1 switch
    X1 ground
    W2 F1.2 S1.1 1 0.3
    W3 S1.2 E1.+ 1 1
    W4 E1.- X1.g 1 0.3
    W5 X1.g G1.- 10 0.3
"""
_ONE = _BASE + "G1 battery\nW1 G1.+ F1.1 1 0.15\nE1 lamp {stated}"
_TWO = _BASE + "G1 battery {v}\nG2 battery {v}\nW0 G1.+ G2.- 16 0.3\nW1 G2.+ F1.1 1 0.15\nE1 lamp"
BAD = (
    (_ONE.format(stated="at_v=12"), ((DANGER, ("E1",)),)),
    (_TWO.format(v=""), ((DANGER, ("G2", "G1")),)),
)
GOOD = (_ONE.format(stated=""), _TWO.format(v="voltage_v=12.6"))


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for a supply of another class, else for every load that gets too much."""
    too_high = _supply(case)
    if too_high is not None:
        yield too_high
        return
    seen: set[str] = set()
    for use in case.loads:
        finding = _load(case, use) if use.part.id not in seen else None
        if finding is not None:
            seen.add(use.part.id)
            yield finding


def _supply(case: Case) -> Finding | None:
    """Return the finding of a source whose plus stands too high above the circuit's minus."""
    state = case.rest
    for edge in case.sources:
        volts = float(state.solved.volts[edge.a])
        if not state.solved.joined[edge.a] or volts < ANOTHER * case.nominal_v:
            continue
        below = [
            e.owner for e in case.sources if e.owner != edge.owner and _carries(case, e, edge.b)
        ]
        return Finding(
            rule=NAME,
            severity=DANGER,
            parts=(edge.owner, *below),
            says="The plus of {part} stands {volts:voltage} above the minus of the supply, in a "
            "circuit of {nominal:voltage}: everything on it gets too much."
            + (
                " If {below} and {part} are smaller batteries in series, state the rest "
                "voltage of each."
                if below
                else ""
            ),
            values={
                "part": case.name(edge.owner),
                "below": listed(case.name(p) for p in below),
                "volts": volts,
                "nominal": case.nominal_v,
            },
            source=SOURCE,
            path=(("parts", edge.owner),),
            setting=state.setting,
        )
    return None


def _carries(case: Case, lower: Edge, minus: int) -> bool:
    """Tell whether the plus of one source is joined to the minus of another: they are in series."""
    return lower.a != lower.b and minus in case.reach({lower.a}, CONDUCTORS)


def _load(case: Case, use: Use) -> Finding | None:
    """Return the finding of a load that gets too much."""
    prefix = str(getattr(case.network.edges[use.edge].inner, "prefix", ""))
    stated_v = load_amps_volts(case.circuit, use.part, prefix)[1]
    across = case.across(use)
    row = int(across.argmax())
    if stated_v <= 0.0 or across[row] < ANOTHER * stated_v:
        return None
    return Finding(
        rule=NAME,
        severity=DANGER,
        parts=(use.part.id,),
        says="{part} is made for {stated:voltage} and gets {volts:voltage}, {times:count} times "
        "that: it burns out.",
        values={
            "part": use.name,
            "stated": stated_v,
            "volts": float(across[row]),
            "times": round(float(across[row]) / stated_v, 1),
        },
        source=SOURCE,
        path=(("parts", use.part.id),),
        setting=case.survey.settings[row],
    )
