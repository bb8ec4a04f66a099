"""Relays: published data, load classes of contacts, suppression, and the coil when hot."""

from __future__ import annotations

from dataclasses import dataclass

from model.errors import QuantityError
from model.tables.store import Table, find, read

ABOUT = 0.95
"""Share of a row's ohms from which a resistor counts as that row's."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RelayDatum(Table):
    """One quantity, as (low, high) or (typical, limit), for 12 V and where known for 24 V."""

    v12: tuple[float, float]
    v24: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadClass(Table):
    """What a load does to a contact: inrush over running current, share of the rating."""

    inrush_low: float
    inrush_high: float
    contact_share: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Suppression(Table):
    """A way to quieten a 12 V coil: peak voltage and release time, None where unknown.

    `release_s` is the figure of the row's standing, `published_s` another one, from memory;
    `ohm` is the resistor of a way that is one, `peak_low_v` the lower end of a range of peaks.
    """

    peak_v: float | None = None
    release_s: float | None = None
    peak_low_v: float | None = None
    published_s: float | None = None
    ohm: float | None = None


@dataclass(frozen=True, slots=True)
class RelayFile:
    """Everything in ``relays.json``."""

    data: tuple[RelayDatum, ...]
    loads: tuple[LoadClass, ...]
    suppression: tuple[Suppression, ...]


def relay_file() -> RelayFile:
    """Return all relay tables."""
    return read("relays", RelayFile)


def relay_datum(datum_id: str) -> RelayDatum:
    """Return one quantity, such as ``must-operate-v``; raises `UnknownNameError`."""
    return find(relay_file().data, datum_id, "relay quantity")


def load_class(class_id: str) -> LoadClass:
    """Return a load class, such as ``lamp``; raises `UnknownNameError`."""
    return find(relay_file().loads, class_id, "load class")


def suppression(suppression_id: str) -> Suppression:
    """Return a way of suppression, such as ``diode``; raises `UnknownNameError`."""
    return find(relay_file().suppression, suppression_id, "coil suppression")


def suppression_of(way: str, ohm: float = 0.0, coil_v: float = 12.0) -> Suppression:
    """Return the row for a coil's suppression as a part states it.

    Parameters
    ----------
    way
        none, diode, zener or resistor.
    ohm
        The resistor in Ω. Between two rows the slower counts, below the last row the last.
    coil_v
        The coil's nominal voltage: a coil of 24 V has four times the ohms, so that 2700 Ω there
        do what 680 Ω do at 12 V.

    Raises
    ------
    UnknownNameError
        When there is no such way.
    """
    if way != "resistor":
        return suppression(way)
    at_12 = ohm * (12.0 / max(coil_v, 1e-9)) ** 2
    rows = sorted((r for r in relay_file().suppression if r.ohm), key=lambda r: -(r.ohm or 0.0))
    return next((r for r in rows if at_12 >= ABOUT * (r.ohm or 0.0)), rows[-1])


def coil_factor(temperature_c: float, base_c: float = 20.0) -> float:
    """Return a copper coil's resistance, and so its pull-in voltage, over that at ``base_c``.

    (234.5 + T)/(234.5 + base): the pull-in *current* does not change with temperature.
    """
    if not -100.0 <= temperature_c <= 400.0:
        raise QuantityError(f"{temperature_c:g} °C is no temperature of a coil: -100 to 400 °C.")
    return (234.5 + temperature_c) / (234.5 + base_c)
