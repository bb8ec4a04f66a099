"""Lamps by category and what other loads typically draw."""

from __future__ import annotations

from dataclasses import dataclass

from model.tables.store import Table, find, read


@dataclass(frozen=True, slots=True, kw_only=True)
class Lamp(Table):
    """A filament lamp category: rated watts at 12 V, and at 24 V where they differ."""

    watts: float
    test_v: float
    objective_w: float | None = None
    second_watts: float | None = None
    watts_24: float | None = None
    second_watts_24: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class FilamentLaw(Table):
    """An exponent or share of the law of filaments."""

    value: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TypicalLoad(Table):
    """The usual range of a load's running current and of its start multiple."""

    low_a: float
    high_a: float
    start_low: float | None = None
    start_high: float | None = None


@dataclass(frozen=True, slots=True)
class LoadFile:
    """Everything in ``loads.json``."""

    lamps: tuple[Lamp, ...]
    laws: tuple[FilamentLaw, ...]
    typical: tuple[TypicalLoad, ...]


def load_file() -> LoadFile:
    """Return all tables of loads."""
    return read("loads", LoadFile)


def lamp(category: str) -> Lamp:
    """Return a lamp category, such as ``P21W``; raises `UnknownNameError`."""
    return find(load_file().lamps, category, "lamp category")


def filament_law(law_id: str) -> float:
    """Return an exponent (``current``, ``power``, ``light``) or ``cold-share``."""
    return find(load_file().laws, law_id, "law of filaments").value


def typical_load(load_id: str) -> TypicalLoad:
    """Return what a load usually draws, such as ``radiator-fan``; raises `UnknownNameError`."""
    return find(load_file().typical, load_id, "typical load")
