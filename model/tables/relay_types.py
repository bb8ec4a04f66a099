"""Types of relay that are sold: what their contacts carry, their coil, when they pull in."""

from __future__ import annotations

from dataclasses import dataclass

from model.tables.store import Table, read

CLASS_24_V = 18.0
"""Nominal voltage above which the figures for 24 V hold."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RelayType(Table):
    """One type; pairs are for 12 V and 24 V.

    `make_a` and `break_a` are resistive ratings in amperes (None: no such contact), `coil_ohm`
    the coil at 20 °C, `must_pull_in_share` the share of the nominal voltage at which it is
    promised to pull in at 20 °C.
    """

    make_a: tuple[float, float]
    coil_ohm: tuple[float, float]
    must_pull_in_share: float
    break_a: tuple[float, float] | None = None

    def make_at(self, nominal_v: float) -> float:
        """Return the resistive rating of the make contact in amperes."""
        return self.make_a[nominal_v > CLASS_24_V]

    def break_at(self, nominal_v: float) -> float | None:
        """Return the resistive rating of the break contact in amperes, None without one."""
        return None if self.break_a is None else self.break_a[nominal_v > CLASS_24_V]

    def coil_at(self, nominal_v: float) -> float:
        """Return the resistance of the coil for this voltage in Ω."""
        return self.coil_ohm[nominal_v > CLASS_24_V]


@dataclass(frozen=True, slots=True)
class RelayTypeFile:
    """Everything in ``relay_types.json``."""

    types: tuple[RelayType, ...]


def relay_type_file() -> RelayTypeFile:
    """Return everything in the file."""
    return read("relay_types", RelayTypeFile)


def relay_types() -> tuple[RelayType, ...]:
    """Return every type, the smallest contact first."""
    return relay_type_file().types
