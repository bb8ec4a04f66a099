"""Supplies, fuses, joints, ground points, diodes, resistors and a kind of one's own."""

from __future__ import annotations

from dataclasses import replace

import pytest

from model.circuit import Circuit, Constants, OwnKind
from model.kinds import Body, Kind, Position, RatingSpec
from model.kinds.body import Coil, Contact, DiodePath, Resistance, Terminal
from model.states import Fault
from tests.building import BARE, battery, circuit, part, resistor, steady
from tests.model.kinds_shown import shows

R = "resistance"
FUSES = ("fuse-blade", "fuse-strip", "fuse-glass", "breaker")


def on_load(of_battery: dict[str, float], supply: str = "resting") -> float:
    """Return volts at the terminals of a battery that feeds 1 Ω."""
    parts = [part("BAT", "battery", **of_battery), resistor("R1", 1.0)]
    of = circuit(parts, "BAT.+ R1.1, R1.2 BAT.-")
    volts = steady(of, supply=supply).volt("BAT", "+")
    assert volts is not None
    return volts


@shows("battery")
def test_battery_sags_by_its_inner_resistance() -> None:
    """12.6 V behind 0.1 Ω into 1 Ω; behind (12.6 − 7.2) V / 600 A / 2 = 4.5 mΩ if not stated."""
    assert on_load({"inner_ohm": 0.1}) == pytest.approx(12.6 / 1.1)
    assert on_load({"cca_a": 600.0}) == pytest.approx(12.6 / 1.0045)
    assert on_load({"cca_a": 300.0}) == pytest.approx(12.6 / 1.009)


def test_battery_charged_cranking_and_flat() -> None:
    """14.2 V and 9.5 V by default; flat it has lost 12.65 − 11.89 V (a battery maker's table)."""
    assert on_load({"inner_ohm": 1.0}, supply="charging") == pytest.approx(7.1)
    assert on_load({"inner_ohm": 1.0}, supply="cranking") == pytest.approx(4.75)
    assert on_load({"inner_ohm": 1.0, "charge": 0.0}) == pytest.approx((12.6 - 0.76) / 2.0)


def charging(engine: str, load_ohm: float, **stated: float) -> list[float]:
    """Return volts of the battery and amperes out of the alternator beside it."""
    parts = [
        battery(12.6, 0.05),
        part("ALT", "alternator", inner_ohm=0.005, **stated),
        resistor("R1", load_ohm),
    ]
    of = circuit(parts, "BAT.+ R1.1, R1.2 BAT.-, ALT.B+ R1.1, ALT.case BAT.-")
    state = steady(of, engine=engine)
    volts = state.volt("BAT", "+")
    assert volts is not None
    return [volts, -state.current("ALT", "output")]


@shows("alternator")
def test_alternator_feeds_only_while_the_engine_turns() -> None:
    """14.2 V behind 5 mΩ beside 12.6 V behind 50 mΩ into 1 Ω, by Millman's theorem."""
    volts = (14.2 / 0.005 + 12.6 / 0.05) / (1 / 0.005 + 1 / 0.05 + 1.0)
    assert charging("running", 1.0) == [
        pytest.approx(volts, rel=1e-6),
        pytest.approx((14.2 - volts) / 0.005, rel=1e-4),
    ]
    assert charging("stopped", 1.0) == [pytest.approx(12.0), 0.0]
    assert charging("cranking", 1.0)[1] == 0.0


def test_alternator_gives_no_more_than_its_limit() -> None:
    """70 A and what 12.6 V behind 50 mΩ add into 0.1 Ω: (70 + 252) A over 30 S."""
    volts, amps = charging("running", 0.1, limit_a=70.0)
    assert amps == pytest.approx(70.0, rel=1e-4)
    assert volts == pytest.approx((70.0 + 12.6 / 0.05) / 30.0, rel=1e-4)


def test_alternator_takes_nothing_back() -> None:
    """Regulated lower than the battery it neither feeds nor is fed."""
    assert charging("running", 1.0, voltage_v=11.0) == [
        pytest.approx(12.0, rel=1e-6),
        pytest.approx(0.0, abs=1e-6),
    ]


def test_alternator_field_seen_through_a_charge_lamp() -> None:
    """Engine stopped: 12.6 V over a lamp of 60 Ω and the field of 12 Ω."""
    parts = [battery(12.6), part("ALT", "alternator", field_ohm=12.0), resistor("R1", 60.0)]
    state = steady(circuit(parts, "BAT.+ R1.1, R1.2 ALT.D+, ALT.case BAT.-"))
    assert state.current("R1", R) == pytest.approx(12.6 / 72.0, rel=1e-4)


@shows(*FUSES)
@pytest.mark.parametrize("kind", FUSES)
def test_fuse_conducts_until_it_is_blown(kind: str) -> None:
    parts = [battery(12.0), part("F1", kind, rating_a=10.0, fuse_ohm=0.5), resistor("R1", 5.5)]
    of = circuit(parts, "BAT.+ F1.1, F1.2 R1.1, R1.2 BAT.-")
    assert steady(of).current("F1", "element") == pytest.approx(2.0, rel=1e-4)
    blown = steady(of, faults=(Fault("F1", "open"),))
    assert blown.current("R1", R) == 0.0
    assert blown.volt("F1", "1") == pytest.approx(12.0)
    assert blown.volt("F1", "2") == 0.0


def test_fuse_resistance_from_its_drop_or_the_constant() -> None:
    """One maker's 10 A blade fuse drops 109 mV at 10 A; the constant 0.06 Ω·A gives 6 mΩ."""
    for constant, ohm in ((None, 0.0109), (0.06, 0.006)):
        parts = [battery(12.0), part("F1", "fuse-blade", rating_a=10.0), resistor("R1", 1.0)]
        constants = replace(BARE, fuse_ohm_a=constant)
        of = circuit(parts, "BAT.+ F1.1, F1.2 R1.1, R1.2 BAT.-", constants=constants)
        state = steady(of)
        assert state.across("F1", "element") / state.current("R1", R) == pytest.approx(ohm)


@shows("resistor")
def test_resistor_and_a_bad_joint_in_series() -> None:
    parts = [battery(12.0), resistor("R1", 4.0), resistor("R2", 2.0)]
    of = circuit(parts, "BAT.+ R1.1, R1.2 R2.1, R2.2 BAT.-")
    assert steady(of).current("R1", R) == pytest.approx(2.0, rel=1e-4)
    worse = steady(of, faults=(Fault("R2", "series", 6.0),))
    assert worse.current("R1", R) == pytest.approx(1.0, rel=1e-4)


@shows("diode")
def test_diode_passes_one_way_with_its_drop() -> None:
    """12 V less 0.7 V over 10 Ω and 30 mΩ; nothing the other way."""
    parts = [battery(12.0), part("V1", "diode"), resistor("R1", 10.0)]
    right = steady(circuit(parts, "BAT.+ V1.A, V1.K R1.1, R1.2 BAT.-"))
    assert right.current("V1", "junction") == pytest.approx(11.3 / 10.03, rel=1e-5)
    wrong = steady(circuit(parts, "BAT.+ V1.K, V1.A R1.1, R1.2 BAT.-"))
    assert wrong.current("R1", R) == pytest.approx(0.0, abs=1e-6)


@shows("splice", "stud")
@pytest.mark.parametrize("kind", ["splice", "stud"])
def test_joint_splits_a_current(kind: str) -> None:
    parts = [battery(12.0), part("X1", kind), resistor("R1", 6.0), resistor("R2", 3.0)]
    of = circuit(parts, "BAT.+ X1.s, X1.s R1.1, X1.s R2.1, R1.2 BAT.-, R2.2 BAT.-")
    state = steady(of)
    amps = [state.current(w) for w in ("W1", "W2", "W3")]
    assert amps == [pytest.approx(a, rel=1e-4) for a in (6.0, 2.0, 4.0)]


@shows("bus-bar")
def test_every_screw_of_a_bus_bar_is_the_same_metal() -> None:
    loads = [resistor(f"R{i}", 12.0) for i in range(2, 7)]
    wires = ", ".join(f"X1.{i} R{i}.1, R{i}.2 BAT.-" for i in range(2, 7))
    of = circuit(
        [battery(12.0), part("X1", "bus-bar", ways=6), *loads],
        f"BAT.+ X1.1, {wires}",
    )
    state = steady(of)
    assert [state.current(p.id, R) for p in loads] == [pytest.approx(1.0, rel=1e-4)] * 5
    assert state.current("W1") == pytest.approx(5.0, rel=1e-4)


@shows("fuse-box")
def test_fuse_box_feeds_through_the_fuses_that_sit_in_it() -> None:
    """Slots 1 and 3 have fuses of 0.5 Ω and 1 Ω, slot 2 is empty."""
    parts = [
        battery(12.0),
        part("X1", "fuse-box", ways=3),
        part("F1", "fuse-blade", fuse_ohm=0.5, host="X1", slot="1"),
        part("F3", "fuse-blade", fuse_ohm=1.0, host="X1", slot="3"),
        *(resistor(f"R{i}", 11.0) for i in (1, 2, 3)),
    ]
    wires = ", ".join(f"X1.{i} R{i}.1, R{i}.2 BAT.-" for i in (1, 2, 3))
    of = circuit(parts, f"BAT.+ X1.B, {wires}")
    state = steady(of)
    amps = [state.current(f"R{i}", R) for i in (1, 2, 3)]
    assert amps == [pytest.approx(a, rel=1e-4) for a in (12.0 / 11.5, 0.0, 1.0)]
    blown = steady(of, faults=(Fault("F3", "open"),))
    assert blown.current("R3", R) == 0.0


@shows("connector")
def test_ways_of_a_connector_keep_apart() -> None:
    """Each way has 0.5 Ω; a way whose other face has no wire carries nothing."""
    parts = [
        battery(12.0),
        part("X1", "connector", ways=3, way_ohm=0.5),
        resistor("R1", 5.5),
        resistor("R2", 2.5),
    ]
    wires = "BAT.+ X1.1/a, BAT.+ X1.2/a, BAT.+ X1.3/a, X1.1/b R1.1, X1.2/b R2.1"
    of = circuit(parts, wires + ", R1.2 BAT.-, R2.2 BAT.-")
    state = steady(of)
    amps = [state.current(f"W{i}") for i in (1, 2, 3)]
    assert amps == [pytest.approx(a, abs=1e-4) for a in (2.0, 4.0, 0.0)]
    assert state.current("X1", "way 2") == pytest.approx(4.0, rel=1e-4)
    assert state.volt("X1", "3/b") == pytest.approx(12.0)


@shows("relay-socket")
def test_relay_works_in_its_socket() -> None:
    socket, relay = part("X1", "relay-socket"), part("K1", "relay-changeover", contact_ohm=0.0)
    wires = "BAT.+ X1.30, X1.87 R1.1, X1.87a R2.1, R1.2 BAT.-, R2.2 BAT.-, BAT.+ S1.1, S1.2 X1.86"
    parts = [battery(12.0), part("S1", "switch"), socket, resistor("R1", 12.0), resistor("R2", 6.0)]
    wires += ", X1.85 BAT.-"
    empty = steady(circuit([*parts, relay], wires), {"S1": "ON"})
    assert (empty.current("R1", R), empty.current("R2", R)) == (0.0, 0.0)
    of = circuit([*parts, replace(relay, host="X1", slot="relay")], wires)
    for position, amps in (("OFF", (0.0, 2.0)), ("ON", (1.0, 0.0))):
        state = steady(of, {"S1": position})
        found = [state.current(r, R) for r in ("R1", "R2")]
        assert found == [pytest.approx(a, rel=1e-4) for a in amps]


@shows("ground")
def test_ground_points_meet_in_the_shell() -> None:
    """Two points of 0.5 Ω each are in series with 5 Ω."""
    parts = [
        battery(12.0),
        resistor("R1", 5.0),
        part("G1", "ground", ground_ohm=0.5),
        part("G0", "ground", ground_ohm=0.5),
    ]
    of = circuit(parts, "BAT.+ R1.1, R1.2 G1.g, G0.g BAT.-")
    assert steady(of).current("R1", R) == pytest.approx(2.0, rel=1e-4)
    lost = steady(of, faults=(Fault("G1", "open"),))
    assert lost.current("R1", R) == pytest.approx(0.0, abs=1e-9)
    assert lost.volt("R1", "2") == pytest.approx(12.0)


def own_kind() -> OwnKind:
    """Return a part of one's own: a switched input, a sensing coil, a diode and a contact."""
    body = Body(
        (Terminal("IN"), Terminal("GND"), Terminal("OUT"), Terminal("AUX")),
        (
            Resistance(name="pull-up", a="IN", b="(middle)", ohm="series_ohm"),
            Coil(name="sense", a="(middle)", b="GND", moves="sense"),
            Contact(name="output", a="IN", b="OUT", by="sense", closed=("in",)),
            Contact(name="mode", a="OUT", b="(aux)", closed=("BOTH",)),
            DiodePath(name="aux", a="(aux)", b="AUX"),
        ),
        (Position("ONE"), Position("BOTH", (("OUT", "AUX"),))),
        "ONE",
    )

    def spec(key: str, quantity: str, value: float) -> RatingSpec:
        return RatingSpec(key, key, quantity, value, "stated for the test")

    ratings = (
        spec("series_ohm", "resistance", 50.0),
        spec("coil_ohm", "resistance", 50.0),
        spec("coil_v", "voltage", 12.0),
        spec("pull_in_share", "share", 0.5),
        spec("drop_out_share", "share", 0.25),
        spec("contact_ohm", "resistance", 0.5),
        spec("forward_v", "voltage", 0.7),
        spec("forward_ohm", "resistance", 0.03),
    )
    return OwnKind("own1", Kind("own1", "Output stage", "own", "A", body, ratings))


def with_own(volts: float) -> Circuit:
    """Return the part of one's own with 5.5 Ω on its output and 10 Ω on its aux."""
    parts = [battery(volts), part("A1", "own1"), resistor("R1", 5.5), resistor("R2", 10.0)]
    wires = "BAT.+ A1.IN, A1.GND BAT.-, A1.OUT R1.1, A1.AUX R2.1, R1.2 BAT.-, R2.2 BAT.-"
    return replace(circuit(parts, wires), own_kinds={"own1": own_kind()})


def test_a_kind_of_ones_own_needs_no_code() -> None:
    """At 12 V its coil gets 6 V, just enough; at 11.9 V not; the diode feeds AUX in BOTH."""
    assert steady(with_own(11.9)).current("R1", R) == 0.0
    one = steady(with_own(12.1))
    assert one.pulled == frozenset({("A1", "sense")})
    assert one.current("R1", R) == pytest.approx(12.1 / 6.0, rel=1e-4)
    assert one.current("R2", R) == pytest.approx(0.0, abs=1e-6)
    both = steady(with_own(12.1), {"A1": "BOTH"})
    node = (12.1 / 0.5 + 0.7 / 10.53) / (1 / 0.5 + 1 / 5.5 + 1 / 10.53)
    assert both.volt("A1", "OUT") == pytest.approx(node, rel=1e-4)
    assert both.current("R2", R) == pytest.approx((node - 0.7) / 10.53, rel=1e-4)


def test_constants_of_a_circuit_replace_defaults() -> None:
    """2 m of 1 mm² at 0.02 Ω·mm²/m and 10 mΩ of ends: 50 mΩ in front of 0.95 Ω."""
    of = circuit([battery(12.0), resistor("R1", 0.95)], "BAT.+ R1.1, R1.2 BAT.-")
    wire = replace(of.wires["W1"], ends_ohm=None, length_m=2.0)
    constants = Constants(copper_ohm_mm2_m=0.02, wire_ends_ohm=0.010)
    settings = replace(of.settings, constants=constants)
    of = replace(of, wires={**of.wires, "W1": wire}, settings=settings)
    assert steady(of).current("R1", R) == pytest.approx(12.0, rel=1e-4)
