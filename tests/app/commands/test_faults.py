"""Faults as they are typed, and what the circuit then does by hand calculation.

The circuit is one battery of 12 V without resistance worth speaking of (1 µΩ), wires without
resistance, a fuse, a relay and a load of 6 Ω: what is expected is Ohm's law, 2 A.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.app.commands.calling import call, refused, written

BENCH = """
G1 battery voltage_v=12 inner_ohm=0.000001
F1 fuse-blade rating_a=15 fuse_ohm=0
S1 switch contact_ohm=0
K1 relay-changeover coil_ohm=120 contact_ohm=0
M1 heater resistance_ohm=6
H1 lamp-twin main_resistance_ohm=12 dip_resistance_ohm=12
D1 diode
X1 connector ways=2 way_ohm=0
X2 ground ground_ohm=0
X3 ground ground_ohm=0
W1 G1.+ F1.1 100 0.01
W2 F1.2 S1.1 100 0.01
W3 S1.2 K1.86 100 0.01
W4 K1.85 X2.g 100 0.01
W5 F1.2 K1.30 100 0.01
W6 K1.87 X1.1/a 100 0.01
W7 X1.1/b M1.+ 100 0.01
W8 M1.- X2.g 100 0.01
W9 K1.87 H1.56a 100 0.01
W10 K1.87 H1.56b 100 0.01
W11 H1.31 X2.g 100 0.01
W12 X3.g G1.- 100 0.01
W13 D1.K K1.87 100 0.01
W14 D1.A X2.g 100 0.01
"""


@pytest.fixture
def bench(tmp_path: Path) -> Path:
    return written(tmp_path, BENCH)


def last(bench: Path, *options: str) -> Any:
    done = call("operate", bench, "--json", *options)
    assert done.code == 0, done.err
    return done.json["steps"][-1]


def amps(step: Any, load: str = "M1") -> float:
    return float(step["loads"][load]["current_a"])


def near(value: float) -> Any:
    return pytest.approx(value, rel=0.02)


def test_without_a_fault(bench: Path) -> None:
    step = last(bench, "--set", "S1=ON")
    assert step["relays"] == {"K1": "in"}
    assert amps(step) == near(2.0)
    assert step["loads"]["H1.main"]["state"] == "on"


@pytest.mark.parametrize(
    "fault",
    ["W6=open", "F1=blown", "F1=open", "F1=missing", "K1=open", "K1.coil=open", "K1.make=open",
     "K1.87=open", "X1=open", "X1.1=open", "X1.1/a=open", "X1.1/b=open", "X1.way 1=open",
     "M1=open", "X2=open", "G1=open", "W7=missing", "m1=OPEN", "S1=open"],
)  # fmt: skip
def test_what_is_open_carries_nothing(bench: Path, fault: str) -> None:
    step = last(bench, "--set", "S1=ON", "--fault", fault)
    assert amps(step) == pytest.approx(0.0, abs=1e-3)
    assert step["loads"]["M1"]["state"] == "off"


def test_one_filament_open(bench: Path) -> None:
    step = last(bench, "--set", "S1=ON", "--fault", "H1.56a=open")
    assert amps(step, "H1.main") == 0.0
    assert amps(step, "H1.dip") == near(1.0)


def test_resistance_in_the_path(bench: Path) -> None:
    # 2 Ω before 6 Ω beside 12 Ω and 12 Ω (3 Ω in all): 12 V × 3/5 across them.
    step = last(bench, "--set", "S1=ON", "--fault", "W5=+2ohm")
    assert step["loads"]["M1"]["voltage_v"] == near(7.2)
    for fault in ("F1=+500mohm", "K1=+0.5ohm", "X1.1=+0.5ohm"):
        assert amps(last(bench, "--set", "S1=ON", "--fault", fault)) < 1.96, fault
    assert amps(last(bench, "--set", "S1=ON", "--fault", "M1=+6ohm")) == near(1.0)


def test_rubbed_through(bench: Path) -> None:
    # W5 carries what the shell takes: 12 V over 1 Ω and over 2 Ω of the three loads' 3 Ω.
    step = last(bench, "--set", "S1=ON", "--fault", "W6=shell+1ohm")
    assert step["wires"]["W5"] == near(12.0 + 4.0)
    assert step["faults"] == ["W6=shell+1ohm"]
    assert last(bench, "--fault", "K1.30=shell+1ohm")["wires"]["W1"] == near(12.0)
    assert last(bench, "--fault", "X2=shell")["wires"]["W1"] == pytest.approx(0, abs=1e-3)


def test_touching_the_supply(bench: Path) -> None:
    step = last(bench, "--fault", "K1.87=supply+6ohm")
    assert step["loads"]["M1"]["voltage_v"] == near(12.0 * 3 / 9)


def test_welded_and_stuck(bench: Path) -> None:
    assert amps(last(bench, "--fault", "K1=welded")) == near(2.0)
    assert last(bench, "--fault", "S1=welded")["relays"] == {"K1": "in"}
    stuck = last(bench, "--set", "S1=ON", "--fault", "K1=stuck", "--set", "S1=OFF")
    assert stuck["relays"] == {"K1": "in"}
    assert amps(stuck) == near(2.0)


def test_a_control_stuck_where_it_stands(bench: Path) -> None:
    done = call("operate", bench, "--json", "--set", "S1=ON", "--fault", "S1=stuck",
                "--set", "S1=OFF", "--fault", "S1=none", "--set", "S1=OFF")  # fmt: skip
    stands = [s["positions"]["S1"] for s in done.json["steps"]]
    assert stands == ["ON", "ON", "ON", "ON", "OFF"]
    assert done.err == "voltwalk: step 3: S1 is stuck and stays at ON.\n"


def test_shorted(bench: Path) -> None:
    # The diode lies backwards from the relay's output to ground: shorted, it takes the supply.
    assert last(bench, "--set", "S1=ON")["currents"]["D1"] == pytest.approx(0.0, abs=1e-3)
    shorted = last(bench, "--set", "S1=ON", "--fault", "D1=short,K1.coil=+10ohm")
    assert abs(shorted["currents"]["D1"]) > 1000
    assert last(bench, "--set", "S1=ON", "--fault", "K1.coil=short")["relays"] == {"K1": "out"}


def test_faults_stay_until_none(bench: Path) -> None:
    done = call("operate", bench, "--json", "--set", "S1=ON", "--fault", "W6=open,F1=+1ohm",
                "--fault", "W6=none", "--fault", "F1=none")  # fmt: skip
    steps = done.json["steps"]
    assert [s["faults"] for s in steps] == [[], ["W6=open", "F1=+1ohm"], ["F1=+1ohm"], []]
    assert amps(steps[1]) == 0.0
    assert amps(steps[3]) == near(2.0)


def test_none_of_a_part_takes_all_of_its_faults_away(bench: Path) -> None:
    options = ("--fault", "K1=welded,K1.coil=open,K1.87=shell+1ohm,W6=open")
    assert last(bench, *options, "--fault", "K1.coil=none")["faults"] == [
        "K1=welded", "K1.87=shell+1ohm", "W6=open",
    ]  # fmt: skip
    assert last(bench, *options, "--fault", "K1=none")["faults"] == ["W6=open"]


def test_a_fault_takes_the_place_of_one_of_its_kind(bench: Path) -> None:
    step = last(bench, "--fault", "W6=shell+1ohm", "--fault", "W6=shell+2ohm")
    assert step["faults"] == ["W6=shell+2ohm"]


def test_no_fault_to_take_away_is_said(bench: Path) -> None:
    done = call("operate", bench, "--fault", "W6=none")
    assert done.code == 0
    assert "there was no fault at W6" in done.err


@pytest.mark.parametrize(
    ("fault", "says"),
    [
        ("K9=open", "there is no “K9” in this circuit"),
        ("K1.99=open", "K1 has no terminal or element “99”"),
        ("K1.cole=open", "did you mean coil?"),
        ("W6.1=open", "there is no “W6.1”"),
        ("K1=blown", "K1 cannot be “blown”; it can be open, welded"),
        ("K1=short", "K1 cannot be “short”"),
        ("K1=shell", "a terminal for that, such as K1.30"),
        ("W6=welded", "W6 cannot be “welded”; it can be open, shell, supply, +1ohm"),
        ("M1=stuck", "M1 cannot be “stuck”"),
        ("D1=+1ohm", "D1 cannot be “+1ohm”"),
        ("F1=open+1ohm", "F1 cannot be “open+1ohm”"),
        ("F1=none+1ohm", "F1 cannot be “none+1ohm”"),
        ("F1=+1V", "a resistance is meant"),
        ("F1=+", "Nothing is entered"),
        ("F1=+-1ohm", "is not possible for a resistance"),
        ("F1", "is not NAME=VALUE"),
        ("F1=open,F1=open", "stands twice"),
    ],
)
def test_a_fault_that_does_not_fit(bench: Path, fault: str, says: str) -> None:
    sentence = refused(2, "operate", bench, "--fault", fault)
    assert says in sentence
    assert f"--fault {fault}: " in sentence or "is not NAME=VALUE" in sentence
