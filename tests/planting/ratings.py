"""Mistakes of sizes and ratings: fuses too large or too full, cable misread, relays misjudged."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from checks.stock import fuse_ratings
from model.circuit import Circuit, Part
from model.lookup import kind_of, label, number, wire_label, word
from model.tables.ampacity import ampacity
from model.wiresize import Size
from tests.planting.plant import Plant, ends, wires_on, with_parts, with_wires
from tests.planting.ways import JOINTS, loads_behind, relays, seat, survey, touching, walk

OUTER_3 = Size(mm2=1.13)
"""What a seller calls 3 mm by the outside of its insulation (a seller's data sheet)."""
STANDS_A = 16.5
"""What the thin-wall table gives for the row below it, 1 mm²."""
SHORT_M = 0.18
"""7 in: so near a fuse of its own, small-craft practice lets thin wire stand (ABYC E-11)."""
THINNEST = Size(mm2=0.5)
THINNEST_A = 11.0
"""What the thin-wall table gives for 0.5 mm² at 30 °C."""
MOTORS = frozenset(("motor", "pump", "fan"))
OVER = frozenset(("fuse-above-wire", "thinner-without-fuse"))
"""The rules that tell of a fuse larger than a wire: of the fuse, or of a step in the wire."""
BEHIND = frozenset(("joint", "diode", "control"))


def fuses(circuit: Circuit) -> list[Part]:
    """Return the fuses of a circuit, breakers left out."""
    return [
        p for p in circuit.parts.values() if p.kind.startswith("fuse-") and p.kind != "fuse-box"
    ]


def behind(circuit: Circuit, fuse: Part) -> frozenset[str]:
    """Return the wires behind a fuse, as far as the next one."""
    return frozenset(walk(circuit, [(fuse.id, "2")], BEHIND).wires)


def fuse_too_large(circuit: Circuit) -> Iterator[Plant]:
    """Mistake 2: a larger fuse because the old one kept blowing: twice what the wire may carry."""
    for fuse in fuses(circuit):
        wires = [circuit.wires[w] for w in behind(circuit, fuse)]
        held = [
            ampacity(w.size).value_a
            for w in wires
            if w.size is not None and (w.length_m or 0.0) > SHORT_M
        ]
        least = min((h for h in held if h is not None), default=None)
        larger = [r for r in fuse_ratings(circuit, fuse) if least and r > 1.5 * least]
        if not larger:
            continue
        ids = frozenset(w.id for w in wires)
        yield Plant(
            with_parts(circuit, replace(fuse, ratings={**fuse.ratings, "rating_a": larger[0]})),
            f"{label(fuse)} of {larger[0]:g} A",
            OVER,
            frozenset((fuse.id,)),
            {
                "short-outlasts-wire": ids | {fuse.id},
                **dict.fromkeys(OVER, ids | {fuse.id}),
                "breaking-capacity": frozenset((fuse.id,)),
                "opens-out-of-turn": frozenset(f.id for f in fuses(circuit)),
            },
            frozenset(("danger",)),
            {"rating": (larger[0], 0.0)},
        )


def cable_misread(circuit: Circuit) -> Iterator[Plant]:
    """Mistake 14: cable called 3 mm by its outside (1.13 mm²) where 2.5 to 4 mm² was meant."""
    small = [f for f in fuses(circuit) if number(circuit, f, "rating_a") <= STANDS_A]
    guarded = frozenset(w for f in small for w in behind(circuit, f))
    for fuse in fuses(circuit):
        if fuse in small:
            continue  # it still protects such cable
        for wire_id in sorted(behind(circuit, fuse) - guarded):
            wire = circuit.wires[wire_id]
            if wire.size is None or not 2.0 < wire.size.area_mm2 <= 4.5:
                continue
            served = frozenset(i.id for i in circuit.parts.values())
            yield Plant(
                with_wires(circuit, [replace(wire, size=OUTER_3)]),
                f"{wire_label(wire)} of cable called 3 mm",
                OVER,
                frozenset((wire.id,)),
                {
                    "short-outlasts-wire": frozenset((wire.id, fuse.id)),
                    "wire-overload": frozenset((wire.id,)),
                    "voltage-drop": served,
                    "return-thinner-than-feed": served,
                },
                numbers={
                    "ampacity": (STANDS_A, 0.0),
                    "share": (number(circuit, fuse, "rating_a") / STANDS_A, 1e-6),
                },
            )


def thin_without_fuse(circuit: Circuit) -> Iterator[Plant]:
    """Mistakes 1 and 3: behind thick wire goes on thin wire that no fuse of its own protects."""
    for fuse in fuses(circuit):
        rated = number(circuit, fuse, "rating_a")
        if rated <= 1.5 * THINNEST_A:
            continue
        at_fuse = touching(circuit, (fuse.id, "2"))
        fed_twice = {w for f in fuses(circuit) if f.id != fuse.id for w in behind(circuit, f)}
        for wire_id in sorted(behind(circuit, fuse) - fed_twice):
            wire = circuit.wires[wire_id]
            if at_fuse & {e.node for e in ends(wire)} or wire.size is None:
                continue  # what hangs on the fuse itself has the wrong fuse
            served = frozenset(circuit.parts)
            one = frozenset((wire.id,))
            yield Plant(
                with_wires(circuit, [replace(wire, size=THINNEST)]),
                f"{wire_label(wire)} of 0.5 mm² behind {label(fuse)}",
                frozenset(("thinner-without-fuse",)),
                one,
                {
                    **dict.fromkeys(
                        ("wire-overload", "thinner-without-fuse", "unfused-length"), one
                    ),
                    "short-outlasts-wire": frozenset((wire.id, fuse.id)),
                    **dict.fromkeys(("voltage-drop", "return-thinner-than-feed"), served),
                    **dict.fromkeys(("never-on", "weak-pull-in", "ground-lift"), served),
                },
                # A short piece to a fuse of its own is allowed in small craft.
                frozenset(
                    ("danger", "advice") if (wire.length_m or 0.0) <= SHORT_M else ("danger",)
                ),
                {"rating": (rated, 0.0)},
            )


def fuse_run_full(circuit: Circuit) -> Iterator[Plant]:
    """Mistake 21: the fuse that just bears the running current, at nearly all of its rating."""
    states = survey(circuit)
    for fuse in fuses(circuit):
        index = next(i for i, e in enumerate(states.solver.network.edges)
                     if e.owner == fuse.id and e.role == "fuse")  # fmt: skip
        calm = np.array([s != "cranking" for s in states.supplies])
        amps = float((np.abs(states.amps[:, index]) * calm).max())
        full = [r for r in fuse_ratings(circuit, fuse) if amps < r < amps / 0.8]
        if amps < 0.5 or not full:
            continue
        yield Plant(
            with_parts(circuit, replace(fuse, ratings={**fuse.ratings, "rating_a": full[0]})),
            f"{label(fuse)} of {full[0]:g} A for {amps:.1f} A",
            frozenset(("fuse-below-running",)),
            frozenset((fuse.id,)),
            {
                "fuse-below-start": frozenset((fuse.id,)),
                "voltage-drop": frozenset(circuit.parts),
                "opens-out-of-turn": frozenset(f.id for f in fuses(circuit)),
            },
            numbers={"rating": (full[0], 0.0), "current": (amps, 0.08)},
        )


def suppression_left_out(circuit: Circuit) -> Iterator[Plant]:
    """Mistake 18: a bare relay where one with a resistor or diode was meant."""
    for relay in relays(circuit):
        if word(circuit, relay, "suppression") in ("", "none"):
            continue
        bare = replace(relay, ratings={**relay.ratings, "suppression": "none"})
        yield Plant(
            with_parts(circuit, bare),
            f"{label(relay)} without suppression",
            frozenset(("no-suppression",)),
            frozenset((relay.id,)),
            numbers={"low": (1000.0, 0.0), "high": (1500.0, 0.0), "soon": (0.0015, 0.0)},
        )


SLOW_S, FAST_S = 0.008, 0.0026
"""Release with a plain diode and with 680 Ω, measured (electro-tech-online.com thread 167257)."""


def diode_for_motor(circuit: Circuit) -> Iterator[Plant]:
    """Mistake 19: a relay with a plain diode for a motor, on whichever of its contacts."""
    for relay in relays(circuit):
        place = seat(circuit, relay)
        outs = [(place, t) for t in ("87", "87a", "87b", "49a") if wires_on(circuit, place, t)]
        behind_it = loads_behind(circuit, outs)
        motors = [p for p in behind_it if kind_of(circuit, circuit.parts[p]).key in MOTORS]
        if not motors or word(circuit, relay, "suppression") == "diode":
            continue
        slow = replace(relay, ratings={**relay.ratings, "suppression": "diode"})
        line = walk(circuit, [(place, "86"), (place, "85")], JOINTS | {"control"})
        right = _plus_on_86(circuit, place)
        yield Plant(
            with_parts(circuit, slow),
            f"{label(relay)} with a diode for {', '.join(motors)}",
            frozenset(("diode-slows-motor" if right else "reversed-diode",)),
            frozenset((relay.id,)),
            {"fuse-below-running": line.parts, "supply-shorted": line.parts},
            frozenset(("advice",) if right else ("danger",)),
            {"slow": (SLOW_S, 0.0), "fast": (FAST_S, 0.0)} if right else {},
        )


def _plus_on_86(circuit: Circuit, place: str) -> bool:
    """Tell whether the plus of a coil is on 86 (S of a bistable relay), as its diode needs it."""
    states = survey(circuit)
    ends = [states.solver.network.node_of(place, t) for t in ("86", "85")]
    if None in ends:
        return True
    across = states.volts[:, ends[0]] - states.volts[:, ends[1]]
    return bool(across.max() > -across.min())
