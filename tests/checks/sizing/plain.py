"""The plain reckoning beside the program: tables, fuse times, and one load on one fuse.

Ampacity of thin-wall cable (a cable seller's data sheet), resistance by ISO 6722-1 (greatest,
20 °C), the opening times of blade fuses (ISO 8820-3, quoted at second hand), 75 % of the rating
less 0.5 % per °C above 25 °C, 3 % of 12 V for a critical load and 10 % for an ordinary one, 0.1 V
on the ground side (common practice), and t = (k·S/I)² with
k = 226·√ln((234.5 + 160)/(234.5 + 105)).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

AMPACITY = {0.5: 11, 0.75: 14, 1: 16.5, 1.5: 21, 2: 25, 2.5: 29, 3: 33, 4: 39, 4.5: 42, 6: 50}
OHM_KM = {0.5: 37.1, 0.75: 24.7, 1: 18.5, 1.5: 12.7, 2: 9.42, 2.5: 7.6, 3: 6.15, 4: 4.71, 6: 3.14}
OHM_KM[4.5] = 4.71 * 4 / 4.5  # no row in the standard: by area
FUSES = (1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 35, 40)
EARLIEST = ((110, 360000), (135, 0.75), (160, 0.25), (200, 0.15), (350, 0.04))
LATEST = ((135, 600), (160, 50), (200, 5), (350, 0.5), (600, 0.1))
K = 226 * math.sqrt(math.log((234.5 + 160) / (234.5 + 105)))
LARGE = {8.5: 63, 10: 70, 16: 120, 25: 160, 35: 210, 50: 245, 70: 330}
"""Thicker wire: the data sheet to 10 mm², then 33 CFR 183.425 at 105 °C by the next smaller gauge
(6, 4, 2, 1, 2/0 AWG)."""
LARGE_OHM_KM = {8.5: 2.38 * 8 / 8.5, 10: 1.82, 16: 1.16, 25: 0.743, 35: 0.527, 50: 0.368, 70: 0.259}
"""ISO 6722-1; 8.5 mm² as poor as 8 mm²."""
INNER = 0.02
VOLTS = 12.6
WARM = 0.975
LIFT_V = 0.1


Gates = tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Form:
    """A form of fuse: its ratings, and both edges of its band in percent and seconds."""

    ratings: tuple[float, ...]
    earliest: Gates
    latest: Gates


BLADE = Form(FUSES, EARLIEST, LATEST)
MAXI = Form(
    (20, 30, 40, 50, 60, 70, 80),
    ((110, 360000), (135, 60), (200, 2), (350, 0.2), (600, 0.04)),
    ((135, 1800), (200, 60), (350, 7), (600, 1)),
)
"""DIN 72581-3 (noiasca.rothschopf.net); 600 % from memory."""
STRIP = Form(
    (30, 40, 50, 60, 70, 80, 100, 125, 150, 175, 200, 225, 250),
    ((100, 14400), (135, 60), (200, 1), (350, 0.3), (600, 0.1)),
    ((135, 1800), (200, 15), (350, 5), (600, 1)),
)
"""ISO 8820-5, from memory."""
FORMS = {"blade": BLADE, "blade-maxi": MAXI, "strip": STRIP}
"""In the order in which they are tried."""


def ohm(size: float, metres: float) -> float:
    return (OHM_KM | LARGE_OHM_KM)[size] / 1e3 * metres


def on_log_paper(gates: tuple[tuple[float, float], ...], percent: float) -> float:
    xs, ys = np.log([g[0] for g in gates]), np.log([g[1] for g in gates])
    return float(np.exp(np.interp(math.log(percent), xs, ys)))


def earliest_s(rating: float, amps: float, form: Form = BLADE) -> float:
    percent = 100 * amps / (rating * WARM)
    last, seconds = form.earliest[-1]
    if percent < 110:
        return math.inf
    if percent > last:
        return seconds * (last / percent) ** 2
    return on_log_paper(form.earliest, percent)


def latest_s(rating: float, amps: float, form: Form = BLADE) -> float:
    percent = 100 * amps / rating
    last, seconds = form.latest[-1]
    if percent < 135:
        return math.inf
    if percent > last:
        return seconds * (last / percent) ** 2
    return on_log_paper(form.latest, percent)


def runs(fuse: float, amps: float) -> bool:
    return amps <= 0.75 * WARM * fuse


def survives(fuse: float, size: float, loop_ohm: float, form: Form = BLADE) -> bool:
    """Tell whether a wire outlasts a dead short through so many ohms until its fuse opens."""
    short = VOLTS / loop_ohm
    return latest_s(fuse, short, form) <= (K * size / short) ** 2


def brute_force(
    load_ohm: float, times: float, lasts: float, length: float
) -> tuple[float, float] | None:
    """Return the smallest blade fuse, and for it the smallest size, by trying every one."""
    found = of_forms(load_ohm, times, lasts, length, {"blade": BLADE}, tuple(AMPACITY))
    return found[1:] if found else None


def of_forms(
    load_ohm: float,
    times: float,
    lasts: float,
    length: float,
    forms: dict[str, Form],
    sizes: tuple[float, ...],
) -> tuple[str, float, float] | None:
    """Return the first form with a fuse that fits, that fuse and the smallest size for it."""
    for name, form in forms.items():
        for fuse in form.ratings:
            for size in sizes:
                if fits(fuse, size, load_ohm, times, lasts, length, form):
                    return name, fuse, size
    return None


def fits(
    fuse: float,
    size: float,
    load_ohm: float,
    times: float,
    lasts: float,
    length: float,
    form: Form = BLADE,
) -> bool:
    """Tell in plain numbers whether a fuse and a size satisfy everything."""
    wire = ohm(size, 0.1 + length + 0.5 + 0.3)
    amps = VOLTS / (INNER + wire + load_ohm)
    held = (AMPACITY | LARGE)[size]
    if not runs(fuse, amps) or amps > held or fuse > held:
        return False
    if amps * wire > 0.03 * 12.0 or amps * ohm(size, 0.3) > LIFT_V:
        return False
    if lasts >= earliest_s(fuse, amps * times, form):
        return False
    ends = (0.1 + length, 0.1 + length + 0.5)
    return all(survives(fuse, size, INNER + ohm(size, metres), form) for metres in ends)
