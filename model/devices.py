"""Things whose current is not in proportion to their voltage, each linearised where it stands.

A device gives, for the voltage `v` across it, the conductance `g` and the constant current `j`
of the line i = g·v + j that touches (filament) or is (diode, alternator) its law there.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Protocol

LEAK_S = 1e-9
"""Conductance of something that blocks; too small to be seen, enough to have one solution."""
LIMIT_S = 1e-6
"""Slope of a source at its current limit."""
IDLE_V = 1e-9
"""Volts above its own at which an alternator is idle: less is rounding, not a load gone."""
FILAMENT_POWER = 0.55
"""Exponent of I in V for a filament lamp (published lamp rerating law)."""
HIGH_V = 1000.0
"""Volts at which a constant power is as good as nothing; above it draws no less."""
CHORD_TURNS = 1
"""Turns in which a curved law is taken by its chord, which cannot overshoot; then its tangent."""
COLD_SHARE = 12.0
"""Hot resistance over cold: the floor of the filament law."""


@dataclass(frozen=True, slots=True)
class Line:
    """i = g·v + j; `part` numbers the piece of the law, `exact` says it is that piece itself."""

    g: float
    j: float
    part: int = 0
    exact: bool = True


SHARING_TURNS = 60
"""Turns in which a device and the resistance before it share a voltage."""


class Device(Protocol):
    """What the solver asks of a device."""

    def line(self, v: float, turn: int) -> Line:
        """Return the line at a voltage; `turn` counts the iterations so far."""
        ...

    def start(self) -> float:
        """Return the voltage to begin with."""
        ...


@dataclass(frozen=True, slots=True)
class Junction:
    """A diode: nothing below `forward_v`, then `ohm` (piecewise linear)."""

    forward_v: float
    ohm: float

    def line(self, v: float, turn: int) -> Line:
        """Return the blocking or the conducting piece."""
        if v < self.forward_v:
            return Line(LEAK_S, 0.0, 0)
        g = 1.0 / max(self.ohm, 1e-6)
        return Line(g, -g * self.forward_v + LEAK_S * self.forward_v, 1)

    def start(self) -> float:
        """Begin blocking."""
        return 0.0


@dataclass(frozen=True, slots=True)
class Alternator:
    """A source that passes no current backwards and no more than its limit forwards."""

    emf_v: float
    ohm: float
    limit_a: float

    def line(self, v: float, turn: int) -> Line:
        """Return the piece: idle, regulating, or at its limit."""
        if v >= self.emf_v + IDLE_V:
            return Line(LEAK_S, -LEAK_S * self.emf_v, 0)
        knee = self.emf_v - self.ohm * self.limit_a
        if v >= knee:
            return self.regulating()
        return Line(LIMIT_S, -self.limit_a - LIMIT_S * knee, 2)

    def regulating(self) -> Line:
        """Return the middle piece, which the way from idle to the limit leads through."""
        return Line(1.0 / self.ohm, -self.emf_v / self.ohm, 1)

    def start(self) -> float:
        """Begin idle."""
        return self.emf_v


@dataclass(frozen=True, slots=True)
class Filament:
    """A filament lamp: I ∝ V^0.55, never below its cold resistance."""

    amps: float
    volts: float

    def line(self, v: float, turn: int) -> Line:
        """Return the chord for the first turns (it never overshoots), then the tangent."""
        ohm = self.volts / self.amps
        share = abs(v) / self.volts
        if share ** (1.0 - FILAMENT_POWER) <= 1.0 / COLD_SHARE:
            return Line(COLD_SHARE / ohm, 0.0, 0)
        amps = self.amps * share**FILAMENT_POWER
        if turn < CHORD_TURNS:
            return Line(amps / abs(v), 0.0, 1, exact=False)
        g = FILAMENT_POWER * amps / abs(v)
        return Line(g, math.copysign(amps - g * abs(v), v), 1, exact=False)

    def start(self) -> float:
        """Begin at the stated voltage."""
        return self.volts


@dataclass(frozen=True, slots=True)
class ConstantPower:
    """Electronics: the same power down to `least_v`, below it a resistor."""

    watts: float
    least_v: float

    def line(self, v: float, turn: int) -> Line:
        """Return the chord of the law."""
        least = self.watts / self.least_v**2
        if abs(v) <= self.least_v:
            return Line(least, 0.0, 0)
        return Line(self.watts / min(abs(v), HIGH_V) ** 2, 0.0, 1, exact=False)

    def start(self) -> float:
        """Begin at a voltage so high that it draws next to nothing.

        Of several answers (it runs, or a weak feed has collapsed under it) that finds the one in
        which it runs, as when a device waits for its voltage before it starts.
        """
        return max(HIGH_V, 2.0 * self.least_v)


@dataclass(frozen=True, slots=True)
class Behind:
    """A device behind a resistance: a bad joint in series with a lamp or a diode."""

    device: Device
    ohm: float

    def line(self, v: float, turn: int) -> Line:
        """Return the line of both together, at the voltage the device itself is left with."""
        inner, at = self.device.line(v, turn), v
        for _ in range(SHARING_TURNS):
            left = (v - self.ohm * inner.j) / (1.0 + self.ohm * inner.g)
            again = self.device.line(left, turn)
            done = again.part == inner.part and abs(left - at) <= 1e-12 * max(1.0, abs(v))
            inner, at = again, left
            if done:
                break
        less = 1.0 + self.ohm * inner.g
        return Line(inner.g / less, inner.j / less, inner.part, inner.exact)

    def start(self) -> float:
        """Begin where the device does."""
        return self.device.start()
