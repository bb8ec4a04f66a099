"""The plain reckoning beside the program: tables, fuse times, and one load on one fuse.

Ampacity of thin-wall cable (a cable seller's data sheet), resistance by ISO 6722-1 (greatest,
20 °C), the opening times of blade fuses (ISO 8820-3, quoted at second hand), 75 % of the rating
less 0.5 % per °C above 25 °C, 3 % of 12 V for a critical load and 10 % for an ordinary one, 0.1 V
on the ground side (common practice), and t = (k·S/I)² with
k = 226·√ln((234.5 + 160)/(234.5 + 105)).
"""

from __future__ import annotations

import math

import numpy as np

AMPACITY = {0.5: 11, 0.75: 14, 1: 16.5, 1.5: 21, 2: 25, 2.5: 29, 3: 33, 4: 39, 4.5: 42, 6: 50}
OHM_KM = {0.5: 37.1, 0.75: 24.7, 1: 18.5, 1.5: 12.7, 2: 9.42, 2.5: 7.6, 3: 6.15, 4: 4.71, 6: 3.14}
OHM_KM[4.5] = 4.71 * 4 / 4.5  # no row in the standard: by area
FUSES = (1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 40)
EARLIEST = ((110, 360000), (135, 0.75), (160, 0.25), (200, 0.15), (350, 0.04))
LATEST = ((135, 600), (160, 50), (200, 5), (350, 0.5), (600, 0.1))
K = 226 * math.sqrt(math.log((234.5 + 160) / (234.5 + 105)))
INNER = 0.02
VOLTS = 12.6
WARM = 0.975
LIFT_V = 0.1


def ohm(size: float, metres: float) -> float:
    return OHM_KM[size] / 1e3 * metres


def on_log_paper(gates: tuple[tuple[float, float], ...], percent: float) -> float:
    xs, ys = np.log([g[0] for g in gates]), np.log([g[1] for g in gates])
    return float(np.exp(np.interp(math.log(percent), xs, ys)))


def earliest_s(rating: float, amps: float) -> float:
    percent = 100 * amps / (rating * WARM)
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


def runs(fuse: float, amps: float) -> bool:
    return amps <= 0.75 * WARM * fuse


def survives(fuse: float, size: float, loop_ohm: float) -> bool:
    """Tell whether a wire outlasts a dead short through so many ohms until its fuse opens."""
    short = VOLTS / loop_ohm
    return latest_s(fuse, short) <= (K * size / short) ** 2


def brute_force(
    load_ohm: float, times: float, lasts: float, length: float
) -> tuple[float, float] | None:
    """Return the smallest fuse, and for it the smallest size, by trying every one."""
    for fuse in FUSES:
        for size in AMPACITY:
            if fits(fuse, size, load_ohm, times, lasts, length):
                return fuse, size
    return None


def fits(
    fuse: float, size: float, load_ohm: float, times: float, lasts: float, length: float
) -> bool:
    """Tell in plain numbers whether a fuse and a size satisfy everything."""
    wire = ohm(size, 0.1 + length + 0.5 + 0.3)
    amps = VOLTS / (INNER + wire + load_ohm)
    if not runs(fuse, amps) or amps > AMPACITY[size] or fuse > AMPACITY[size]:
        return False
    if amps * wire > 0.03 * 12.0 or amps * ohm(size, 0.3) > LIFT_V:
        return False
    if lasts >= earliest_s(fuse, amps * times):
        return False
    ends = (0.1 + length, 0.1 + length + 0.5)
    return all(survives(fuse, size, INNER + ohm(size, metres)) for metres in ends)
