"""A fuse that may open while a load starts.

What it finds
    For every fuse, the loads behind it with their start currents and times, those that always
    run together taken as starting together while the others run. Set against the earliest time
    at which the fuse opens, hot as its surroundings are: where the start takes all of it, fault.

Why it matters
    A motor at rest draws several times its running current until it turns, a cold filament ten
    times. A fuse that bears the running current with ease may open on a cold morning, and the
    larger one that someone puts in then no longer protects the wire.

Example
    A fan of 22 A that starts at 60 A for more than a second on a 30 A blade fuse: twice the
    rating, at which such a fuse may open after 0.15 s.

How to fix
    A slower form of fuse (high-current blade, strip) of a rating that the wire allows, or the
    next rating with thicker wire. Never a larger fuse on the same wire.

Limits
    The start is taken as its stated multiple of the running current for its stated time, then
    the running current: wiring holds the true start a little back. Shares of the earliest
    opening time are added up. Starters of engines are left out. Fuses without a published
    earliest edge are not judged.

Reference
    Earliest edge of the operating-time band (ISO 8820, at second hand), with constant I²t past
    its last gate; rating lowered by 0.5 % per °C above 25 °C (interfacebus.com). Adding up shares
    is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from checks.case import Case
from checks.currents import is_starter
from checks.finding import FAULT, UNKNOWN, Datum, Finding, Remedy
from checks.stock import fuse_ratings, warm_share
from checks.wording import listed
from model.circuit import Part
from model.edits import set_rating
from model.lookup import word
from model.network import Edge
from model.own_tables import own_bands
from model.tables.fuses import OpeningTimes, band_for, opening_times
from model.zones import part_warmth

NAME = "fuse-below-start"
FAMILY = "rating"
_BASE = """
    G1 battery
    F1 {kind} rating_a={rating}
    S1 switch contact_a=80
    M1 fan current_a=22 start_multiple=2.7 {lasts}
    X1 ground
    X2 ground
    W1 G1.+ F1.1 6 0.15
    W2 F1.2 S1.1 6 1
    W3 S1.2 M1.+ 6 1
    W4 M1.- X1.g 6 0.3
    W5 X2.g G1.- 25 0.3
"""
BAD = (
    (
        _BASE.format(kind="fuse-blade", rating=30, lasts="start_s=1.5"),
        ((FAULT, ("F1", "M1")),),
    ),
    (_BASE.format(kind="fuse-blade", rating=30, lasts=""), ((UNKNOWN, ("F1", "M1")),)),
)
GOOD = (
    _BASE.format(kind="fuse-blade band=blade-maxi", rating=40, lasts="start_s=1.5"),
    _BASE.format(kind="fuse-blade", rating=30, lasts="start_s=0.05"),
)


@dataclass(frozen=True, slots=True)
class _Start:
    """A load behind a fuse: what it draws running and more while it starts, and for how long."""

    edge: Edge
    amps: float
    more_a: float
    lasts_s: float
    stated: bool


@dataclass(frozen=True, slots=True)
class _Worst:
    """The start that takes most of a fuse's earliest time: how much of it, what it draws."""

    share: float
    peak_a: float
    row: int
    starts: tuple[_Start, ...]


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every fuse that a start may open."""
    calm = ~case.cranking & ~case.shorts
    starting = _starting(case)
    if not starting:
        return
    for index, edge in case.network.of_role("fuse"):
        part = case.circuit.parts[edge.owner]
        rated = case.rating(part, "rating_a")
        if not rated.number or rated.number <= 0 or not _has_earliest(case, part, rated.number):
            continue
        amps = np.abs(case.survey.amps[:, index]) * calm
        row = int(amps.argmax())
        if amps[row] <= 0.0 or amps[row] > rated.number:
            continue  # nothing runs, or fuse-below-running says so
        if not np.abs(case.survey.amps[row, starting]).any():
            continue  # what runs draws no more when it starts
        worst = _worst(case, index, row, float(amps[row]), part, float(rated.number))
        if worst is not None and worst.share >= 1.0:
            yield _finding(case, part, worst, float(rated.number), rated.origin == "default")


def _has_earliest(case: Case, part: Part, rating_a: float) -> bool:
    """Tell whether the earliest edge of a fuse's band is published."""
    band = band_for(word(case.circuit, part, "band"), float(rating_a), own_bands(case.circuit))
    return band is not None and sum(gate.min_s is not None for gate in band.gates) > 1


def _worst(
    case: Case, index: int, row: int, running_a: float, part: Part, rating_a: float
) -> _Worst | None:
    """Return the group of loads whose common start takes most of a fuse's time."""
    groups: dict[bytes, list[_Start]] = {}
    for load, amps in case.flows(row).loads_through(index).items():
        start = _start(case, case.network.edges[load], amps)
        if start is not None:
            on = (np.abs(case.survey.amps[:, load]) > 0.1 * amps).tobytes()
            groups.setdefault(on, []).append(start)
    tried = [
        _Worst(
            _share(case, part, rating_a, running_a, group),
            running_a + sum(s.more_a for s in group),
            row,
            tuple(sorted(group, key=lambda s: -s.more_a)),
        )
        for group in groups.values()
    ]
    return max(tried, key=lambda w: w.share, default=None)


def _starting(case: Case) -> list[int]:
    """Return the edges of the loads that draw more while they start."""
    loads = case.network.of_role("load")
    return [index for index, edge in loads if _start(case, edge, 1.0) is not None]


def _start(case: Case, edge: Edge, amps: float) -> _Start | None:
    """Return how a load starts, None where it draws no more than when it runs."""
    if edge.role != "load" or is_starter(edge):
        return None
    part, prefix = case.circuit.parts[edge.owner], str(getattr(edge.inner, "prefix", ""))
    times = case.rating(part, f"{prefix}start_multiple")
    lasts = case.rating(part, f"{prefix}start_s")
    if not times.number or not lasts.number or times.number <= 1.0:
        return None
    stated = "default" not in (times.origin, lasts.origin)
    return _Start(edge, amps, (times.number - 1.0) * amps, float(lasts.number), stated)


def _share(case: Case, part: Part, rating_a: float, running_a: float, group: list[_Start]) -> float:
    """Return how much of a fuse's earliest opening time a common start takes."""
    share, since_s = 0.0, 0.0
    for until_s in sorted({s.lasts_s for s in group}):
        amps = running_a + sum(s.more_a for s in group if s.lasts_s >= until_s)
        times = _times(case, part, rating_a, amps)
        if times is not None and np.isfinite(times.earliest_s):
            share += (until_s - since_s) / max(times.earliest_s, 1e-9)
        since_s = until_s
    return share


def _times(case: Case, part: Part, rating_a: float, amps: float) -> OpeningTimes | None:
    """Return when a warm fuse opens: the band is that of its rating, the current counts more."""
    band, own = word(case.circuit, part, "band"), own_bands(case.circuit)
    return opening_times(band, rating_a, amps / _left(case, part), own=own)


def _left(case: Case, part: Part) -> float:
    """Return what is left of a fuse's rating in its surroundings."""
    return warm_share(part_warmth(case.circuit, part).celsius)


def _finding(case: Case, part: Part, worst: _Worst, rating_a: float, assumed: bool) -> Finding:
    """Return the finding of one fuse."""
    owners = tuple(dict.fromkeys(s.edge.owner for s in worst.starts))
    usual = [case.name(s.edge.owner) for s in worst.starts if not s.stated]
    earliest = _times(case, part, rating_a, worst.peak_a)
    values: dict[str, Datum] = {
        "fuse": case.name(part.id),
        "rating": rating_a,
        "loads": listed(case.name(o) for o in owners),
        "peak": worst.peak_a,
        "lasts": max(s.lasts_s for s in worst.starts),
        "earliest": earliest.earliest_s if earliest else 0.0,
        "times": worst.peak_a / rating_a,
        "zone": part_warmth(case.circuit, part).celsius,
        "zone_name": part_warmth(case.circuit, part).zone,
        "usual": listed(dict.fromkeys(usual)),
    }
    return Finding(
        rule=NAME,
        severity=UNKNOWN if usual or assumed else FAULT,
        parts=(part.id, *owners),
        says=_says(len(owners) > 1, bool(usual), assumed, bool(values["zone_name"])),
        values=values,
        source=f"earliest edge of the band {word(case.circuit, part, 'band')}, at second hand",
        path=(("parts", part.id), *(("parts", o) for o in owners)),
        setting=case.survey.settings[worst.row],
        remedy=None if usual or assumed else _remedy(case, part, worst, rating_a),
    )


def _says(several: bool, usual: bool, assumed: bool, zone: bool) -> str:
    """Return the sentence."""
    what = (
        ("While {loads} start" if several else "While {loads} starts")
        + ", {fuse} ({rating:current}) carries up to {peak:current} for {lasts:time}, "
        "{times:count} times its rating; at {zone:temperature}"
        + (" in the zone {zone_name}" if zone else "")
        + " it may open after {earliest:time}."
    )
    why = []
    if usual:
        why.append("the start of {usual} is not stated and the usual one is taken")
    if assumed:
        why.append("the rating of {fuse} is not stated")
    return what + (" But " + " and ".join(why) + "." if why else "")


def _remedy(case: Case, part: Part, worst: _Worst, rating_a: float) -> Remedy | None:
    """Return the next rating that bears the start and that every wire behind it allows."""
    wires = {w for f in case.feeds if f.fuse and f.fuse.owner == part.id for w in f.wires}
    held = [case.ampacity(case.circuit.wires[w]) for w in wires]
    known = [h.value_a for h in held if h is not None and h.value_a is not None]
    if len(known) < len(held) or not known:
        return None
    running_a = worst.peak_a - sum(s.more_a for s in worst.starts)
    for fit in fuse_ratings(case.circuit, part):
        bears = _share(case, part, fit, running_a, list(worst.starts)) < 1.0
        if rating_a < fit <= min(known) and bears:
            change = set_rating(case.circuit, part.id, "rating_a", fit)
            return Remedy(f"Fit {fit:g} A as {case.name(part.id)}", change)
    return None
