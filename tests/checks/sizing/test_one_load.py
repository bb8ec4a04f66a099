"""Sizing of one load against brute force in plain numbers, and against the rules themselves."""

from __future__ import annotations

import numpy as np
import pytest

from checks.run import check
from checks.sizing import COUNT, OF_FUSES, OF_WIRES, Plan, Sized, plan_sizes
from checks.sketch import sketch
from model.circuit import Constants, Settings
from tests.checks.sizing.plain import brute_force
from tests.circuits import circuit as reference

PLAIN = Settings(constants=Constants(wire_ends_ohm=0.0, fuse_ohm_a=1e-6, ground_ohm=1e-6))
ONE = """
    G1 battery inner_ohm=0.02 voltage_v=12.6
    F1 fuse-blade rating_a=40
    S1 switch contact_a=80 contact_ohm=0.000001
    M1 motor at_v=12 resistance_ohm={ohm} start_multiple={times} start_s={lasts} duty=critical
    X1 ground
    X2 ground
    W1 G1.+ F1.1 6 0.1
    W2 F1.2 S1.1 6 {length}
    W3 S1.2 M1.a 6 0.5
    W4 M1.b X1.g 6 0.3
    W5 X2.g G1.- 120 0.001
"""


def advised(ohm: float, times: float, lasts: float, length: float) -> Sized:
    text = ONE.format(ohm=ohm, times=times, lasts=lasts, length=length)
    (found,) = planned(text).loads
    return found


def planned(text: str) -> Plan:
    return plan_sizes(sketch(text, PLAIN), ["M1"])


CASES = [
    (round(float(ohm), 3), round(float(times), 2), round(float(lasts), 3), round(float(length), 2))
    for ohm, times, lasts, length in zip(
        np.random.default_rng(7).uniform(0.6, 12.0, 24),
        np.random.default_rng(8).uniform(1.0, 3.5, 24),
        np.random.default_rng(9).uniform(0.01, 1.0, 24),
        np.random.default_rng(10).uniform(0.3, 5.0, 24),
        strict=True,
    )
]


@pytest.mark.parametrize(("ohm", "times", "lasts", "length"), CASES)
def test_the_advice_is_what_brute_force_finds(
    ohm: float, times: float, lasts: float, length: float
) -> None:
    wanted = brute_force(ohm, times, lasts, length)
    found = advised(ohm, times, lasts, length)
    got = (found.fits_a, found.fits.area_mm2) if found.fits is not None else None
    assert got == wanted


def test_random_loads_are_of_every_sort() -> None:
    """The cases must try more than one fuse and size, or they prove nothing."""
    found = [brute_force(*c) for c in CASES]
    known = [f for f in found if f is not None]
    assert len({f for f, _ in known}) >= 5
    assert len({s for _, s in known}) >= 4


@pytest.mark.parametrize("name", ["C01", "C05", "C07", "C12", "C18"])
@pytest.mark.parametrize("whole", [False, True])
def test_no_advice_breaks_a_rule(name: str, whole: bool) -> None:
    circuit = reference(name)
    wanted = [[]] if whole else [[s.load] for s in plan_sizes(circuit).loads]
    for parts in wanted:
        plan = plan_sizes(circuit, parts)
        if plan.change is None:
            continue
        after = plan.change.apply(circuit)
        good = [c for c in plan.choices if c.stuck is None]
        fuses = {c.part for c in good if c.kind == "fuse"}
        wires = {w for c in good for w in c.wires}
        broken = [f for f in check(after).findings if f.severity in COUNT]
        fused = [f for f in broken if f.rule in OF_FUSES and f.parts[0] in fuses]
        wired = [f for f in broken if f.rule in OF_WIRES and f.wires and set(f.wires) <= wires]
        assert not [f.sentence() for f in fused]
        assert not [f.sentence() for f in wired if f.sentence() not in plan.left]
        assert plan.change.revert(after) == circuit


def test_every_smaller_one_has_its_reason() -> None:
    found = advised(1.5, 2.0, 0.1, 2.0)
    assert found.fits_a == 15
    smaller = [t for t in found.tried if t.what.endswith(" A")]
    assert [t.what for t in smaller] == ["1 A", "2 A", "3 A", "4 A", "5 A", "7.5 A", "10 A"]
    assert all(t.why.endswith(".") and t.rule in OF_FUSES | OF_WIRES for t in found.tried)


def test_where_nothing_fits_the_two_demands_are_named() -> None:
    # 180 A running are too much for any form: at 0.05 Ω the motor has no 9 V left.
    found = advised(0.05, 1.0, 0.1, 0.5)
    assert found.fits is None and found.fits_a is None
    assert "No fuse of this form fits" in found.stuck
    assert "Nor does one of 30 to 250 A, strip fuse" in found.stuck
    # A run so long that no size keeps within 3 %.
    far = advised(1.0, 1.0, 0.1, 400.0)
    assert far.fits is None
    assert "even 95 mm²" in far.stuck and "%" in far.stuck


def test_a_length_that_is_assumed_is_said() -> None:
    circuit = sketch(ONE.format(ohm=2, times=1, lasts=0.1, length="?"), PLAIN)
    plan = plan_sizes(circuit)
    assert plan.assumed == ("W2",)
    assert any("length of W2 is not known; 1 m is assumed" in r for r in plan.rests)


def test_contacts_by_load_type() -> None:
    """A motor of 8 A wants a contact of 8/0.55 = 14.5 A resistive (a published micro relay)."""
    found = advised(1.56, 1, 0.1, 1)
    (contact,) = found.contacts
    assert contact.kind == "motor"
    assert contact.needs_a == pytest.approx(found.amps / (17 / 30), rel=0.05)


def test_sizes_in_awg_stay_in_awg() -> None:
    text = ONE.format(ohm=2, times=1, lasts=0.1, length=1).replace(" 6 ", " 10AWG ")
    (found,) = planned(text).loads
    assert found.fits is not None and found.fits.awg is not None


def test_a_wire_that_others_share_is_left_alone() -> None:
    text = (
        ONE.format(ohm=2, times=1, lasts=0.1, length=1)
        + """
    E1 heater current_a=3
    W6 F1.2 E1.+ 1.5 1
    W7 E1.- X1.g 1.5 0.3
    """
    )
    (found,) = planned(text).loads
    assert found.wires == ("W2", "W3", "W4")
    assert found.fits_a == 40  # the fuse is shared too, and stays
