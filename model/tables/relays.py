"""Relays: published data, load classes of contacts, suppression, and the coil when hot."""

from __future__ import annotations

from dataclasses import dataclass

from model.errors import QuantityError
from model.tables.store import Table, find, read


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
    """A way to quieten a coil: peak voltage and release time, None where unknown."""

    peak_v: float | None = None
    release_s: float | None = None


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


def coil_factor(temperature_c: float, base_c: float = 20.0) -> float:
    """Return a copper coil's resistance, and so its pull-in voltage, over that at ``base_c``.

    (234.5 + T)/(234.5 + base): the pull-in *current* does not change with temperature.
    """
    if not -100.0 <= temperature_c <= 400.0:
        raise QuantityError(f"{temperature_c:g} °C is no temperature of a coil: -100 to 400 °C.")
    return (234.5 + temperature_c) / (234.5 + base_c)
