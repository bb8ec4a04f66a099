"""Limits that standards and workshops set: voltage drop and distance of the protection."""

from __future__ import annotations

from dataclasses import dataclass

from model.tables.store import Table, find, read


@dataclass(frozen=True, slots=True, kw_only=True)
class DropLimit(Table):
    """A limit of voltage drop: a share of the nominal voltage, or volts."""

    share: float | None = None
    volts: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Distance(Table):
    """The longest wire between a source and its protection."""

    metres: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Allowance(Table):
    """A ratio that a standard allows."""

    value: float


@dataclass(frozen=True, slots=True)
class PracticeFile:
    """Everything in ``practice.json``."""

    drops: tuple[DropLimit, ...]
    distances: tuple[Distance, ...]
    allowances: tuple[Allowance, ...]


def practice_file() -> PracticeFile:
    """Return all limits."""
    return read("practice", PracticeFile)


def drop_limit(limit_id: str) -> DropLimit:
    """Return a limit such as ``critical`` (3 %) or ``contacts`` (0.3 V)."""
    return find(practice_file().drops, limit_id, "limit of voltage drop")


def distance(distance_id: str) -> Distance:
    """Return a distance such as ``33cfr-bare`` (0.178 m) or ``road`` (0.3 m)."""
    return find(practice_file().distances, distance_id, "distance of protection")


def allowance(allowance_id: str) -> Allowance:
    """Return an allowance such as ``33cfr-150``: a fuse up to 1.5 times the ampacity."""
    return find(practice_file().allowances, allowance_id, "allowance")
