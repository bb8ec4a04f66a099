"""How warm it is around a part or a wire, and by what that is known.

A zone stated for a part or wire itself counts first. A part without one takes that of its branch
of the harness, then that of the part it sits in; a wire takes the hottest of its branches and of
the parts it ends at. What is in no zone is in the surroundings of the circuit's conditions.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.circuit import Circuit, Part, Wire
from model.harness import Branch

SURROUNDINGS = ""
"""Name of no zone: the surroundings stated for the circuit as a whole."""
DEEPEST = 8
"""Parts that sit in parts that sit in parts: no deeper than this."""


@dataclass(frozen=True, slots=True)
class Warmth:
    """The temperature around something, and the name of the zone, "" for the circuit's own."""

    celsius: float
    zone: str = SURROUNDINGS


def surroundings(circuit: Circuit) -> Warmth:
    """Return how warm it is around whatever is in no zone."""
    return Warmth(circuit.settings.conditions.zone_c)


def part_warmth(circuit: Circuit, part: Part) -> Warmth:
    """Return how warm it is around a part."""
    return _stated_at(circuit, part) or surroundings(circuit)


def copper_c(circuit: Circuit, part: Part) -> float:
    """Return the temperature of the copper in a part: that of its zone where it is in one."""
    stated = _stated_at(circuit, part)
    return stated.celsius if stated else circuit.settings.conditions.temperature_c


def wire_copper_c(circuit: Circuit, wire: Wire) -> float:
    """Return the temperature of a wire's copper without current: its hottest zone, if in one."""
    if not circuit.zones and not circuit.branches:
        return circuit.settings.conditions.temperature_c
    stated = [w for _, w in stretches(circuit, wire) if w.zone != SURROUNDINGS]
    general = circuit.settings.conditions.temperature_c
    return max((w.celsius for w in stated), default=general)


def branch_warmth(circuit: Circuit, branch: Branch) -> Warmth:
    """Return how warm it is around a branch of the harness."""
    return _of_branch(circuit, branch) or surroundings(circuit)


def wire_warmth(circuit: Circuit, wire: Wire) -> Warmth:
    """Return the hottest that a wire runs through."""
    return max(stretches(circuit, wire), key=lambda s: s[1].celsius)[1]


def stretches(circuit: Circuit, wire: Wire) -> list[tuple[str, Warmth]]:
    """Return the branches a wire runs along, "" for the rest of it, each with its warmth."""
    if not circuit.zones and not circuit.branches:
        return [("", surroundings(circuit))]
    own = _named(circuit, wire.zone)
    found = [
        (b, own or branch_warmth(circuit, circuit.branches[b]))
        for b in wire.branches
        if b in circuit.branches
    ]
    return [("", own or _outside(circuit, wire)), *found]


def _outside(circuit: Circuit, wire: Wire) -> Warmth:
    """Return the warmth of a wire outside the bundles: the hotter one of its ends.

    Where a branch says how warm it is, an end of which nothing is stated adds nothing.
    """
    along = [_of_branch(circuit, circuit.branches[b]) for b in wire.branches
             if b in circuit.branches]  # fmt: skip
    known = [w for w in along if w is not None]
    ends = list(_ends(circuit, wire))
    stated = [w for w in (*ends, *known) if w is not None]
    if None in ends and not known:
        stated.append(surroundings(circuit))
    return max(stated, key=lambda w: w.celsius, default=surroundings(circuit))


def _ends(circuit: Circuit, wire: Wire) -> Iterator[Warmth | None]:
    for end in (wire.first, wire.second):
        part = circuit.parts.get(end.part) if end else None
        if part is not None:
            yield _stated_at(circuit, part)


def _stated_at(circuit: Circuit, part: Part) -> Warmth | None:
    """Return the zone stated for a part, its branch or its host, None where none is."""
    here: Part | None = part
    for _ in range(DEEPEST):
        if here is None:
            return None
        branch = circuit.branches.get(here.branch)
        found = _named(circuit, here.zone) or (_of_branch(circuit, branch) if branch else None)
        if found is not None:
            return found
        here = circuit.parts.get(here.host)
    return None


def _of_branch(circuit: Circuit, branch: Branch) -> Warmth | None:
    found = _named(circuit, branch.zone)
    if found is None and branch.zone_c is not None:
        return Warmth(branch.zone_c, branch.name or branch.id)
    return found


def _named(circuit: Circuit, zone_id: str) -> Warmth | None:
    zone = circuit.zones.get(zone_id) if zone_id else None
    return Warmth(zone.temperature_c, zone.name or zone.id) if zone else None
