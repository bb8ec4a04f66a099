"""Mistakes of the feed side: fuses that are missing or misplaced, wires too thin."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import ceil

import numpy as np

from model.circuit import Circuit, End, Part, Wire
from model.lookup import duty_of, kind_of, label, wire_label
from model.survey import Survey
from model.wiresize import Size
from tests.planting.plant import (
    Plant,
    ends,
    far,
    moved,
    wires_on,
    with_parts,
    with_wires,
    without_wire,
)
from tests.planting.ways import (
    RETURNS,
    loads_behind,
    survey,
    walk,
)

SOURCES = ("+", "B+")


def fuse_missing(circuit: Circuit) -> Iterator[Plant]:
    """Mistake 1: the fuse at the battery left out, or put at the far end of its wire."""
    for fuse in circuit.parts.values():
        near = wires_on(circuit, fuse.id, "1")
        if kind_of(circuit, fuse).family != "protection" or len(near) != 1:
            continue
        if far(near[0], fuse.id).terminal not in SOURCES:
            continue
        after = wires_on(circuit, fuse.id, "2")
        yield _bridged(circuit, fuse, after)
        if len(after) == 1 and (after[0].length_m or 0.0) > 0.3:
            yield _far_away(circuit, fuse, near[0], after[0])


def _bridged(circuit: Circuit, fuse: Part, after: list[Wire]) -> Plant:
    """Return the circuit with a splice where the fuse was."""
    bare = replace(fuse, kind="splice", ratings={})
    made = moved(with_parts(circuit, bare), fuse.id, {"1": "s", "2": "s"})
    behind = walk(circuit, [(fuse.id, "2")], frozenset(("joint", "diode", "control"))).wires
    return Plant(
        made,
        f"{label(fuse)} left out",
        frozenset(("unfused-length",)),
        frozenset(w.id for w in after),
        {"unfused-length": behind},
        frozenset(("danger",)),
    )


def _far_away(circuit: Circuit, fuse: Part, near: Wire, after: Wire) -> Plant:
    """Return the circuit with the lengths of the wires before and behind the fuse exchanged."""
    swapped = (
        replace(near, length_m=after.length_m, size=after.size),
        replace(after, length_m=near.length_m, size=near.size),
    )
    return Plant(
        with_wires(circuit, swapped),
        f"{label(fuse)} at the far end of its wire",
        frozenset(("unfused-length",)),
        frozenset((near.id,)),
        severities=frozenset(("danger",)),
    )


THIN = Size(mm2=0.75)
THIN_OHM_M = 0.0247
"""Greatest resistance of 0.75 mm² at 20 °C: ISO 6722-1, bare copper, 24.7 mΩ/m."""
LONGEST_M = 30.0
SHARES = {True: 0.03, False: 0.10}
"""Drop allowed at critical and ordinary loads: ABYC E-11, ISO 13297."""


def undersized_run(circuit: Circuit) -> Iterator[Plant]:
    """Mistake 13: a long feed wire of 0.75 mm² that loses clearly more than is allowed."""
    for wire in circuit.wires.values():
        behind = _fed_by(circuit, wire)
        length = _too_long_m(circuit, wire, behind) if behind else None
        if length is None:
            continue
        thin = with_wires(circuit, [replace(wire, size=THIN, length_m=length)])
        yield Plant(
            thin,
            f"{wire_label(wire)} {length:g} m of 0.75 mm²",
            frozenset(("voltage-drop",)),
            frozenset((wire.id,)),
            {
                "voltage-drop": behind,
                "fuse-above-wire": frozenset((wire.id,)),
                "thinner-without-fuse": frozenset((wire.id,)),
                "wire-overload": frozenset((wire.id,)),
                "unfused-length": frozenset((wire.id,)),
                "short-outlasts-wire": frozenset((wire.id,)),
            },
            numbers={"largest": (_lost_v(thin, wire.id, length), 0.12)},
        )


def _lost_v(thin: Circuit, wire_id: str, metres: float) -> float:
    """Return what a thin wire loses where it carries most, while the engine stands, by I·R."""
    states = Survey(thin)
    index = states.solver.network.by_key[(wire_id, "")]
    resting = np.array([s == "resting" for s in states.supplies])
    return float((np.abs(states.amps[:, index]) * resting).max()) * THIN_OHM_M * metres


def _fed_by(circuit: Circuit, wire: Wire) -> frozenset[str]:
    """Return the loads a feed wire behind a fuse carries current to, starters left out."""
    if any(e.terminal in (*SOURCES, *RETURNS) or _is_ground(circuit, e) for e in ends(wire)):
        return frozenset()
    apart = without_wire(circuit, wire.id)
    found = loads_behind(apart, [ends(wire)[1].node], relays=True)
    return frozenset(i for i in found if circuit.parts[i].kind != "starter")


def _is_ground(circuit: Circuit, end: End) -> bool:
    return circuit.parts[end.part].kind == "ground"


def _too_long_m(circuit: Circuit, wire: Wire, behind: frozenset[str]) -> float | None:
    """Return metres at which the wire loses a third more than allowed, None if beyond reason."""
    states = survey(circuit)
    index = states.solver.network.by_key[(wire.id, "")]
    resting = np.array([s.engine != "running" for s in states.states])
    row = int((np.abs(states.amps[:, index]) * resting).argmax())
    amps = abs(float(states.amps[row, index]))
    fed = states.volts[row, states.solver.network.edges[index].a] > circuit.settings.nominal_v / 2
    if amps < 0.1 or not fed:
        return None
    critical = all(duty_of(circuit, circuit.parts[i]).critical for i in behind)
    metres = ceil(1.33 * SHARES[critical] * circuit.settings.nominal_v / (amps * THIN_OHM_M))
    return float(metres) if metres <= LONGEST_M else None
