"""Sizing against brute force in plain numbers, and against the rules themselves.

The plain reckoning beside the program knows one load on one fuse: ampacity of thin-wall cable (a
cable seller's data sheet), resistance by ISO 6722-1 (greatest, 20 °C), the opening times of blade
fuses (ISO 8820-3, quoted at second hand), 75 % of the rating less 0.5 % per °C above 25 °C, 3 % of
12 V for a critical load, and t = (k·S/I)² with k = 226·√ln((234.5 + 160)/(234.5 + 105)).
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from checks.run import check
from checks.sizing import COUNT, OF_FUSES, OF_WIRES, Sized, size_loads
from checks.sketch import sketch
from model.circuit import Circuit, Constants, Settings
from model.file import load
from tests.circuits import circuit as reference

AMPACITY = {0.5: 11, 0.75: 14, 1: 16.5, 1.5: 21, 2: 25, 2.5: 29, 3: 33, 4: 39, 4.5: 42, 6: 50}
OHM_KM = {0.5: 37.1, 0.75: 24.7, 1: 18.5, 1.5: 12.7, 2: 9.42, 2.5: 7.6, 3: 6.15, 4: 4.71, 6: 3.14}
OHM_KM[4.5] = 4.71 * 4 / 4.5  # no row in the standard: by area
FUSES = (1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 40)
EARLIEST = ((110, 360000), (135, 0.75), (160, 0.25), (200, 0.15), (350, 0.04))
LATEST = ((135, 600), (160, 50), (200, 5), (350, 0.5), (600, 0.1))
K = 226 * math.sqrt(math.log((234.5 + 160) / (234.5 + 105)))
PLAIN = Settings(constants=Constants(wire_ends_ohm=0.0, fuse_ohm_a=1e-6, ground_ohm=1e-6))
INNER = 0.02
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


def on_log_paper(gates: tuple[tuple[float, float], ...], percent: float) -> float:
    xs, ys = np.log([g[0] for g in gates]), np.log([g[1] for g in gates])
    return float(np.exp(np.interp(math.log(percent), xs, ys)))


def earliest_s(rating: float, amps: float) -> float:
    percent = 100 * amps / (rating * 0.975)
    if percent < 110:
        return math.inf
    if percent > 350:
        return 0.04 * (350 / percent) ** 2
    return on_log_paper(EARLIEST, percent)


def latest_s(rating: float, amps: float) -> float:
    percent = 100 * amps / rating
    if percent < 135:
        return math.inf
    if percent > 600:
        return 0.1 * (600 / percent) ** 2
    return on_log_paper(LATEST, percent)


def brute_force(
    ohm: float, times: float, lasts: float, length: float
) -> tuple[float, float] | None:
    """Return the smallest fuse, and for it the smallest size, by trying every one."""
    for fuse in FUSES:
        for size in AMPACITY:
            if fits(fuse, size, ohm, times, lasts, length):
                return fuse, size
    return None


def fits(fuse: float, size: float, ohm: float, times: float, lasts: float, length: float) -> bool:
    """Tell in plain numbers whether a fuse and a size satisfy everything."""
    run_m = 0.1 + length + 0.5 + 0.3
    wire = OHM_KM[size] / 1e3 * run_m
    amps = 12.6 / (INNER + wire + ohm)
    if amps > 0.75 * 0.975 * fuse or amps > AMPACITY[size] or fuse > AMPACITY[size]:
        return False
    if amps * wire > 0.03 * 12.0:
        return False
    if lasts >= earliest_s(fuse, amps * times):
        return False
    for metres in (0.1 + length, 0.1 + length + 0.5):
        short = 12.6 / (INNER + OHM_KM[size] / 1e3 * metres)
        if latest_s(fuse, short) > (K * size / short) ** 2:
            return False
    return True


def advised(ohm: float, times: float, lasts: float, length: float) -> Sized:
    text = ONE.format(ohm=ohm, times=times, lasts=lasts, length=length)
    (found,) = size_loads(sketch(text, PLAIN))
    return found


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


@pytest.mark.parametrize("name", ["C01", "C05", "C07"])
def test_no_advice_breaks_a_rule(name: str) -> None:
    circuit = reference(name)
    for sized in size_loads(circuit):
        if sized.change is None:
            continue
        after = sized.change.apply(circuit)
        broken = [f for f in check(after).findings if f.severity in COUNT]
        mine = {sized.fuse, sized.load, *sized.wires}
        about = [f for f in broken if f.rule in OF_FUSES | OF_WIRES and mine & set(f.place)]
        wires = [f for f in about if f.rule in OF_WIRES and set(f.wires) <= set(sized.wires)]
        assert not [f for f in about if f.rule in OF_FUSES], [f.sentence() for f in about]
        assert not wires, [f.sentence() for f in wires]
        assert sized.change.revert(after) == circuit


def test_every_smaller_one_has_its_reason() -> None:
    found = advised(1.5, 2.0, 0.1, 2.0)
    assert found.fits_a == 15
    smaller = [t for t in found.tried if t.what.endswith(" A")]
    assert [t.what for t in smaller] == ["1 A", "2 A", "3 A", "4 A", "5 A", "7.5 A", "10 A"]
    assert all(t.why.endswith(".") and t.rule in OF_FUSES | OF_WIRES for t in found.tried)


def test_where_nothing_fits_the_two_demands_are_named() -> None:
    # 60 A running: the largest blade fuse is 40 A.
    found = advised(0.2, 1.0, 0.1, 1.0)
    assert found.fits is None and found.change is None
    assert "No fuse of this form fits" in found.stuck
    # A run so long that no size keeps within 3 %.
    far = advised(1.0, 1.0, 0.1, 400.0)
    assert far.fits is None
    assert "even 95 mm²" in far.stuck and "%" in far.stuck


def test_a_length_that_is_assumed_is_said() -> None:
    circuit = sketch(ONE.format(ohm=2, times=1, lasts=0.1, length="?"), PLAIN)
    (found,) = size_loads(circuit)
    assert found.assumed == ("W2",)


def test_contacts_by_load_type() -> None:
    """A motor of 8 A wants a contact of 8/0.55 = 14.5 A resistive (a published micro relay)."""
    (found,) = size_loads(sketch(ONE.format(ohm=1.56, times=1, lasts=0.1, length=1), PLAIN))
    (contact,) = found.contacts
    assert contact.kind == "motor"
    assert contact.needs_a == pytest.approx(found.amps / (17 / 30), rel=0.05)


def test_sizes_in_awg_stay_in_awg() -> None:
    text = ONE.format(ohm=2, times=1, lasts=0.1, length=1).replace(" 6 ", " 10AWG ")
    (found,) = size_loads(sketch(text, PLAIN))
    assert found.fits is not None and found.fits.awg is not None


def test_a_wire_that_others_share_is_left_alone(tmp_path: object) -> None:
    text = (
        ONE.format(ohm=2, times=1, lasts=0.1, length=1)
        + """
    E1 heater current_a=3
    W6 F1.2 E1.+ 1.5 1
    W7 E1.- X1.g 1.5 0.3
    """
    )
    circuit: Circuit = sketch(text, PLAIN)
    found = next(s for s in size_loads(circuit) if s.load == "M1")
    assert found.wires == ("W2", "W3", "W4")
    assert replace(circuit, wires=circuit.wires) == circuit
    assert load is not None
