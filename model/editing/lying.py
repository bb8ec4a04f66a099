"""Where things lie: parts and wires put into zones, wires laid into bundles."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from model.circuit import Branch, Circuit, Zone
from model.editing.draft import Draft, Edit, named, part_at, wire_at
from model.editing.errors import EditError
from model.editing.sound import check_text

COLDEST_C, HOTTEST_C = -60.0, 300.0
"""Surroundings beyond these are no place for a vehicle's wiring."""


def zone_called(circuit: Circuit, name: str) -> Zone | None:
    """Return the zone of this name, whatever its capitals."""
    small = name.strip().casefold()
    return next((z for z in circuit.zones.values() if (z.name or z.id).casefold() == small), None)


def branch_called(circuit: Circuit, name: str) -> Branch | None:
    """Return the branch of this name, whatever its capitals."""
    small = name.strip().casefold()
    known = circuit.branches.values()
    return next((b for b in known if (b.name or b.id).casefold() == small), None)


def put_in_zone(
    circuit: Circuit, ids: Iterable[str], name: str, celsius: float | None = None
) -> Edit:
    """Return the edit that puts parts and wires into a zone.

    Parameters
    ----------
    ids
        Parts and wires; none to make the zone, or to change how warm it is.
    name
        Of the zone, "" to take them out of theirs. One that is not there is made, as warm as
        `celsius`.
    celsius
        How warm it is there; None leaves it as it is.

    Raises
    ------
    EditError
        There is no such zone and no temperature to make it with, or no such part or wire.
    """
    draft = Draft(circuit)
    key = _zone(draft, name.strip(), celsius) if name.strip() else ""
    chosen = list(dict.fromkeys(ids))
    for one in chosen:
        if one in circuit.wires:
            draft.wires[one] = replace(wire_at(circuit, one), zone=key)
        else:
            draft.parts[one] = replace(part_at(circuit, one), zone=key)
    what = f"the zone {name.strip()}" if key else "no zone"
    return draft.done(
        f"Put {named(circuit, chosen)} in {what}" if chosen else f"Set {what}", chosen
    )


def _zone(draft: Draft, name: str, celsius: float | None) -> str:
    """Return the id of the zone of a name, made or warmed in the draft where that is asked."""
    check_text(name)
    zone = zone_called(draft.before, name)
    if celsius is not None and not COLDEST_C <= celsius <= HOTTEST_C:
        raise EditError(
            f"{celsius:g} °C is no temperature of a vehicle's zone: {COLDEST_C:g} to "
            f"{HOTTEST_C:g} °C."
        )
    if zone is None:
        if celsius is None:
            raise EditError(_no_zone(draft.before, name))
        zone = Zone(draft.fresh("z"), name, celsius)
    elif celsius is not None and celsius != zone.temperature_c:
        zone = replace(zone, temperature_c=celsius)
        draft.notes.append(f"The zone {zone.name} is at {celsius:g} °C for all that is in it.")
    draft.zones[zone.id] = zone
    return zone.id


def _no_zone(circuit: Circuit, name: str) -> str:
    names = [z.name or z.id for z in circuit.zones.values()]
    there = f"there is {', '.join(names)}" if names else "there is none yet"
    return (
        f"No zone is called “{name}”: {there}. With its temperature, such as “{name} 85 °C”, it "
        "is made."
    )


def remove_zone(circuit: Circuit, zone_id: str) -> Edit:
    """Return the edit that removes a zone; what was in it is in none then."""
    draft = Draft(circuit)
    zone = draft.zones.pop(zone_id)
    parts = [p.id for p in circuit.parts.values() if p.zone == zone_id]
    wires = [w.id for w in circuit.wires.values() if w.zone == zone_id]
    for key in parts:
        draft.parts[key] = replace(draft.parts[key], zone="")
    for key in wires:
        draft.wires[key] = replace(draft.wires[key], zone="")
    for branch in circuit.branches.values():
        if branch.zone == zone_id:
            draft.branches[branch.id] = replace(branch, zone="")
    return draft.done(f"Remove the zone {zone.name or zone.id}", [*parts, *wires])


def lay_in_bundle(
    circuit: Circuit,
    wire_ids: Iterable[str],
    name: str,
    zone: str = "",
    celsius: float | None = None,
) -> Edit:
    """Return the edit that lays wires into a bundle, a branch of the harness.

    Parameters
    ----------
    wire_ids
        Wires, besides those that lie in it; none to make it, or to say where it is.
    name
        Of the branch; one that is not there is made.
    zone, celsius
        The zone that it runs through, as in `put_in_zone`; "" leaves it as it is.

    Raises
    ------
    EditError
        It has no name, or there is no such wire or zone.
    """
    draft = Draft(circuit)
    check_text(name)
    if not name.strip():
        raise EditError("A bundle needs a name, such as B1.")
    if set(name) & set("-–,"):
        raise EditError(f"“{name}” cannot be a bundle: - and , part the bundles of a wire.")
    branch = branch_called(circuit, name) or Branch(draft.fresh("b"), name.strip())
    if zone.strip():
        branch = replace(branch, zone=_zone(draft, zone.strip(), celsius), zone_c=None)
    draft.branches[branch.id] = branch
    chosen = list(dict.fromkeys(wire_ids))
    for key in chosen:
        wire = wire_at(circuit, key)
        if branch.id not in wire.branches:
            draft.wires[key] = replace(wire, branches=(*wire.branches, branch.id))
    said = f"Lay {named(circuit, chosen)} in the bundle" if chosen else "Set the bundle"
    return draft.done(f"{said} {branch.name or branch.id}", chosen)


def remove_bundle(circuit: Circuit, branch_id: str) -> Edit:
    """Return the edit that removes a branch of the harness; its wires lie free then."""
    draft = Draft(circuit)
    branch = draft.branches.pop(branch_id)
    wires = [w for w in circuit.wires.values() if branch_id in w.branches]
    for wire in wires:
        along = tuple(b for b in wire.branches if b != branch_id)
        draft.wires[wire.id] = replace(wire, branches=along)
    for part in circuit.parts.values():
        if part.branch == branch_id:
            draft.parts[part.id] = replace(part, branch="")
    return draft.done(f"Remove the bundle {branch.name or branch.id}", [w.id for w in wires])
