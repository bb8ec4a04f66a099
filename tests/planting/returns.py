"""Mistakes of the ground side: returns forgotten, thin, or shared."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

import numpy as np

from model.circuit import Circuit, End, Part, Wire
from model.kinds.body import Coil, LoadPath
from model.lookup import label, number, wire_label
from model.wiresize import Size
from tests.planting.plant import (
    Plant,
    ends,
    far,
    led_to,
    wires_on,
    with_parts,
    with_wires,
    without_idle_grounds,
    without_wire,
)
from tests.planting.ways import JOINTS, RETURNS, loads, relays, seat, survey, terminals_of, walk

THIN_GROUND = Wire("shared", "W99", size=Size(mm2=1.0), length_m=1.5, colour="BK")
"""1.5 m of 1 mm²: 18.5 mΩ/m (ISO 6722-1) and two ends, 30 mΩ; 5 A lift it by 0.15 V."""
HEAVY_A, TOGETHER_A = 1.0, 5.0


def shared_thin_ground(circuit: Circuit) -> Iterator[Plant]:
    """Mistake 11: two heavy loads that run together, on one thin wire to ground."""
    heavy = [p for p in loads(circuit) if _amps(circuit, p) >= HEAVY_A and _back(circuit, p)]
    for pair in combinations(heavy, 2):
        if sum(_amps(circuit, p) for p in pair) >= TOGETHER_A and _together(circuit, pair):
            yield _shared(circuit, pair)


def _amps(circuit: Circuit, load: Part) -> float:
    """Return the running current of a load, 0 for a starter, which grounds through its block."""
    names = [k for k in ("current_a", "dip_current_a") if number(circuit, load, k)]
    return 0.0 if load.kind == "starter" else number(circuit, load, names[0])


def _back(circuit: Circuit, load: Part) -> list[Wire]:
    """Return the wires on the return terminal of a load that lead to a ground point."""
    found = [w for t in RETURNS for w in wires_on(circuit, load.id, t)]
    return [w for w in found if circuit.parts[far(w, load.id).part].kind == "ground"]


def _together(circuit: Circuit, pair: tuple[Part, ...]) -> bool:
    """Tell whether two loads draw current in the same state, without a starter."""
    states = survey(circuit)
    index = states.solver.network.by_key
    each = [np.abs(states.amps[:, index[(p.id, _element(circuit, p))]]) > HEAVY_A / 2 for p in pair]
    return bool((each[0] & each[1]).any())


def _element(circuit: Circuit, load: Part) -> str:
    return "dip" if load.kind == "lamp-twin" else "load"


def _shared(circuit: Circuit, pair: tuple[Part, ...]) -> Plant:
    """Return the circuit with both returns on a splice and one thin wire from there."""
    splice = Part("both", "splice", "X99", "Splice of both grounds")
    back = [w for p in pair for w in _back(circuit, p)]
    home = far(back[0], pair[0].id)
    led = [led_to(w, p.id, End("both", "s")) for p in pair for w in _back(circuit, p)]
    shared = replace(THIN_GROUND, first=End("both", "s"), second=home)
    made = with_wires(with_parts(circuit, splice), [*led, shared])
    ids = frozenset(p.id for p in pair)
    return Plant(
        without_idle_grounds(made, circuit),
        f"{' and '.join(label(p) for p in pair)} on one ground wire of 1 mm²",
        frozenset(("ground-lift",)),
        frozenset(("both", "shared")),
        {
            "voltage-drop": ids,
            "wire-overload": frozenset(("shared",)),
            "motor-and-sensor-on-stud": frozenset((home.part,)),
        },
    )


def return_forgotten_or_thin(circuit: Circuit) -> Iterator[Plant]:
    """Mistake 12: a return wire that is not there, or has half the copper of the feed."""
    for wire in circuit.wires.values():
        if plant := _forgotten(circuit, wire):
            yield plant
    for load in loads(circuit):
        yield from _thin(circuit, load)


def _forgotten(circuit: Circuit, wire: Wire) -> Plant | None:
    """Return the circuit without a wire, None if every load still finds ground."""
    made = without_wire(circuit, wire.id)
    lost = _grounded(circuit) - _grounded(made)
    if not lost:
        return None
    idle = {
        e.part for e in ends(wire)
        if e.face or not wires_on(made, e.part, e.terminal)
    }  # fmt: skip
    return Plant(
        made,
        f"{wire_label(wire)} forgotten",
        frozenset(("no-return", "ground-only-through-load", "ground-not-joined")),
        lost | _grounds(circuit),
        {"loose-part": frozenset(idle)},
        frozenset(("fault",)),
    )


def _grounds(circuit: Circuit) -> frozenset[str]:
    return frozenset(p.id for p in circuit.parts.values() if p.kind == "ground")


def _grounded(circuit: Circuit) -> frozenset[str]:
    """Return the loads and relays of which an end hangs on ground, through controls too."""
    minus = [(p.id, "-") for p in circuit.parts.values() if p.kind == "battery"]
    bonded = walk(circuit, minus).parts & _grounds(circuit)
    starts = minus + ([(g, "g") for g in _grounds(circuit)] if bonded else [])
    met = walk(circuit, starts, JOINTS | {"control", "relay"}).spots
    return frozenset(
        p.id
        for p in (*loads(circuit), *relays(circuit))
        for kind in (Coil, LoadPath)
        if any((seat(circuit, p) if kind is Coil else p.id, s[1]) in met
               for s in terminals_of(circuit, p, kind) if s[1] in (*RETURNS, "85", "a"))
    )  # fmt: skip


def _thin(circuit: Circuit, load: Part) -> Iterator[Plant]:
    """Yield the circuit with a return of about half the copper of the feed."""
    back = [w for t, feed in RETURNS.items() if feed == "+" or t == "31"
            for w in wires_on(circuit, load.id, t)]  # fmt: skip
    feeds = [w for w in wires_on(circuit, load.id) if w not in back and w.size]
    if len(back) != 1 or not feeds or load.kind == "starter":
        return
    most = max(w.size.area_mm2 for w in feeds if w.size)
    thin = replace(back[0], size=Size(mm2=max(m for m in SIZES if m <= 0.6 * most)))
    at = frozenset((back[0].id, load.id))
    yield Plant(
        with_wires(circuit, [thin]),
        f"{wire_label(thin)} of {thin.size.mm2 if thin.size else 0:g} mm²",
        frozenset(("return-thinner-than-feed",)),
        at,
        {"ground-lift": at, "voltage-drop": at, "wire-overload": at},
    )


SIZES = (0.35, 0.5, 0.75, 1.0, 1.5, 2.5, 4.0, 6.0, 10.0)
