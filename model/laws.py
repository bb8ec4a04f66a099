"""The laws of devices at many voltages at once: the lines that `model.devices` gives singly."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from model.devices import (
    CHORD_TURNS,
    COLD_SHARE,
    FILAMENT_POWER,
    HIGH_V,
    IDLE_V,
    LEAK_S,
    LIMIT_S,
    Alternator,
    ConstantPower,
    Device,
    Filament,
    Junction,
)
from model.linear import Floats, Ints

Lines = tuple[Floats, Floats, Ints]
"""Conductances, constant currents and pieces of the laws, each (states, devices)."""


def lines(laws: Sequence[Device], v: Floats, turn: int) -> Lines:
    """Return the lines of devices at voltages `v` of shape (states, devices)."""
    g, j = np.empty_like(v), np.empty_like(v)
    piece = np.empty(v.shape, np.intp)
    for k, law in enumerate(laws):
        g[:, k], j[:, k], piece[:, k] = _line(law, v[:, k], turn)
    return g, j, piece


def _line(law: Device, v: Floats, turn: int) -> Lines:
    """Return the lines of one device at many voltages."""
    if isinstance(law, Junction):
        return _junction(law, v)
    if isinstance(law, Filament):
        return _filament(law, v, turn)
    if isinstance(law, ConstantPower):
        return _power(law, v)
    if isinstance(law, Alternator):
        return _alternator(law, v)
    raise TypeError(f"no law for {type(law).__name__}")


def _junction(law: Junction, v: Floats) -> Lines:
    """Return a diode's blocking or conducting pieces."""
    ahead = v >= law.forward_v
    g = 1.0 / max(law.ohm, 1e-6)
    return (
        np.where(ahead, g, LEAK_S),
        np.where(ahead, (LEAK_S - g) * law.forward_v, 0.0),
        ahead.astype(np.intp),
    )


def _filament(law: Filament, v: Floats, turn: int) -> Lines:
    """Return a filament's chords for the first turns, then its tangents."""
    ohm, size = law.volts / law.amps, np.maximum(np.abs(v), 1e-12)
    share = size / law.volts
    cold = share ** (1.0 - FILAMENT_POWER) <= 1.0 / COLD_SHARE
    amps = law.amps * share**FILAMENT_POWER
    chord = amps / size
    tangent = FILAMENT_POWER * chord
    g = np.where(cold, COLD_SHARE / ohm, chord if turn < CHORD_TURNS else tangent)
    j = np.zeros_like(v) if turn < CHORD_TURNS else np.copysign(amps - tangent * size, v)
    return g, np.where(cold, 0.0, j), (~cold).astype(np.intp)


def _power(law: ConstantPower, v: Floats) -> Lines:
    """Return the chords of a constant power."""
    low = np.abs(v) <= law.least_v
    size = np.maximum(np.minimum(np.abs(v), HIGH_V), law.least_v)
    return law.watts / size**2, np.zeros_like(v), (~low).astype(np.intp)


def _alternator(law: Alternator, v: Floats) -> Lines:
    """Return an alternator's pieces: idle, regulating, at its limit."""
    knee = law.emf_v - law.ohm * law.limit_a
    piece = np.where(v >= law.emf_v + IDLE_V, 0, np.where(v >= knee, 1, 2))
    g = np.choose(piece, (LEAK_S, 1.0 / law.ohm, LIMIT_S))
    j = np.choose(
        piece,
        (-LEAK_S * law.emf_v, -law.emf_v / law.ohm, -law.limit_a - LIMIT_S * knee),
    )
    return g, j, piece.astype(np.intp)
