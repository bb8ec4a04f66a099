"""How a wire heats: steadily, in a short circuit, and until it melts."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from model.errors import QuantityError
from model.tables.cables import cable_file
from model.tables.store import Table, find, read

ADIABATIC_VALID_S = 5.0
"""Up to here a wire in a short circuit loses so little heat that none is reckoned."""
CROSS_LINKED_FROM_C = 120.0
"""Insulation that stands this much is taken as cross-linked; common practice, no source."""
PVC_90_TO_C = 90.0
_MM2_PER_CIRCULAR_MIL = math.pi / 4 * 0.0254**2


@dataclass(frozen=True, slots=True, kw_only=True)
class Insulation(Table):
    """An insulation: its temperature at the start, its short-circuit limit, a printed k."""

    start_c: float
    limit_c: float
    k: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Constant(Table):
    """A constant of copper."""

    value: float


@dataclass(frozen=True, slots=True)
class HeatingFile:
    """Everything in ``heating.json``."""

    insulation: tuple[Insulation, ...]
    constants: tuple[Constant, ...]


def heating_file() -> HeatingFile:
    """Return all tables of heating."""
    return read("heating", HeatingFile)


def insulation(insulation_id: str) -> Insulation:
    """Return an insulation such as ``vehicle-pvc-105``; raises `UnknownNameError`."""
    return find(heating_file().insulation, insulation_id, "insulation")


def copper_constant(constant_id: str) -> float:
    """Return ``k-copper``, ``beta-copper``, ``melting-copper`` or ``preece``."""
    return find(heating_file().constants, constant_id, "constant of copper").value


@cache
def insulation_for(name: str, t_max_c: float, own: tuple[Insulation, ...] = ()) -> Insulation:
    """Return the insulation of a wire in a short circuit, taken as hot as it may run.

    Parameters
    ----------
    name : str
        What is stated of the wire: an id of these tables, a code of the trade, or "".
    t_max_c : float
        Temperature the insulation stands by the ampacity table, where nothing is stated.
    own : tuple of Insulation
        Insulations of the user's own, which are looked through first.

    Returns
    -------
    Insulation
        Cross-linked from 120 °C up, PVC below; without anything else known this is careful.
    """
    stated = next((i for i in (*own, *heating_file().insulation) if i.id == name), None)
    if stated is not None:
        return stated
    stands = [c.t_max_c for c in cable_file().insulation if c.id == name.strip().casefold()]
    hottest = stands[0] if stands else t_max_c
    if hottest >= CROSS_LINKED_FROM_C:
        return insulation("vehicle-xlpe-125")
    return insulation("vehicle-pvc-105" if hottest > PVC_90_TO_C else "pvc-90")


def short_circuit_k(held: Insulation) -> float:
    """Return k of an insulation in A·√s/mm²: printed, else from its two temperatures."""
    return held.k if held.k is not None else adiabatic_k(held.start_c, held.limit_c)


def adiabatic_k(start_c: float, limit_c: float) -> float:
    """Return k in A·√s/mm²: 226·√ln((234.5 + limit)/(234.5 + start)), after IEC 60949."""
    beta = copper_constant("beta-copper")
    if not -beta < start_c < limit_c:
        raise QuantityError(f"A wire cannot heat from {start_c:g} °C to {limit_c:g} °C.")
    return copper_constant("k-copper") * math.sqrt(math.log((beta + limit_c) / (beta + start_c)))


def adiabatic_time_s(k: float, area_mm2: float, current_a: float) -> float:
    """Return the seconds until the insulation's limit: (k·S/I)².

    Valid up to `ADIABATIC_VALID_S`; a longer answer means that the wire lasts at least so long.
    """
    _positive(k, area_mm2)
    if current_a == 0.0:
        return math.inf
    return (k * area_mm2 / current_a) ** 2


def cooled_time_s(held: Insulation, adiabatic_s: float, settles_c: float) -> float:
    """Return the seconds until the insulation's limit where the wire loses heat meanwhile.

    Parameters
    ----------
    held : Insulation
        Its temperature at the start and its limit.
    adiabatic_s : float
        How long it would take without any heat lost.
    settles_c : float
        Temperature at which the wire would settle for ever.

    Returns
    -------
    float
        Infinite where it settles below the limit. The temperature is taken to rise
        exponentially, at first as fast as without loss (derived, no source): τ·ln(Δ/(Δ − δ)) with
        Δ from start to where it settles, δ from start to the limit, τ = Δ·adiabatic_s/δ.
    """
    if settles_c <= held.limit_c:
        return math.inf
    whole, part = settles_c - held.start_c, held.limit_c - held.start_c
    return adiabatic_s * whole / part * math.log(whole / (whole - part))


def onderdonk_current_a(area_mm2: float, seconds: float, ambient_c: float = 40.0) -> float:
    """Return the current that melts a copper wire in this time (Onderdonk).

    A_cmil·√(log₁₀((1083 − T)/(234 + T) + 1)/(33·t)); unreliable beyond about 10 s in free air.
    """
    _positive(area_mm2, seconds)
    rise = (copper_constant("melting-copper") - ambient_c) / (234.0 + ambient_c)
    cmil = area_mm2 / _MM2_PER_CIRCULAR_MIL
    return cmil * math.sqrt(math.log10(rise + 1.0) / (33.0 * seconds))


def preece_current_a(area_mm2: float) -> float:
    """Return the steady current that melts a copper wire in still air: 80·d^1.5, d in mm."""
    _positive(area_mm2)
    diameter_mm = math.sqrt(4.0 * area_mm2 / math.pi)
    return copper_constant("preece") * math.pow(diameter_mm, 1.5)


def steady_temperature_c(
    current_a: float, ampacity_a: float, zone_c: float, t_max_c: float, base_c: float = 30.0
) -> float:
    """Return the temperature at which a wire settles, its rise going with the square of current.

    Parameters
    ----------
    current_a : float
        What it carries.
    ampacity_a : float
        What brings it to ``t_max_c`` in an ambient of ``base_c`` (the uncorrected table value).
    zone_c : float
        Temperature around it.
    """
    _positive(ampacity_a)
    return zone_c + (t_max_c - base_c) * (current_a / ampacity_a) ** 2


def _positive(*values: float) -> None:
    if not all(value > 0.0 and math.isfinite(value) for value in values):
        raise QuantityError("Size, time, rating and k of a wire must be above 0.")
