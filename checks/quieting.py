"""What takes the spark of a coil: its own resistor, diode or zener, or a part drawn across it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from checks.case import Case, Use
from model.lookup import number, rating, suppression_of_part, word
from model.network import Edge
from model.tables.relays import Suppression, suppression_of

METAL = frozenset(("wire", "way"))
"""What joins without a switch in it."""


@dataclass(frozen=True, slots=True)
class Quiet:
    """How a coil is quietened: none, resistor, diode or zener, by which part, and what it does.

    `by` is the id of a part drawn across the coil, "" where the relay has it inside. `release_s`
    is what the relay states, else the table's; `stated` tells which.
    """

    way: str
    by: str
    row: Suppression
    release_s: float
    stated: bool


def quieted(case: Case, uses: Iterable[Use]) -> Iterator[tuple[Use, Quiet]]:
    """Yield coils with what takes their spark, the slowest where there are several."""
    drawn = [
        (e, case.reach({e.a}, METAL), case.reach({e.b}, METAL))
        for _, e in case.network.of_role("resistor", "diode")
        if case.circuit.parts[e.owner].kind in ("resistor", "diode")
    ]
    for use in uses:
        beside = [
            e
            for e, one, other in drawn
            if (use.a in one and use.b in other) or (use.b in one and use.a in other)
        ]
        yield use, _quiet(case, use, beside)


def _quiet(case: Case, use: Use, beside: list[Edge]) -> Quiet:
    """Return what takes the spark of one coil."""
    circuit, part = case.circuit, use.part
    held = rating(circuit, part, "release_s")
    stated = held.origin in ("part", "type")
    own = word(circuit, part, "suppression") or "none"
    found = [(own, "", suppression_of_part(circuit, part))]
    coil_v = number(circuit, part, "coil_v", case.nominal_v)
    found += [(e.role, e.owner, suppression_of(e.role, e.ohm, coil_v)) for e in beside]
    way, by, row = max(found, key=lambda f: f[2].release_s or 0.0)
    after = held.number if stated and held.number is not None else row.release_s
    return Quiet(way, by, row, float(after or 0.0), stated)
