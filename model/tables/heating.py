"""How a wire heats: steadily, in a short circuit, and until it melts."""

from __future__ import annotations

import math
from dataclasses import dataclass

from model.errors import QuantityError
from model.tables.store import Table, find, read

ADIABATIC_VALID_S = 5.0
"""Up to here a wire in a short circuit loses so little heat that none is reckoned."""
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
