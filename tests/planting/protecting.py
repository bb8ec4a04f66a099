"""Mistakes of protection: in the wrong place, left to a relay, doubled, closing again by itself."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from checks.stock import fuse_ratings
from model.circuit import Circuit, End, Part, Wire
from model.lookup import label, number, wire_label
from model.solver import Solver
from model.states import Fault, Memory
from model.tables.ampacity import ampacity
from model.wiresize import Size
from tests.planting.feeds import LONGEST_M, SOURCES, THIN, THIN_OHM_M
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
from tests.planting.ratings import BEHIND, OVER, behind, fuses
from tests.planting.ways import loads_behind, relays, seat, survey, walk

BACK = 0.15
"""Share by which the current of a short may differ: the checks go back by one ground point where
two stand side by side."""
ALLOWED = 1.5
"""Times a wire's ampacity that a fuse may be rated: 33 CFR 183.455."""
ALL = frozenset(("joint", "diode", "control", "protection", "relay"))


def _bears_a(circuit: Circuit, wires: frozenset[str]) -> float:
    """Return what the thinnest of some wires may carry."""
    held = [ampacity(w.size).value_a for i in wires if (w := circuit.wires[i]).size is not None]
    return min((h for h in held if h is not None), default=0.0)


def _before(circuit: Circuit, fuse: Part) -> Part | None:
    """Return the fuse that feeds another one, None where there is none."""
    up = frozenset(("joint", "diode", "control", "relay"))
    met = walk(circuit, [(fuse.id, "1")], up).spots
    return next((f for f in fuses(circuit) if f.id != fuse.id and (f.id, "2") in met), None)


def fuse_at_load_end(circuit: Circuit) -> Iterator[Plant]:
    """Mistake 3: the fuse at the far end of its wire, before the load."""
    for fuse in fuses(circuit):
        near, after = wires_on(circuit, fuse.id, "1"), wires_on(circuit, fuse.id, "2")
        if len(near) != 1 or len(after) != 1 or (after[0].length_m or 0.0) <= 0.3:
            continue
        first, main = near[0], _before(circuit, fuse)
        bare = far(first, fuse.id).terminal in SOURCES
        large = main is not None and number(circuit, main, "rating_a") > _bears_a(
            circuit, frozenset((after[0].id,))
        )
        if not bare and not large:
            continue
        swapped = (
            replace(first, length_m=after[0].length_m, size=after[0].size),
            replace(after[0], length_m=first.length_m, size=first.size),
        )
        yield Plant(
            with_wires(circuit, swapped),
            f"{label(fuse)} at the load's end of its wire",
            frozenset(("unfused-length",)) if bare else OVER,
            frozenset((first.id,)),
            {
                "short-outlasts-wire": frozenset((first.id, main.id if main else "")),
                "unfused-length": frozenset((first.id,)),
                "return-thinner-than-feed": frozenset(circuit.parts),
            },
            frozenset(("danger",) if bare else ("danger", "advice")),
            {"length": (after[0].length_m or 0.0, 0.001)} if bare else {},
        )


def relay_as_protection(circuit: Circuit) -> Iterator[Plant]:
    """Mistake 4: no fuse before a relay's 30, because a relay is there."""
    for relay in relays(circuit):
        place = seat(circuit, relay)
        met = walk(circuit, [(place, "30")], frozenset(("joint", "diode"))).spots
        for fuse in fuses(circuit):
            near = wires_on(circuit, fuse.id, "1")
            if (fuse.id, "2") not in met or len(near) != 1:
                continue
            if far(near[0], fuse.id).terminal not in SOURCES:
                continue
            bare = with_parts(circuit, replace(fuse, kind="splice", ratings={}))
            after = wires_on(circuit, place, "87")
            yield Plant(
                moved(bare, fuse.id, {"1": "s", "2": "s"}),
                f"no {label(fuse)}, since {label(relay)} is there",
                frozenset(("unfused-length",)),
                frozenset(w.id for w in after if circuit.parts[far(w, place).part].kind != "diode"),
                {"unfused-length": walk(circuit, [(fuse.id, "2")], ALL).wires},
                frozenset(("danger",)),
            )


def short_that_blows_nothing(circuit: Circuit) -> Iterator[Plant]:
    """Mistake 13: a run so long and thin that a dead short draws 1.2 times its fuse's rating."""
    for fuse in fuses(circuit):
        rated, volts = number(circuit, fuse, "rating_a"), 1.05 * circuit.settings.nominal_v
        metres = float(round(volts / (1.2 * rated) / THIN_OHM_M))
        if metres > LONGEST_M:
            continue
        for wire_id in sorted(behind(circuit, fuse)):
            wire = circuit.wires[wire_id]
            if any(circuit.parts[e.part].kind == "ground" for e in ends(wire)):
                continue
            apart = walk(without_wire(circuit, wire_id), [(fuse.id, "2")], BEHIND).spots
            if {e.node for e in ends(wire)} <= apart:
                continue  # another way leads to its far end
            yield Plant(
                with_wires(circuit, [replace(wire, size=THIN, length_m=metres)]),
                f"{wire_label(wire)} {metres:g} m of 0.75 mm² behind {rated:g} A",
                frozenset(("short-outlasts-wire",)),
                frozenset((wire.id,)),
                _suffers(circuit, wire),
                numbers={"current": (1.2 * rated, 0.15)},
            )


def _suffers(circuit: Circuit, wire: Wire) -> dict[str, frozenset[str]]:
    """Return what a very long run explains: its own wire, and loads that get too little."""
    served, one = frozenset(circuit.parts), frozenset((wire.id,))
    return {
        **dict.fromkeys(("voltage-drop", "never-on", "weak-pull-in", "ground-lift"), served),
        "short-outlasts-wire": frozenset((wire.id, *(f.id for f in fuses(circuit)))),
        **dict.fromkeys((*OVER, "wire-overload", "unfused-length"), one),
        "return-thinner-than-feed": served,
    }


def breaker_that_resets(circuit: Circuit) -> Iterator[Plant]:
    """Mistake 24: a breaker that closes again by itself in place of a fuse that stands alone."""
    for fuse in fuses(circuit):
        wires = behind(circuit, fuse)
        main = _before(circuit, fuse)
        if not wires or (main and number(circuit, main, "rating_a") <= ALLOWED * _bears_a(
            circuit, wires
        )):  # fmt: skip
            continue
        rated = number(circuit, fuse, "rating_a")
        breaker = replace(fuse, kind="breaker", ratings={"rating_a": rated, "breaker_type": "I"})
        yield Plant(
            with_parts(circuit, breaker),
            f"{label(fuse)} a breaker that resets itself",
            frozenset(("breaker-resets-alone",)),
            frozenset((fuse.id,)),
            {"voltage-drop": frozenset(circuit.parts)},
            frozenset(("danger", "advice")),
            {"rating": (rated, 0.0), "current": (_short_a(circuit, fuse), BACK)},
        )


def _short_a(circuit: Circuit, fuse: Part) -> float:
    """Return what a dead short to the shell behind a fuse draws, the circuit solved with it."""
    states = survey(circuit)
    fed = states.solver.network.node_of(fuse.id, "1")
    live = np.abs(states.volts[:, fed]) > 0.8 * circuit.settings.nominal_v
    calm = np.array([s == "resting" for s in states.supplies])
    still = np.array([s.engine != "running" for s in states.settings])  # alternators are left out
    rows, found = np.flatnonzero(live & calm & still), []
    for row in rows[:: max(1, len(rows) // 12)].tolist():
        state = states.states[row]
        short = replace(state.setting, faults=(Fault(fuse.id, "shell", 1e-4, "2"),))
        shorted = Solver(circuit).settle(short, Memory(state.pulled)).states[0]
        found += [
            abs(float(a)) for e, a in zip(shorted.network.edges, shorted.solved.amps, strict=False)
            if e.owner == fuse.id and e.role == "fuse"
        ]  # fmt: skip
    return max(found)


def fuses_doubled(circuit: Circuit) -> Iterator[Plant]:
    """Mistake 25: two fuses of half the rating or more side by side in place of one."""
    for fuse in fuses(circuit):
        rated = number(circuit, fuse, "rating_a")
        half = next((r for r in fuse_ratings(circuit, fuse) if r >= rated / 2), 0.0)
        if (
            not 0.0 < half < rated
            or not wires_on(circuit, fuse.id, "1")
            or not wires_on(circuit, fuse.id, "2")
        ):
            continue
        first = replace(fuse, ratings={**fuse.ratings, "rating_a": half})
        second = replace(first, id=f"{fuse.id}-b", reference=f"{label(fuse)}b")
        links = [_link(fuse.id, second.id, t, n) for n, t in enumerate("12")]
        yield Plant(
            with_wires(with_parts(circuit, first, second), links),
            f"{label(fuse)} as two of {half:g} A",
            frozenset(("side-by-side",)),
            frozenset((fuse.id,)),
            _doubled(circuit, frozenset((fuse.id, second.id)), links),
            frozenset(("danger", "advice")),
            {"total": (2 * half, 0.0)},
        )


def relays_doubled(circuit: Circuit) -> Iterator[Plant]:
    """Mistake 25: a second relay beside one, coil and contact, to carry more."""
    states = survey(circuit)
    for relay in relays(circuit):
        place = seat(circuit, relay)
        if not relay.kind.startswith("relay-") or relay.kind == "relay-bistable":
            continue
        edges = [i for i, e in enumerate(states.solver.network.edges)
                 if e.owner == relay.id and e.element == "make"]  # fmt: skip
        amps = float(np.abs(states.amps[:, edges]).max(initial=0.0))
        if amps < 0.5 or not wires_on(circuit, place, "87"):
            continue
        second = replace(relay, id=f"{relay.id}-b", reference=f"{label(relay)}b", host="", slot="")
        links = [_link(place, second.id, t, n)
                 for n, t in enumerate(("30", "87", "86", "85"))]  # fmt: skip
        yield Plant(
            with_wires(with_parts(circuit, second), links),
            f"{label(relay)} doubled",
            frozenset(("side-by-side",)),
            frozenset((relay.id,)),
            _doubled(circuit, frozenset((relay.id, second.id)), links),
            frozenset(("fault", "advice")),
            {"current": (amps, 0.02)},
        )


def _link(one: str, other: str, terminal: str, n: int) -> Wire:
    """Return a short thick wire between the same terminals of two parts."""
    name = f"{other}-{n}"
    return Wire(name, name, End(one, terminal), End(other, terminal), Size(mm2=6.0), 0.05, "RD")


def _doubled(
    circuit: Circuit, parts: frozenset[str], links: list[Wire]
) -> dict[str, frozenset[str]]:
    """Return what a doubled part explains beside the finding that names it."""
    told = parts | {w.id for w in links}
    rules = (*OVER, "fuse-below-running", "fuse-below-start", "no-suppression")
    return {
        **dict.fromkeys((*rules, "short-outlasts-wire", "unfused-length"), told),
        "opens-out-of-turn": frozenset(f.id for f in fuses(circuit)) | parts,
        "diode-slows-motor": parts,
        "ground-lift": loads_behind(circuit, [(p, "87") for p in parts if p in circuit.parts]),
    }
