"""The load taken from the line of the coil, so that the dash switch carries it all."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from model.circuit import Circuit, End, Part, Wire
from model.lookup import body_of, kind_of, label, number
from tests.planting.plant import (
    Plant,
    far,
    led_to,
    moved,
    wires_on,
    with_parts,
    with_wires,
    without_idle_grounds,
)
from tests.planting.ways import (
    JOINTS,
    RETURNS,
    STOPS,
    Walked,
    loads_behind,
    relays,
    seat,
    walk,
)

LOAD_SHARE = {"motor": 0.55, "lamp": 0.55}
"""Share of a contact's rating for motors and lamps: one published micro relay is 30 A resistive,
17 A for motors and lamps (common practice for others)."""
CLEARLY = 1.15


def through_dash_switch(circuit: Circuit) -> Iterator[Plant]:
    """Mistake 9: the load hangs on the line of the coil instead of on the relay's contact."""
    for relay in relays(circuit):
        place = seat(circuit, relay)
        load_ids = _loads_of(circuit, place)
        if not load_ids or not wires_on(circuit, place, "86"):
            continue
        before = _line(circuit, place, "86")
        after = _line(circuit, place, "85")
        if over := _overloaded(circuit, before, load_ids):
            led = [
                led_to(w, far(w, place).part, End(place, "86")) for w in _to_loads(circuit, place)
            ]
            yield _dash(with_wires(circuit, led), relay, before, over, load_ids)
        elif over := _overloaded(circuit, after, load_ids):
            both = _line(circuit, place, "86", "85")
            yield from _ground_side(circuit, relay, both, over, load_ids)


def _loads_of(circuit: Circuit, place: str) -> frozenset[str]:
    """Return the loads on a relay's 87, starters left out: their line carries a solenoid only."""
    found = loads_behind(circuit, [(place, "87")])
    return frozenset(i for i in found if circuit.parts[i].kind != "starter")


def _to_loads(circuit: Circuit, place: str) -> list[Wire]:
    """Return the wires on 87 that lead to loads, not to a diode that holds the coil."""
    found = wires_on(circuit, place, "87")
    return [w for w in found if circuit.parts[far(w, place).part].kind != "diode"]


def _line(circuit: Circuit, place: str, *terminals: str) -> Walked:
    """Return what lies between the ends of a coil and the supply or the ground."""
    return walk(circuit, [(place, t) for t in terminals], JOINTS | {"control"})


def _overloaded(circuit: Circuit, line: Walked, load_ids: frozenset[str]) -> frozenset[str]:
    """Return the controls on a line that the loads would clearly overload."""
    return frozenset(
        part.id
        for part in (circuit.parts[p] for p in line.parts)
        if kind_of(circuit, part).family == "control"
        and _share(circuit, part, load_ids) > CLEARLY
        and _in_line(circuit, line, part)
    )


def _in_line(circuit: Circuit, line: Walked, part: Part) -> bool:
    """Tell whether all current of a line passes through a control."""
    gone = replace(part, kind="module", table=(), terminals=(), rest="")
    rest = walk(with_parts(circuit, gone), line.starts, JOINTS | {"control"})
    return not any(kind_of(circuit, circuit.parts[p]).family in STOPS for p in rest.parts)


def _share(circuit: Circuit, control: Part, load_ids: frozenset[str]) -> float:
    """Return how much of a contact's rating the loads take together."""
    rating_a = number(circuit, control, "contact_a", 10.0)
    return sum(_amps(circuit, circuit.parts[i]) for i in load_ids) / rating_a


def _amps(circuit: Circuit, load: Part) -> float:
    """Return what a load draws, motors and lamps as the resistive current that wears as much."""
    elements = body_of(circuit, load).elements
    draws = next((getattr(e, "draws", "") for e in elements if hasattr(e, "draws")), "")
    prefixes = {getattr(e, "prefix", "") for e in elements if hasattr(e, "prefix")}
    amps = min(number(circuit, load, f"{p}current_a") for p in prefixes)
    return amps / LOAD_SHARE.get(draws, 1.0)


def _dash(
    made: Circuit,
    relay: Part,
    line: Walked,
    over: frozenset[str],
    load_ids: frozenset[str],
) -> Plant:
    """Return the plant, with what else suffers on the line of the coil."""
    served = frozenset(load_ids | line.parts)
    return Plant(
        made,
        f"load of {label(relay)} on the line of its coil",
        frozenset(("contact-overload",)),
        over,
        {
            "contact-overload": line.parts,
            "weak-pull-in": frozenset((relay.id,)),
            "fuse-below-running": line.parts,
            "supply-shorted": line.parts,
            "wire-overload": line.wires,
            "voltage-drop": served,
            "ground-lift": served,
            "opens-out-of-turn": line.parts,
        },
        frozenset(("fault", "danger")),
    )


def _ground_side(
    circuit: Circuit, relay: Part, line: Walked, over: frozenset[str], load_ids: frozenset[str]
) -> Iterator[Plant]:
    """Yield the load beside the coil, both on the switch in the ground side."""
    place = seat(circuit, relay)
    (load_id,) = load_ids
    back = [w for t in RETURNS for w in wires_on(circuit, load_id, t)]
    if len(back) == 1:
        made = moved(circuit, place, {"87": "86"})
        made = with_wires(made, [led_to(back[0], load_id, End(place, "85"))])
        made = without_idle_grounds(made, circuit)
        yield _dash(made, relay, line, over, load_ids)
