"""The relay that is chosen against every type tried in plain numbers.

Types as published: micro relay 30 A make and 20 A break (20 and 10 A at 24 V), 260 Ω (dtsheet
682964); cube relay 40 and 30 A (20 and 15 A), 90 Ω (350 Ω), must pull in at 70 %, some at 7.0 of
12 V; a 70 A relay with a make contact alone, from memory. Motors and lamps 55 % of that, a motor's
start 65/17 times its rating, a lamp's ten times (rallyrace.net; azmanual.top p. 8). A coil's
pull-in grows with its copper: (234.5 + T)/254.5.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache

import numpy as np
import pytest

from checks.sizing import RELAY, Plan, plan_sizes
from checks.sketch import sketch
from model.circuit import Circuit, Constants, Settings
from model.lookup import kind_of
from model.survey import Survey
from model.zones import part_warmth
from tests.circuits import NAMES
from tests.circuits import circuit as reference
from tests.planting.contacts import in_every_state
from tests.test_examples import circuit as example


@dataclass(frozen=True)
class Type:
    """A relay type as published: make, break and coil, each at 12 and 24 V, and its pull-in."""

    title: str
    make: tuple[float, float]
    rest: tuple[float, float] | None
    ohm: tuple[float, float]
    pulls: float


TYPES = (
    Type("micro relay", (30, 20), (20, 10), (260, 1040), 0.7),
    Type("cube relay", (40, 20), (30, 15), (90, 350), 0.7),
    Type("cube relay promised to pull in from 58 %", (40, 20), (30, 15), (90, 350), 0.583),
    Type("70 A relay", (70, 35), None, (90, 350), 0.7),
)
RUNS = {"motor": 0.55, "lamp": 0.55, "other": 1.0}
MAKES = {"motor": 0.55 * 65 / 17, "lamp": 0.55 * 10, "other": 65 / 30}
HOT_C = 85.0
"""What a relay whose place is not told may come to: an engine bay."""
NEAR = 0.04
"""A case so near a limit that the wires' resistance decides is not tried."""


@dataclass(frozen=True)
class Duty:
    """What a relay has to do: its load by kind, how that starts, on which contact, its coil."""

    volts: float
    kind: str
    amps: float
    times: float
    rest: bool
    before_ohm: float
    zone_c: float | None

    @property
    def nominal(self) -> float:
        return 24.0 if self.volts > 18 else 12.0


def factor(celsius: float) -> float:
    return (234.5 + celsius) / 254.5


def asks(duty: Duty, kind: Type) -> list[float]:
    """Return what a duty asks of a type, each as a share of what the type can do."""
    high = duty.volts > 18
    rated = (kind.rest if duty.rest else kind.make) or (0.0, 0.0)
    least = 1e-9 if rated[high] == 0 else rated[high]
    coil_ohm = kind.ohm[high] * factor(duty.zone_c if duty.zone_c is not None else 30.0)
    gets = duty.volts * coil_ohm / (coil_ohm + duty.before_ohm)
    warm = duty.zone_c if duty.zone_c is not None else HOT_C
    needs = kind.pulls * duty.nominal * factor(warm)
    return [
        duty.amps / RUNS[duty.kind] / least,
        duty.amps * duty.times / MAKES[duty.kind] / least,
        needs / gets,
    ]


def brute_force(duty: Duty) -> str:
    """Return the first type that can do it all, "" for none."""
    for kind in TYPES:
        if max(asks(duty, kind)) <= 1.0 and (kind.rest is not None or not duty.rest):
            return kind.title
    return ""


def clear(duty: Duty) -> bool:
    """Tell whether no type is near a limit."""
    return all(abs(a - 1.0) > NEAR for kind in TYPES for a in asks(duty, kind))


TEXT = """
    {v}
    {zone}
    G1 battery inner_ohm=0.0001 voltage_v={volts}
    F1 fuse-strip rating_a=150
    F2 fuse-blade rating_a=5
    S1 switch contact_a=300
    R1 resistor resistance_ohm={before}
    K1 {relay} contact_a=200 coil_ohm={coil} {place}
    M1 {load} resistance_ohm={ohm} law=resistor start_multiple={times} start_s=0.004 at_v={nominal}
    X1 ground
    X2 ground
    X3 ground
    W1 G1.+ F1.1 35 0.1
    W2 F1.2 K1.30 35 0.2
    W3 K1.{out} M1.+ 35 0.3
    W4 M1.- X1.g 35 0.2
    W5 G1.+ F2.1 1 0.1
    W6 F2.2 S1.1 1 0.1
    W7 S1.2 R1.1 1 0.1
    W8 R1.2 K1.86 1 0.1
    W9 K1.85 X2.g 1 0.1
    W10 X3.g G1.- 120 0.001
"""
LOADS = {"motor": "fan", "lamp": "lamp", "other": "heater"}
PLAIN = Constants(wire_ends_ohm=0.0, fuse_ohm_a=1e-6, ground_ohm=1e-6)


def drawn(duty: Duty) -> Circuit:
    """Return the circuit of a duty."""
    zoned = duty.zone_c is not None
    text = TEXT.format(
        v="24 V" if duty.nominal == 24 else "",
        zone=f"zone bay {duty.zone_c:g}" if zoned else "",
        volts=duty.volts,
        before=duty.before_ohm,
        relay="relay-changeover" if duty.rest else "relay-make",
        place="zone=bay" if zoned else "",
        load=LOADS[duty.kind],
        coil=1040 if duty.nominal == 24 else 260,
        ohm=duty.volts / duty.amps,
        times=duty.times,
        nominal=duty.nominal,
        out="87a" if duty.rest else "87",
    )
    return sketch(text, Settings(nominal_v=duty.nominal, constants=PLAIN))


def random_duty(dice: np.random.Generator) -> Duty:
    """Return some duty: mostly one that some type can do."""
    high = bool(dice.integers(0, 3) == 0)
    volts = 25.2 if high else 12.6
    return Duty(
        volts,
        str(dice.choice(list(RUNS))),
        round(float(dice.uniform(2, 22 if high else 40)), 1),
        round(float(dice.choice([1, 1, 3, 5, 7])), 1),
        bool(dice.integers(0, 3) == 0),
        round(float(dice.choice([0.1, dice.uniform(1, 60)])) * (4 if high else 1), 1),
        [None, 40.0, 60.0, 85.0, 105.0][int(dice.integers(0, 5))],
    )


EARLY = Duty(12.6, "other", 35.0, 1.0, False, 47.2, 85.0)
"""8.89 V at a coil of 113 Ω in 85 °C: promised from 58.3 % (8.78 V), below 60 % (9.04 V)."""


@cache
def duties() -> tuple[Duty, ...]:
    """Return random duties, none so near a limit that wires decide."""
    dice = np.random.default_rng(23)
    return tuple(d for d in (random_duty(dice) for _ in range(80)) if clear(d))[:30]


def chosen(plan: Plan) -> str:
    """Return the type chosen for K1, "" where nothing fits."""
    (choice,) = (c for c in plan.choices if c.kind == RELAY)
    return choice.fits.rpartition(",")[0]


@pytest.mark.parametrize("duty", [*duties(), EARLY], ids=str)
def test_the_relay_is_the_one_that_brute_force_finds(duty: Duty) -> None:
    assert chosen(plan_sizes(drawn(duty), ["M1"])) == brute_force(duty)


def test_the_duties_ask_for_every_type_and_for_none() -> None:
    found = [brute_force(d) for d in (*duties(), EARLY)]
    assert set(found) == {"", *(t.title for t in TYPES)}
    grounds = [asks(d, t) for d in duties() for t in TYPES]
    for n in range(3):  # running, starting and pulling in each decide alone somewhere
        assert any(g[n] > 1 and max(g[:n] + g[n + 1 :]) < 1 for g in grounds), n


def as_type(circuit: Circuit, part_id: str, kind: Type) -> Circuit:
    """Return a circuit with a relay of a type."""
    part, high = circuit.parts[part_id], circuit.settings.nominal_v > 18
    gone = ("motor_a", "lamp_a", "inrush_a", "contact_v", "coil_v", "break_a")
    kept = {k: v for k, v in part.ratings.items() if k not in gone}
    kept |= {"contact_a": kind.make[high], "coil_ohm": kind.ohm[high]}
    kept |= {"must_pull_in_share": kind.pulls, "pull_in_share": min(0.6, kind.pulls)}
    parts = {**circuit.parts, part_id: replace(part, ratings=kept)}
    return replace(circuit, parts=parts)


def does(circuit: Circuit, part_id: str, kind: Type) -> bool:
    """Tell in plain numbers whether a relay of a type does what it has to, all else as it is."""
    made = as_type(circuit, part_id, kind)
    states, high = Survey(made), made.settings.nominal_v > 18
    for held in in_every_state(made, states):
        if held.part.id != part_id:
            continue
        rated = kind.rest if held.edge.element == "break" else kind.make
        if rated is None:
            return False
        if sum(a / RUNS[k] for k, a in held.kinds.items()) > rated[high] * (1 + 1e-6):
            return False
        if sum(a / MAKES[k] for k, a in held.starts.items()) > rated[high] * (1 + 1e-6):
            return False
    edges = [e for e in states.solver.network.edges if e.owner == part_id and e.role == "coil"]
    calm = np.array([s != "cranking" for s in states.supplies])
    gets = max(float((np.abs(states.volts[:, e.a] - states.volts[:, e.b]) * calm).max())
               for e in edges)  # fmt: skip
    warm = part_warmth(made, made.parts[part_id])
    needs = kind.pulls * made.settings.nominal_v * factor(warm.celsius if warm.zone else HOT_C)
    return gets >= needs


CIRCUITS = ("C01", "C05", "C07", "C12", "horn", "radiator-fan", "rear-hatch-lock",
            "water-pump-start-stop", "work-lamps-24v")  # fmt: skip
"""Some of every sort: pumps, fans, lamps and horns, change-over relays, 12 and 24 V."""


@pytest.mark.parametrize("name", CIRCUITS)
def test_in_whole_circuits_it_is_the_first_that_does(name: str) -> None:
    circuit = reference(name) if name in NAMES else example(name)
    plan = plan_sizes(circuit)
    after = plan.change.apply(circuit) if plan.change else circuit
    for choice in (c for c in plan.choices if c.kind == RELAY):
        breaks = "break_a" in kind_of(circuit, circuit.parts[choice.part]).specs
        fits = [t.title for t in TYPES
                if (t.rest or not breaks) and does(after, choice.part, t)]  # fmt: skip
        assert choice.fits.rpartition(",")[0] == (fits[0] if fits else "")
