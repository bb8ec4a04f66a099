"""Fuses and breakers: when they open, what they drop, what they can break."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

from model.errors import QuantityError
from model.tables.store import Standing, Table, find, read, weaker

HOLDS_TO_PERCENT = 110.0
"""Below this no fuse opens, however long."""
MAY_HOLD_TO_PERCENT = 135.0
"""Up to this a fuse need never open."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Gate:
    """At this percentage of its rating a fuse opens after ``min_s`` and before ``max_s``."""

    percent: float
    min_s: float | None = None
    max_s: float | None = None
    standing: Standing | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Band(Table):
    """The operating-time band of a kind of fuse, for ratings ``from_a`` to ``to_a``."""

    gates: tuple[Gate, ...]
    from_a: float = 0.0
    to_a: float = math.inf


@dataclass(frozen=True, slots=True, kw_only=True)
class Style(Table):
    """A form of fuse; ``band`` and ``elements`` are empty where nothing is known."""

    type: str
    band: str
    max_v: float
    breaking_a: float
    largest_a: float
    elements: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Sold(Table):
    """The ratings that a form of fuse is sold in, rising, by the id of its band."""

    ratings_a: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ElementRow:
    """The element of one rating; None where no figure is known."""

    rating_a: float
    cold_milliohm: float | None = None
    drop_mv: float | None = None
    i2t_a2s: float | None = None
    standing: Standing | None = None
    drop_standing: Standing | None = None
    i2t_standing: Standing | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Elements(Table):
    """Cold resistance, drop at rated current and melting energy by rating."""

    rows: tuple[ElementRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BodyColour:
    """The colour of a fuse's body, with a drawing colour of our own."""

    rating_a: float
    colour: str
    rgb: str
    standing: Standing | None = None
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class BodyColours(Table):
    """Body colours by rating."""

    rows: tuple[BodyColour, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule(Table):
    """One figure of practice."""

    value: float


@dataclass(frozen=True, slots=True)
class FuseFile:
    """Everything in ``fuses.json``."""

    styles: tuple[Style, ...]
    bands: tuple[Band, ...]
    elements: tuple[Elements, ...]
    colours: tuple[BodyColours, ...]
    breakers: tuple[Table, ...]
    rules: tuple[Rule, ...]
    sold: tuple[Sold, ...]


@dataclass(frozen=True, slots=True)
class OpeningTimes:
    """When a fuse opens at a current: not before ``earliest_s``, surely by ``latest_s``.

    Seconds; infinite where it never opens, or need not.
    """

    earliest_s: float
    latest_s: float
    band: str
    standing: Standing


@dataclass(frozen=True, slots=True)
class Element:
    """A resistance of a fuse element; ``assumed`` where no row has this rating."""

    ohm: float
    table: str
    assumed: bool
    standing: Standing


def fuse_file() -> FuseFile:
    """Return all fuse tables."""
    return read("fuses", FuseFile)


def style(style_id: str) -> Style:
    """Return a form of fuse; raises `UnknownNameError`."""
    return find(fuse_file().styles, style_id, "form of fuse")


def breaker_type(type_id: str) -> Table:
    """Return a breaker type (I, II, III); raises `UnknownNameError`."""
    return find(fuse_file().breakers, type_id, "type of breaker")


def rule(rule_id: str) -> float:
    """Return a figure of fuse practice, such as ``continuous`` (0.75 of the rating)."""
    return find(fuse_file().rules, rule_id, "fuse rule").value


def body_colour(style_id: str, rating_a: float) -> BodyColour | None:
    """Return the body colour of a rating, None where the table has none."""
    for table in fuse_file().colours:
        if table.id == style_id or (table.id == "blade" and style_id == "blade-mini"):
            return next((row for row in table.rows if row.rating_a == rating_a), None)
    return None


def band_for(band_id: str, rating_a: float, own: tuple[Band, ...] = ()) -> Band | None:
    """Return the band that holds for this rating, the user's own first; None where none is."""
    for band in (*own, *fuse_file().bands):
        if band.id == band_id and band.from_a <= rating_a <= band.to_a:
            return band
    return None


def opening_times(
    band_id: str,
    rating_a: float,
    current_a: float,
    *,
    by_energy: bool = False,
    own: tuple[Band, ...] = (),
) -> OpeningTimes | None:
    """Return when a fuse opens at a steady current.

    Parameters
    ----------
    band_id : str
        ``blade``, ``blade-mini``, ``blade-maxi``, ``strip`` or ``glass``, or one of `own`.
    rating_a, current_a : float
        Amperes; the sign of the current does not matter.
    by_energy : bool
        Past the last gate let the latest edge fall with the square of the current too: what the
        fuse lets through (I²t) is taken to stay as at that gate. For proving wires, which heat by
        the same I²t (IEC 60364-4-43 clause 434.5.2 compares the two, from memory).

    Returns
    -------
    OpeningTimes or None
        None where no band is known. Between the gates of the standard both edges are straight
        lines on log-log paper. Past the last gate the earliest falls with the square of the
        current (constant I²t) and the latest stays, each the careful choice, unless `by_energy`.
    """
    if not (rating_a > 0.0 and math.isfinite(rating_a) and not math.isnan(current_a)):
        raise QuantityError("A fuse needs a rating above 0 A and a current that is a number.")
    band = band_for(band_id, rating_a, own)
    if band is None:
        return None
    percent = 100.0 * abs(current_a) / rating_a
    earliest, first = _edge(band, percent, _earliest_gate, falls=True)
    latest, second = _edge(band, percent, _latest_gate, falls=by_energy)
    if percent < HOLDS_TO_PERCENT:
        earliest = latest = math.inf
    return OpeningTimes(earliest, latest, band.id, weaker(first, second))


def _earliest_gate(gate: Gate) -> float | None:
    return gate.min_s


def _latest_gate(gate: Gate) -> float | None:
    return gate.max_s


def _edge(
    band: Band, percent: float, seconds: Callable[[Gate], float | None], *, falls: bool
) -> tuple[float, Standing]:
    """Return one edge of the band at a percentage, with its standing."""
    gates = [
        (gate.percent, at, gate.standing or band.standing)
        for gate in band.gates
        if (at := seconds(gate)) is not None
    ]
    if not gates:
        return (0.0 if falls else math.inf), band.standing
    if percent < gates[0][0]:
        return math.inf, gates[0][2]
    for (low, slow, a), (high, fast, b) in pairwise(gates):
        if percent < high:
            return _log_log(percent, (low, slow), (high, fast)), weaker(a, b)
    last, at, standing = gates[-1]
    return (at * (last / percent) ** 2 if falls else at), standing


def _log_log(x: float, first: tuple[float, float], second: tuple[float, float]) -> float:
    share = math.log(x / first[0]) / math.log(second[0] / first[0])
    return first[1] * math.pow(second[1] / first[1], share)


def melting_i2t(style_id: str, rating_a: float) -> float | None:
    """Return the melting energy in A²s of this very rating, None where no figure is known."""
    row = _row(style(style_id).elements, rating_a)
    return row.i2t_a2s if row else None


def cold_ohm(style_id: str, rating_a: float) -> Element:
    """Return the cold resistance of a fuse's element.

    A rating without a row takes the blade (or high-current) fuse of that rating; without one
    there, rating × resistance of the nearest rating is kept. Both are marked as assumed.
    """
    own = style(style_id).elements
    row = _row(own, rating_a)
    if row and row.cold_milliohm is not None:
        standing = row.standing or _elements(own).standing
        return Element(row.cold_milliohm / 1e3, own, False, standing)
    return _cold_by_neighbour(own if own == "maxi" else "blade", rating_a)


@cache
def fuse_styles() -> frozenset[str]:
    """Return the ids of the forms of fuse there are."""
    return frozenset(s.id for s in fuse_file().styles)


def warm_ohm(style_id: str, rating_a: float) -> Element:
    """Return the resistance at rated current: from the printed drop where there is one.

    Else cold × 1.45 (four measured pairs: 1.32 to 1.49).
    """
    own = style(style_id).elements
    row = _row(own, rating_a)
    if row and row.drop_mv is not None:
        standing = row.drop_standing or _elements(own).standing
        return Element(row.drop_mv / 1e3 / rating_a, own, False, standing)
    cold = cold_ohm(style_id, rating_a)
    ohm = cold.ohm * rule("warm-over-cold")
    return Element(ohm, cold.table, cold.assumed, weaker(cold.standing, "derived"))


def _cold_by_neighbour(table_id: str, rating_a: float) -> Element:
    rows = [
        (row.rating_a, row.cold_milliohm)
        for row in _elements(table_id).rows
        if row.cold_milliohm is not None
    ]
    rating, milliohm = min(rows, key=lambda pair: abs(math.log(pair[0] / rating_a)))
    return Element(milliohm / 1e3 * rating / rating_a, table_id, True, "derived")


def _elements(table_id: str) -> Elements:
    return find(fuse_file().elements, table_id, "table of fuse elements")


def _row(table_id: str, rating_a: float) -> ElementRow | None:
    if not table_id:
        return None
    return next((row for row in _elements(table_id).rows if row.rating_a == rating_a), None)
