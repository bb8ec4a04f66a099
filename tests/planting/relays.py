"""Mistakes at relays: the wrong tab, the wrong way round, the wrong coil."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from model.circuit import Circuit, End, Part, Wire
from model.lookup import label, number, word
from model.wiresize import Size
from tests.planting.plant import Plant, moved, wires_on, with_parts, with_wires
from tests.planting.ways import JOINTS, loads, loads_behind, relays, seat, survey, walk

RULES_OF_INDICATOR = (
    "ground-only-through-load",
    "runs-at-rest",
    "runs-after-crash",
    "always-on",
    "held-by-leak",
    "fuse-above-wire",
    "thinner-without-fuse",
    "short-outlasts-wire",
    "unfused-length",
)
MAKES = ("relay-make", "relay-resistor", "relay-diode")


def break_for_make(circuit: Circuit) -> Iterator[Plant]:
    """Mistake 5: the wires of 87 on 87a of a five-pin relay, which fits the same socket."""
    for relay in relays(circuit):
        place = seat(circuit, relay)
        if relay.kind not in (*MAKES, "relay-changeover") or not wires_on(circuit, place, "87"):
            continue
        if wires_on(circuit, place, "87a"):
            continue
        five = with_parts(circuit, _five_pin(circuit, relay))
        behind = loads_behind(circuit, [(place, "87")])
        yield Plant(
            moved(five, place, {"87": "87a"}),
            f"87a of {label(relay)} used for 87",
            frozenset(("runs-at-rest", "runs-after-crash", "always-on")),
            behind,
            {
                "contact-overload": frozenset((relay.id,)),
                "voltage-drop": behind,
                "ground-lift": behind,
            },
        )


def _five_pin(circuit: Circuit, relay: Part) -> Part:
    """Return a relay as the change-over one of the same coil."""
    suppression = word(circuit, relay, "suppression")
    return replace(
        relay, kind="relay-changeover", ratings={**relay.ratings, "suppression": suppression}
    )


def feed_and_make_interchanged(circuit: Circuit) -> Iterator[Plant]:
    """Mistake 6: 30 and 87 interchanged where something hangs on 87a; else it does no harm."""
    for relay in relays(circuit):
        place = seat(circuit, relay)
        if relay.kind != "relay-changeover" or not wires_on(circuit, place, "87a"):
            continue
        behind = loads_behind(circuit, [(place, "87a"), (place, "30")])
        wires = {w.id for t in ("30", "87", "87a") for w in wires_on(circuit, place, t)}
        yield Plant(
            moved(circuit, place, {"30": "87", "87": "30"}),
            f"30 and 87 of {label(relay)} interchanged",
            frozenset(("never-on", "no-feed", "supply-shorted")),
            behind | wires | {relay.id},
            _short_at(circuit, place, "30"),
        )


def _short_at(circuit: Circuit, place: str, terminal: str) -> dict[str, frozenset[str]]:
    """Return what a short behind a relay's contact explains: the fuse, contacts and wires in it."""
    way = walk(circuit, [(place, t) for t in ("30", "87", "87a", terminal)], JOINTS | {"control"})
    back = {
        w.id for p in circuit.parts.values() if p.kind == "ground" for w in wires_on(circuit, p.id)
    }
    return {
        "fuse-below-running": way.parts,
        "supply-shorted": way.parts,
        "contact-overload": way.parts,
        "wire-overload": way.wires | back,
        "weak-pull-in": frozenset(p.id for p in relays(circuit)),
    }


def diode_relay_reversed(circuit: Circuit) -> Iterator[Plant]:
    """Mistake 7: 86 and 85 reversed on a relay with a diode."""
    for relay in relays(circuit):
        place = seat(circuit, relay)
        if word(circuit, relay, "suppression") != "diode" or not wires_on(circuit, place, "86"):
            continue
        line = walk(circuit, [(place, "86"), (place, "85")], JOINTS | {"control"})
        yield Plant(
            moved(circuit, place, {"86": "85", "85": "86"}),
            f"86 and 85 of {label(relay)} reversed",
            frozenset(("reversed-diode",)),
            frozenset((relay.id,)),
            {
                "fuse-below-running": line.parts,
                "supply-shorted": line.parts,
                "contact-overload": line.parts,
                "wire-overload": line.wires,
                "never-on": line.parts,
            },
            frozenset(("danger",)),
        )


COILS = {12.0: (24.0, 350.0), 24.0: (12.0, 90.0)}
"""Nominal voltage of the circuit: volts and ohms of the other class (published cube relays)."""


def coil_of_other_voltage(circuit: Circuit) -> Iterator[Plant]:
    """Mistake 15: a relay of 24 V on 12 V or the other way round."""
    volts, ohm = COILS[circuit.settings.nominal_v]
    for relay in relays(circuit):
        share = ohm / (350.0 if volts == 24.0 else 90.0)
        kept = number(circuit, relay, "coil_ohm", 90.0)
        electronic = kept > 400.0
        coil = {"coil_v": volts, "coil_ohm": kept if electronic else ohm * share}
        wrong = replace(relay, ratings={**relay.ratings, **coil})
        gets = _greatest_v(circuit, relay)
        needs = number(circuit, relay, "must_pull_in_share", 0.7) * volts
        high = {"seen": (gets, 0.03), "times": ((gets / volts) ** 2, 0.06)}
        yield Plant(
            with_parts(circuit, wrong),
            f"{label(relay)} with a {volts:g} V coil",
            frozenset(("coil-voltage-class",)),
            frozenset((relay.id,)),
            severities=frozenset(("fault" if volts == 24.0 else "danger",)),
            numbers={"coil": (volts, 0.0), "needs": (needs, 1e-6)}
            | ({} if volts == 24.0 else high),
        )


def _greatest_v(circuit: Circuit, relay: Part) -> float:
    """Return the most that a coil of a relay ever gets in the sound circuit."""
    states = survey(circuit)
    edges = [e for e in states.solver.network.edges if e.owner == relay.id and e.role == "coil"]
    return max(float(np.abs(states.volts[:, e.a] - states.volts[:, e.b]).max()) for e in edges)


def indicator_on_the_far_side(circuit: Circuit) -> Iterator[Plant]:
    """Mistake 16: an indicator from the feed to the switched end of a coil, which holds it."""
    states = survey(circuit)
    amps = 1.2 / circuit.settings.nominal_v
    for relay in relays(circuit):
        place = seat(circuit, relay)
        if not relay.kind.startswith("relay-") or relay.kind == "relay-bistable":
            continue
        feed, coil = (states.rest.volt(place, t) or 0.0 for t in ("30", "86"))
        ground = states.rest.volt(place, "85")
        if feed < 0.9 * circuit.settings.nominal_v or coil > 0.1 or ground is None or ground > 0.1:
            continue
        beside = walk(circuit, [(place, "86")], frozenset(("joint", "diode"))).parts
        if beside & {p.id for p in loads(circuit)}:
            continue  # another load takes the current
        ratings = {"current_a": amps, "at_v": circuit.settings.nominal_v}
        lamp = Part("lamp-x", "lamp", "HX", ratings=ratings)
        wires = [
            Wire(f"wire-{t}", f"WX{t}", End(place, p), End(lamp.id, t), Size(mm2=0.75), 0.3, "YE")
            for p, t in (("30", "+"), ("86", "-"))
        ]
        line = walk(circuit, [(place, "86"), (place, "30")], JOINTS | {"control"})
        told = frozenset((lamp.id, relay.id, *line.parts, *(w.id for w in wires), *line.wires))
        yield Plant(
            with_wires(with_parts(circuit, lamp), wires),
            f"indicator on 86 of {label(relay)}",
            frozenset(("held-by-leak",)),
            frozenset((relay.id,)),
            dict.fromkeys(RULES_OF_INDICATOR, told),
            frozenset(("fault",)),
        )
