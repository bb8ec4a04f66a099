"""Mistakes at relays: the wrong tab, the wrong way round, the wrong coil."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from model.circuit import Circuit, Part
from model.lookup import label, number, word
from tests.planting.plant import Plant, moved, wires_on, with_parts
from tests.planting.ways import JOINTS, loads_behind, relays, seat, walk

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
        yield Plant(
            with_parts(circuit, wrong),
            f"{label(relay)} with a {volts:g} V coil",
            frozenset(("coil-voltage-class",)),
            frozenset((relay.id,)),
            severities=frozenset(("fault" if volts == 24.0 else "danger",)),
        )
