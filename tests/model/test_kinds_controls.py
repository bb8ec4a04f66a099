"""What every control closes in each position, against tables written out here.

Positions and terminals are common practice (DIN 72552 markings where they have one), no source.
"""

from __future__ import annotations

from itertools import combinations

import pytest

from model.kinds import KINDS, Position
from model.lookup import body_of
from tests.building import battery, circuit, part, resistor, steady
from tests.model.kinds_shown import shows

OHM = 10.0
CLOSED: dict[str, dict[str, str]] = {
    "switch": {"OFF": "", "ON": "1-2"},
    "switch-changeover": {"A": "C-A", "B": "C-B"},
    "switch-table": {"OFF": "", "SIDE": "30-58", "HEAD": "30-58 30-56 58-56"},
    "push-make": {"REST": "", "PRESS": "1-2"},
    "push-break": {"REST": "1-2", "PRESS": ""},
    "key-switch": {"OFF": "", "ON": "30-15", "START": "30-15 30-50 15-50"},
    "crash-switch": {"SET": "C-NC", "TRIPPED": "C-NO"},
    "master-switch": {"OFF": "", "ON": "1-2"},
    "master-switch-6": {"OFF": "Z-Z1", "ON": "1-2 W-W1"},
    "pressure-switch": {"NO PRESSURE": "", "PRESSURE": "1-2"},
    "temperature-switch": {"COLD": "", "HOT": "1-2"},
    "level-switch": {"LOW": "", "FULL": "1-2"},
    "brake-switch": {"REST": "", "BRAKE": "1-2"},
    "clutch-switch": {"REST": "", "DOWN": "1-2"},
    "driver-ground": {"OFF": "", "ON": "out-31"},
    "driver-supply": {"OFF": "", "ON": "30-out"},
}
"""Terminal pairs that are joined, through a third one too, by position."""
REST = {
    "switch": "OFF",
    "switch-changeover": "A",
    "switch-table": "OFF",
    "push-make": "REST",
    "push-break": "REST",
    "key-switch": "OFF",
    "crash-switch": "SET",
    "master-switch": "ON",
    "master-switch-6": "ON",
    "pressure-switch": "NO PRESSURE",
    "temperature-switch": "COLD",
    "level-switch": "LOW",
    "brake-switch": "REST",
    "clutch-switch": "REST",
    "driver-ground": "OFF",
    "driver-supply": "OFF",
}
SPRINGS = {
    ("push-make", "PRESS"): "REST",
    ("push-break", "PRESS"): "REST",
    ("key-switch", "START"): "ON",
    ("brake-switch", "BRAKE"): "REST",
    ("clutch-switch", "DOWN"): "REST",
}


def joined(kind: str, position: str, a: str, b: str) -> bool:
    """Tell by a current whether a control joins two of its terminals, both ways round."""
    found = set()
    for first, second in ((a, b), (b, a)):
        parts = [battery(12.0), part("S1", kind, contact_ohm=2.0), resistor("R1", OHM)]
        of = circuit(parts, f"BAT.+ S1.{first}, S1.{second} R1.1, R1.2 BAT.-")
        amperes = steady(of, {"S1": position}).current("R1", "resistance")
        contacts = 2 if f"{a}-{b}" in ("58-56", "15-50") else 1
        assert amperes in (0.0, pytest.approx(12.0 / (OHM + 2.0 * contacts), rel=1e-6))
        found.add(amperes > 0.0)
    (both,) = found
    return both


@shows(*CLOSED)
@pytest.mark.parametrize("kind", CLOSED)
def test_a_control_joins_what_its_table_says_and_nothing_else(kind: str) -> None:
    keys = [t.key for t in KINDS[kind].body.terminals]
    for position, text in CLOSED[kind].items():
        wanted = {frozenset(pair.split("-")) for pair in text.split()}
        found = {frozenset(p) for p in combinations(keys, 2) if joined(kind, position, *p)}
        assert found == wanted, position


@pytest.mark.parametrize("kind", REST)
def test_a_control_rests_springs_and_latches(kind: str) -> None:
    body = KINDS[kind].body
    assert {p.name for p in body.positions} == set(CLOSED[kind])
    assert body.rest == REST[kind]
    for position in body.positions:
        assert position.springs_to == SPRINGS.get((kind, position.name), "")
        assert position.latches == ((kind, position.name) == ("crash-switch", "TRIPPED"))


@pytest.mark.parametrize("kind", [k for k, v in CLOSED.items() if list(v) == ["OFF", "ON"]])
def test_a_control_nobody_moved_is_at_rest(kind: str) -> None:
    first, second = [t.key for t in KINDS[kind].body.terminals][:2]
    if kind == "master-switch-6":
        first, second = "1", "2"
    parts = [battery(12.0), part("S1", kind), resistor("R1", OHM)]
    of = circuit(parts, f"BAT.+ S1.{first}, S1.{second} R1.1, R1.2 BAT.-")
    assert (steady(of).current("R1", "resistance") > 0) == (REST[kind] == "ON")


def test_a_part_may_bring_its_own_terminals_and_table() -> None:
    table = (
        Position("UP", (("P", "S"), ("P", "I"))),
        Position("DOWN"),
        Position("HALF", (("P", "I"),)),
    )
    own = part("S1", "switch-table", terminals=("P", "S", "I"), table=table, rest="HALF")
    parts = [battery(12.0), own, resistor("R1", 6.0), resistor("R2", 3.0)]
    of = circuit(parts, "BAT.+ S1.P, S1.S R1.1, S1.I R2.1, R1.2 BAT.-, R2.2 BAT.-")
    assert body_of(of, own).rest == "HALF"
    amps = {}
    for position in ("UP", "DOWN", "HALF"):
        state = steady(of, {"S1": position})
        amps[position] = [round(state.current(r, "resistance"), 1) for r in ("R1", "R2")]
    assert amps == {"UP": [2.0, 4.0], "DOWN": [0.0, 0.0], "HALF": [0.0, 4.0]}


@pytest.mark.parametrize(("kind", "amps"), [("driver-ground", 2.0), ("driver-supply", 2.0)])
def test_a_driver_output_carries_a_load(kind: str, amps: float) -> None:
    """A driver to ground pulls its pin down, one to supply lifts it: 12 V over 6 Ω is 2 A."""
    parts = [battery(12.0), part("A1", kind, contact_ohm=0.0), resistor("R1", 6.0)]
    if kind == "driver-ground":
        wires, pin, off_v, on_v = "BAT.+ R1.1, R1.2 A1.out, A1.31 BAT.-", "R1.2", 12.0, 0.0
    else:
        wires, pin, off_v, on_v = "BAT.+ A1.30, A1.out R1.1, R1.2 BAT.-", "R1.1", 0.0, 12.0
    of = circuit(parts, wires)
    for position, volts, wanted in (("OFF", off_v, 0.0), ("ON", on_v, amps)):
        state = steady(of, {"A1": position})
        assert state.volt(*pin.split(".")) == pytest.approx(volts, abs=1e-4)
        assert state.current("R1", "resistance") == pytest.approx(wanted, abs=1e-4)
