"""What every relay does: thresholds, contacts, suppression, clocks; values worked out here."""

from __future__ import annotations

import pytest

from model.circuit import Circuit, Conditions
from model.states import Fault, Memory
from tests.building import battery, circuit, part, resistor, settle, steady
from tests.model.kinds_shown import shows

R = "resistance"
PLAIN = ("relay-make", "relay-changeover", "relay-double", "relay-resistor", "relay-diode")
OUTPUTS = {"relay-changeover": ("87", "87a"), "relay-double": ("87", "87b")}
CLOSED = {"in": {"87", "87b"}, "out": {"87a"}}
COIL_OHM = 100.0


def bench(kind: str, volts: float = 12.0, **stated: object) -> Circuit:
    """Return a relay on a bench: coil by S1, 12 Ω of load on each output."""
    outputs = OUTPUTS.get(kind, ("87",))
    relay = part("K1", kind, coil_ohm=COIL_OHM, contact_ohm=0.0, **stated)
    parts = [battery(volts), part("S1", "switch", contact_ohm=0.0), relay]
    wires = "BAT.+ S1.1, S1.2 K1.86, K1.85 BAT.-, BAT.+ K1.30"
    for key in outputs:
        parts.append(resistor(f"R{key}", 12.0))
        wires += f", K1.{key} R{key}.1, R{key}.2 BAT.-"
    return circuit(parts, wires)


@shows(*PLAIN)
@pytest.mark.parametrize("kind", PLAIN)
def test_contacts_at_rest_and_pulled_in(kind: str) -> None:
    of = bench(kind)
    for position, state_name in (("OFF", "out"), ("ON", "in")):
        state = steady(of, {"S1": position})
        assert (("K1", "coil") in state.pulled) == (state_name == "in")
        for key in OUTPUTS.get(kind, ("87",)):
            wanted = 1.0 if key in CLOSED[state_name] else 0.0
            assert state.current(f"R{key}", R) == pytest.approx(wanted, rel=1e-4)


@pytest.mark.parametrize("kind", PLAIN)
def test_coil_pulls_in_and_lets_go_at_its_shares(kind: str) -> None:
    """Pull-in at 60 % of 12 V is 7.2 V, letting go at 25 % is 3.0 V; between it stays."""

    def stays(volts: float, was_in: bool) -> bool:
        memory = Memory(frozenset({("K1", "coil")} if was_in else ()))
        of = bench(kind, volts, pull_in_share=0.60, drop_out_share=0.25)
        return ("K1", "coil") in steady(of, {"S1": "ON"}, memory).pulled

    tried = (2.9, 3.1, 7.1, 7.3)
    assert [stays(v, False) for v in tried] == [False, False, False, True]
    assert [stays(v, True) for v in tried] == [False, True, True, True]


def test_hot_coil_needs_more_volts() -> None:
    """At 80 °C copper has (234.5 + 80) / (234.5 + 20) = 1.2358 times its ohms (IEC 60228)."""
    factor = (234.5 + 80.0) / (234.5 + 20.0)
    for volts, pulls in ((7.2 * factor - 0.05, False), (7.2 * factor + 0.05, True)):
        of = bench("relay-make", volts, pull_in_share=0.60)
        warm = circuit(
            list(of.parts.values()),
            "BAT.+ S1.1, S1.2 K1.86, K1.85 BAT.-",
            conditions=Conditions(temperature_c=80.0),
        )
        state = steady(warm, {"S1": "ON"})
        assert state.current("K1", "coil") == pytest.approx(volts / (COIL_OHM * factor), rel=1e-4)
        assert bool(state.pulled) is pulls


def test_either_way_round_without_a_diode() -> None:
    for kind in ("relay-make", "relay-resistor"):
        parts = [battery(12.0), part("K1", kind)]
        assert steady(circuit(parts, "BAT.+ K1.85, K1.86 BAT.-")).pulled


def test_suppression_resistor_draws_beside_the_coil() -> None:
    """680 Ω beside the coil: 12 V drive 17.6 mA more."""
    of = bench("relay-resistor", suppression_ohm=680.0)
    state = steady(of, {"S1": "ON"})
    assert state.current("W2") == pytest.approx(12.0 / COIL_OHM + 12.0 / 680.0, rel=1e-4)


def test_suppression_diode_is_idle_the_right_way_round() -> None:
    state = steady(bench("relay-diode"), {"S1": "ON"})
    assert state.current("W2") == pytest.approx(12.0 / COIL_OHM, rel=1e-4)


def test_suppression_diode_reversed_is_a_short() -> None:
    """Through 0.1 Ω of wire: (12 − 0.7) V over 0.13 Ω, and the coil gets what is left."""
    relay = part(
        "K1",
        "relay-diode",
        coil_ohm=COIL_OHM,
        suppression_forward_v=0.7,
        suppression_forward_ohm=0.03,
    )
    of = circuit([battery(12.0), relay], "BAT.+ K1.85, K1.86 BAT.-", {"W1": 0.1})
    state = steady(of)
    left = (0.7 / 0.03 + 12.0 / 0.1) / (1 / 0.03 + 1 / 0.1 + 1 / COIL_OHM)
    assert -state.across("K1", "coil") == pytest.approx(left, rel=1e-4)
    assert state.current("W1") == pytest.approx((12.0 - left) / 0.1, rel=1e-4)
    assert state.current("W1") > 80.0
    assert not state.pulled


def test_welded_contact_stays_closed_and_opens_its_break_side() -> None:
    of = bench("relay-changeover")
    state = steady(of, {"S1": "OFF"}, faults=(Fault("K1", "welded"),))
    assert state.current("R87", R) == pytest.approx(1.0, rel=1e-4)
    assert state.current("R87a", R) == 0.0
    assert not state.pulled


def test_stuck_armature_stays_as_it_was() -> None:
    of, stuck = bench("relay-make"), (Fault("K1", "stuck"),)
    held = steady(of, {"S1": "OFF"}, steady(of, {"S1": "ON"}).memory, faults=stuck)
    assert held.current("R87", R) == pytest.approx(1.0, rel=1e-4)
    assert steady(of, {"S1": "ON"}, faults=stuck).current("R87", R) == 0.0


def clocked(timing: str) -> Circuit:
    """Return a timer relay with its input on S1 and a load of 12 Ω."""
    timer = part("K1", "timer", timing=timing, contact_ohm=0.0)
    parts = [battery(12.0), part("S1", "switch"), timer, resistor("R1", 12.0)]
    return circuit(
        parts, "BAT.+ S1.1, S1.2 K1.15, K1.31 BAT.-, BAT.+ K1.30, K1.87 R1.1, R1.2 BAT.-"
    )


@shows("timer")
@pytest.mark.parametrize(
    ("timing", "amps"),
    [
        ("pulse", [0.0, 1.0, 0.0, 0.0, 0.0]),
        ("on-delay", [0.0, 0.0, 1.0, 0.0, 0.0]),
        ("off-delay", [0.0, 1.0, 1.0, 1.0, 0.0]),
    ],
)
def test_timer_before_and_after_its_time(timing: str, amps: list[float]) -> None:
    """Input off; on, time running; time gone; input off again, time running; time gone."""
    of, memory, seen = clocked(timing), Memory(), []
    moments = [("OFF", "settled"), ("ON", "early"), ("ON", "settled")]
    for position, moment in [*moments, ("OFF", "early"), ("OFF", "settled")]:
        state = steady(of, {"S1": position}, memory, moment=moment)
        memory = state.memory
        seen.append(round(state.current("R1", R), 3))
    assert seen == amps


@shows("flasher")
def test_flasher_joins_its_lamp_while_it_is_fed() -> None:
    parts = [battery(12.0), part("S1", "switch"), part("K1", "flasher"), resistor("R1", 6.0)]
    of = circuit(parts, "BAT.+ S1.1, S1.2 K1.49, K1.31 BAT.-, K1.49a R1.1, R1.2 BAT.-")
    assert steady(of).current("R1", R) == 0.0
    lit = steady(of, {"S1": "ON"})
    assert lit.current("R1", R) == pytest.approx(2.0, rel=0.002)


@shows("relay-bistable")
def test_bistable_relay_stays_where_the_last_pulse_put_it() -> None:
    parts = [
        battery(12.0),
        part("S1", "push-make"),
        part("S2", "push-make"),
        part("K1", "relay-bistable", contact_ohm=0.0),
        resistor("R1", 12.0),
        resistor("R2", 6.0),
    ]
    of = circuit(
        parts,
        "BAT.+ S1.1, BAT.+ S2.1, S1.2 K1.S, S2.2 K1.R, K1.31 BAT.-, BAT.+ K1.30, K1.87 R1.1, "
        "K1.87a R2.1, R1.2 BAT.-, R2.2 BAT.-",
    )
    memory, seen = Memory(), []
    pulses = ("", "S1", "", "S1 S2", "", "S2", "", "S1 S2", "")
    for pressed in pulses:
        state = steady(of, dict.fromkeys(pressed.split(), "PRESS"), memory)
        memory = state.memory
        seen.append((round(state.current("R1", R)), round(state.current("R2", R))))
    reset, put = (0, 2), (1, 0)
    assert seen == [reset, put, put, put, put, reset, reset, reset, reset]


def crossed() -> Circuit:
    """Return two relays, each fed through the other's break contact, asked for by S1 together."""
    parts = [
        battery(12.0),
        part("S1", "switch"),
        part("K1", "relay-changeover"),
        part("K2", "relay-changeover"),
    ]
    wires = "BAT.+ S1.1, S1.2 K1.30, S1.2 K2.30, K2.87a K1.86, K1.87a K2.86, K1.85 BAT.-"
    return circuit(parts, wires + ", K2.85 BAT.-")


def test_two_relays_that_lock_each_other_out_race() -> None:
    settled = settle(crossed(), {"S1": "ON"})
    assert settled.settled == "several"
    assert settled.complete
    outcomes = [s.pulled for s in settled.states]
    assert outcomes == [frozenset({("K1", "coil")}), frozenset({("K2", "coil")})]
    for state in settled.states:
        assert settle(crossed(), {"S1": "ON"}, state.memory).states[0].pulled == state.pulled


def test_the_one_that_was_in_first_wins_the_race() -> None:
    first = Memory(frozenset({("K2", "coil")}))
    assert steady(crossed(), {"S1": "ON"}, first).pulled == first.pulled


def test_a_relay_that_cuts_its_own_feed_never_rests() -> None:
    parts = [battery(12.0), part("S1", "switch"), part("K1", "relay-changeover")]
    of = circuit(parts, "BAT.+ S1.1, S1.2 K1.30, K1.87a K1.86, K1.85 BAT.-")
    assert steady(of).pulled == frozenset()
    settled = settle(of, {"S1": "ON"})
    assert settled.settled == "none"
    assert {s.pulled for s in settled.states} == {frozenset(), frozenset({("K1", "coil")})}
