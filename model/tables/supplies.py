"""Supplies: permitted ranges, rest voltage by charge, inner resistance by cranking rating."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from model.errors import QuantityError
from model.tables.store import Table, find, read


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplyRange(Table):
    """A supply voltage code: the device works from ``low_v`` to ``high_v``."""

    low_v: float
    high_v: float
    nominal_v: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class StartingProfile(Table):
    """What the supply does while the engine is started."""

    nominal_v: float
    dip_v: float
    plateau_v: float
    plateau_s: float


@dataclass(frozen=True, slots=True)
class ChargeRow:
    """Rest voltage at a state of charge (share)."""

    charge: float
    volts: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RestTable(Table):
    """Rest voltage of a battery of ``nominal_v`` by its charge, full first."""

    nominal_v: float
    rows: tuple[ChargeRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CrankingTest(Table):
    """How a cranking rating is measured: the 12 V battery still has ``end_v``."""

    temperature_c: float
    seconds: float
    end_v: float


@dataclass(frozen=True, slots=True, kw_only=True)
class InnerRule(Table):
    """The rule of thumb from cranking rating to inner resistance."""

    open_v: float
    warm_share: float


@dataclass(frozen=True, slots=True)
class SupplyFile:
    """Everything in ``supplies.json``."""

    ranges: tuple[SupplyRange, ...]
    starting: tuple[StartingProfile, ...]
    rest: RestTable
    cranking: tuple[CrankingTest, ...]
    inner: InnerRule
    charging: tuple[SupplyRange, ...]


def supply_file() -> SupplyFile:
    """Return all tables of supplies."""
    return read("supplies", SupplyFile)


def supply_range(code: str) -> SupplyRange:
    """Return the range of an ISO 16750-2 code A to H; raises `UnknownNameError`."""
    return find(supply_file().ranges, code, "supply code")


def rest_voltage_v(charge: float, nominal_v: float = 12.0) -> float:
    """Return the rest voltage of a lead-acid battery.

    Parameters
    ----------
    charge : float
        State of charge, 0 to 1; straight lines between the rows of the table.
    nominal_v : float
        12, or 24 for two in series.
    """
    if not 0.0 <= charge <= 1.0:
        raise QuantityError(f"A state of charge is 0 to 100 %, not {charge:.0%}.")
    table = supply_file().rest
    rows = table.rows
    upper, lower = next((a, b) for a, b in pairwise(rows) if b.charge <= charge)
    share = (charge - lower.charge) / (upper.charge - lower.charge)
    return (lower.volts + share * (upper.volts - lower.volts)) * nominal_v / table.nominal_v


def inner_ohm(
    rating_a: float, nominal_v: float = 12.0, *, test: str = "sae", warm: bool = True
) -> float:
    """Return a battery's inner resistance in Ω, reckoned from its cranking rating.

    (12.6 V − end voltage of the test)/rating at −18 °C; half of it when warm (a rule of thumb).
    A 24 V battery is two in series: double the resistance.
    """
    if not (rating_a > 0.0 and math.isfinite(rating_a)):
        raise QuantityError("A cranking rating must be above 0 A.")
    rule = supply_file().inner
    end_v = find(supply_file().cranking, test, "cranking test").end_v
    cold = (rule.open_v - end_v) / rating_a * nominal_v / 12.0
    return cold * rule.warm_share if warm else cold
