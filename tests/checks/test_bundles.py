"""What wires may carry in zones and bundles, by hand.

Ampacity: a seller's thin-wall data sheet, 1.5 mm² 21 A, 2.5 mm² 29 A at 30 °C and 105 °C material.
Bundles: MIL-W-5088L curves as tabulated in a public note, 2 wires 0.825, 3 0.725, 4 0.66.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from checks.case import Case
from checks.rules import fuse_above_wire, fuse_below_running, weak_pull_in, wire_overload
from checks.sketch import sketch
from model.circuit import Chosen, Circuit

HEAD = """
    zone bay 85
    zone cabin 25
    G1 battery
    F1 fuse-strip rating_a=80
    X1 ground
    X2 ground
    WF G1.+ F1.1 16 0.15
    WG X2.g G1.- 16 0.3
"""


def loads(*amps: float, size: str = "2.5", zone: str = "") -> str:
    """Return one switched heater for every current, its feed Wn of this size."""
    lines = []
    for n, current in enumerate(amps, 1):
        at = f" zone={zone}" if zone else ""
        lines += [
            f"S{n} switch contact_a=100",
            f"E{n} heater current_a={current} at_v=12.6{at}",
            f"WS{n} F1.2 S{n}.1 16 0.1",
            f"W{n} S{n}.2 E{n}.+ {size} 0.1",
            f"WE{n} E{n}.- X1.g 16 0.1",
        ]
    return HEAD + "\n".join(lines) + "\n"


def choosing(circuit: Circuit, **chosen: str) -> Circuit:
    """Return a circuit with other tables."""
    return replace(circuit, settings=replace(circuit.settings, chosen=Chosen(**chosen)))


def limit(circuit: Circuit, wire: str) -> float:
    """Return what a wire may carry at worst."""
    held = Case(circuit).ampacity(circuit.wires[wire])
    assert held is not None and held.value_a is not None
    return held.value_a


@pytest.mark.parametrize(
    ("amps", "factor"),
    [
        ((10.0,), 1.0),
        ((10.0, 10.0), 0.825),
        ((10.0, 10.0, 10.0), 0.725),
        ((10.0, 10.0, 10.0, 10.0), 0.66),
        # 1 A of 29 A is under 30 % of 29 × 0.725 = 6.3 A: not loaded, and does not count ...
        ((10.0, 10.0, 1.0), 0.825),
        # ... just above it does.
        ((10.0, 10.0, 6.6), 0.725),
    ],
)
def test_the_loaded_wires_of_a_bundle_count(amps: tuple[float, ...], factor: float) -> None:
    """29 A for 2.5 mm² times the factor of the wires that are loaded together."""
    names = " ".join(f"W{n}" for n in range(1, len(amps) + 1))
    circuit = sketch(loads(*amps) + f"bundle B1 {names}")
    assert limit(circuit, "W1") == pytest.approx(29.0 * factor)


def test_a_wire_that_is_not_loaded_itself_counts_once_more_for_its_own_limit() -> None:
    """Beside two loaded wires it would be the third: 29 × 0.725."""
    circuit = sketch(loads(10.0, 10.0, 1.0) + "bundle B1 W1 W2 W3")
    assert limit(circuit, "W3") == pytest.approx(29.0 * 0.725)


def test_what_never_runs_together_does_not_warm_each_other() -> None:
    """A change-over switch feeds one of two: each is alone in every state, 29 A."""
    text = (
        HEAD
        + """
    S1 switch terminals=C,A,B table=ONE:C-A;TWO:C-B rest=ONE contact_a=100
    E1 heater current_a=20 at_v=12.6
    E2 heater current_a=20 at_v=12.6
    WS F1.2 S1.C 16 0.1
    W1 S1.A E1.+ 2.5 0.1
    W2 S1.B E2.+ 2.5 0.1
    WE E1.- X1.g 16 0.1
    WH E2.- X1.g 16 0.1
    bundle B1 W1 W2
    """
    )
    circuit = sketch(text)
    case = Case(circuit)
    running = np.array([any(s) for s in np.abs(case.survey.amps) > 1.0])
    assert running.any()
    for wire in ("W1", "W2"):
        bundled = case.bundles.worst(circuit.wires[wire], _edge(case, wire))
        assert bundled is not None
        held, amps, _ = bundled
        assert held.value_a == pytest.approx(29.0) and held.loaded == 1
        assert amps == pytest.approx(20.0, rel=0.05)


def _edge(case: Case, wire: str) -> int:
    return next(i for i, e in case.network.of_role("wire") if e.owner == wire)


def test_bundle_tables_are_chosen_and_may_be_left_out() -> None:
    """Four loaded: 0.66 by MIL-W-5088L, 0.8 by building practice, 0.6 by 33 CFR, 1 by none."""
    circuit = sketch(loads(*[10.0] * 4) + "bundle B1 W1 W2 W3 W4")
    for table, factor in {"aircraft": 0.66, "building": 0.8, "33cfr": 0.6, "none": 1.0}.items():
        assert limit(choosing(circuit, bundle=table), "W1") == pytest.approx(29.0 * factor)


def test_more_wires_than_the_table_knows_is_unknown_and_named() -> None:
    """The curves end at 20 wires; 21 loaded ones are not guessed."""
    count = 21
    lines = [
        line
        for n in range(count)
        for line in (f"E{n} heater current_a=9 at_v=12.6", f"W{n} F1.2 E{n}.+ 2.5 0.1",
                     f"WE{n} E{n}.- X1.g 16 0.1")
    ]  # fmt: skip
    names = " ".join(f"W{n}" for n in range(count))
    circuit = sketch(HEAD.replace("=80", "=250") + "\n".join(lines) + f"\nbundle B1 {names}")
    case = Case(circuit)
    held = case.ampacity(circuit.wires["W0"])
    assert held is not None and held.value_a is None and held.lacks == "aircraft"
    found = [f for f in wire_overload.find(case) if f.severity == "unknown"]
    assert len(found) == 1 and "table aircraft" in found[0].sentence()


def test_a_hot_part_makes_the_end_of_its_wire_hot() -> None:
    """√((105 − 85)/75) = 0.516 of 29 A for the wire to a heater in the bay; 1 in the cabin."""
    hot = sketch(loads(10.0, zone="bay"))
    assert limit(hot, "W1") == pytest.approx(29.0 * math.sqrt(20 / 75))
    assert limit(sketch(loads(10.0, zone="cabin")), "W1") == pytest.approx(29.0)


def test_crowded_in_the_cool_and_alone_in_the_heat_are_not_multiplied() -> None:
    """A bundle of 2 in the cabin (0.825) and 85 °C at the end (0.516): the lesser, not both."""
    circuit = sketch(loads(10.0, 10.0, zone="bay") + "bundle B1@cabin W1 W2")
    assert limit(circuit, "W1") == pytest.approx(29.0 * math.sqrt(20 / 75))
    in_bay = sketch(loads(10.0, 10.0, zone="bay") + "bundle B1@bay W1 W2")
    assert limit(in_bay, "W1") == pytest.approx(29.0 * math.sqrt(20 / 75) * 0.825)


def test_overload_is_found_in_the_bundle_and_names_it() -> None:
    """26 A on 2.5 mm²: under 29 A alone, over 29 × 0.825 = 23.9 A where two run together."""
    alone = sketch(loads(27.5, 20.0))
    assert list(wire_overload.find(Case(alone))) == []
    found = list(wire_overload.find(Case(sketch(loads(27.5, 20.0) + "bundle B1@cabin W1 W2"))))
    assert [f.wires for f in found] == [("W1",)]
    values, said = found[0].values, found[0].sentence()
    assert values["limit"] == pytest.approx(29 * 0.825)
    assert (values["bundle"], values["loaded"], values["bundle_table"]) == ("B1", 2, "aircraft")
    # Copper: 30 °C of the end outside the cabin would be cooler than the bundle's share demands:
    # 25 °C + 75 K · (25/23.9)².
    assert values["copper"] == pytest.approx(25 + 75 * (float(values["current"]) / 23.925) ** 2)
    assert "among 2 loaded wires of the bundle B1" in said and "zone cabin" in said
    assert "MIL-W-5088L" in found[0].source and "data sheet" in found[0].source


def test_a_fuse_is_held_against_the_bundle_too() -> None:
    """A 25 A fuse on 2.5 mm² (29 A) is right alone; with two loaded 23.9 A is less than it."""
    text = loads(15.0, 15.0).replace("rating_a=80", "rating_a=25")
    text = text.replace("F1.2 S1.1 16", "F1.2 S1.1 2.5")  # no thicker wire before it
    alone = [f for f in fuse_above_wire.find(Case(sketch(text))) if "W1" in f.wires]
    both = fuse_above_wire.find(Case(sketch(text + "bundle B1 W1 W2")))
    found = [f for f in both if "W1" in f.wires]
    assert alone == [] and len(found) == 1
    assert found[0].values["ampacity"] == pytest.approx(29 * 0.825)
    assert found[0].values["bundle"] == "B1" and "bundle B1" in found[0].sentence()


def test_a_fuse_is_derated_where_it_is() -> None:
    """7 A on 10 A: 75 % hold 7.5 A at 25 °C; in 85 °C 0.75 × (1 − 0.005·60) leave 5.25 A.

    Half a percent less per °C above 25 °C: interfacebus.com.
    """
    text = """
    zone bay 85
    G1 battery
    F1 fuse-blade rating_a=10 {zone}
    E1 heater current_a=7 at_v=12.6
    X1 ground
    W1 G1.+ F1.1 4 0.1
    W2 F1.2 E1.+ 4 0.1
    W3 E1.- X1.g 4 0.1
    W4 X1.g G1.- 16 0.1
    """
    assert list(fuse_below_running.find(Case(sketch(text.format(zone=""))))) == []
    found = list(fuse_below_running.find(Case(sketch(text.format(zone="zone=bay")))))
    assert len(found) == 1 and found[0].values["limit"] == pytest.approx(0.75 * 0.7)
    assert "in the zone bay" in found[0].sentence()


def test_a_fuse_in_a_box_is_as_warm_as_the_box() -> None:
    """The box stands in the bay, the fuse sits in it."""
    from model.zones import part_warmth

    circuit = sketch("zone bay 85\nFB fuse-box ways=2 zone=bay\nF1 fuse-blade host=FB slot=1\n")
    assert part_warmth(circuit, circuit.parts["F1"]).celsius == 85.0


def test_a_coil_in_the_bay_needs_more_and_resists_more() -> None:
    """90 Ω, 8.4 V at 20 °C: 113.0 Ω and 10.55 V at 85 °C (copper, 234.5 °C: +25.5 %)."""
    text = """
    zone bay 85
    G1 battery
    S1 switch
    R1 resistor resistance_ohm=25
    K1 relay-make coil_ohm=90 zone={zone}
    X1 ground
    W1 G1.+ S1.1 1 0.1
    W2 S1.2 R1.1 1 0.1
    W3 R1.2 K1.86 1 0.1
    W4 K1.85 X1.g 1 0.1
    W5 X1.g G1.- 10 0.1
    """
    case = Case(sketch(text.format(zone="bay")))
    found = list(weak_pull_in.find(case))
    assert [f.severity for f in found] == ["fault"]
    assert found[0].values["needs"] == pytest.approx(10.55, abs=0.005)
    # 12.6 V · 113/(113 + 25 + wire and battery): 10.3 V.
    assert float(found[0].values["volts"]) == pytest.approx(12.6 * 112.99 / 138.0, rel=5e-3)
    assert "in the zone bay" in found[0].sentence()


def test_a_stated_zone_of_a_wire_wins_over_its_ends() -> None:
    """A wire said to lie in the cabin is not heated by the part in the bay it ends at."""
    circuit = sketch(loads(10.0, zone="bay"))
    wire = replace(circuit.wires["W1"], zone="cabin")
    said = replace(circuit, wires={**circuit.wires, "W1": wire})
    assert limit(said, "W1") == pytest.approx(29.0)
