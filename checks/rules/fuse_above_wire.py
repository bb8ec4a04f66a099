"""A fuse that lets a wire behind it carry more than the wire can stand.

What it finds
    For every fuse and breaker, the wires behind it up to the next fuse whose ampacity, in their
    zone and among the wires loaded together in their bundle, is below the rating. Up to 150 % is
    advice, above it danger. Wires that the chosen tables do not cover are named as unknown.

Why it matters
    A fuse is there for the wire. If the wire stands less than the fuse, the wire is the fuse: a
    short or a stuck motor heats it until its insulation burns.

Example
    A 40 A fuse feeds a relay through 4 mm², and a 0.75 mm² wire (14 A) branches off behind it to
    a lamp. A short in the lamp wire draws 35 A for as long as the fuse holds.

How to fix
    Fit the largest fuse that the thinnest wire behind it allows, or thicker wire, or a fuse of
    its own where the wire becomes thinner. Never a larger fuse because the old one kept blowing.

Limits
    Steady current only; how fast a fuse opens in a short is not looked at here. A bundle counts
    with as many loaded wires as any one state has. Cables of a starter motor are left out.

Reference
    Ampacity from the chosen table. 33 CFR 183.455 allows a device up to 150 % of the ampacity of
    its own table under 50 V.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from checks.bundles import source_of, where, where_values
from checks.case import Case
from checks.feeds import Feed
from checks.finding import ADVICE, DANGER, UNKNOWN, Datum, Finding, Remedy
from checks.stock import fuse_allowance, fuse_ratings
from checks.wording import listed
from model.circuit import Part, Wire
from model.edits import set_rating
from model.lookup import rating
from model.network import Edge
from model.tables.fuses import rule

NAME = "fuse-above-wire"
FAMILY = "rating"
SAME = 1e-9
_BASE = """
    G1 battery
    F1 fuse-blade rating_a={rating}
    S1 switch
    E1 heater current_a=4
    X1 ground
    W1 G1.+ F1.1 4 0.15
    W2 F1.2 S1.1 {size} 1
    W3 S1.2 E1.+ 1.5 1
    W4 E1.- X1.g 1.5 0.3
    W5 X1.g G1.- 10 0.3
"""
BAD = (
    (_BASE.format(rating=30, size="0.75"), ((DANGER, ("F1", "W2")), (ADVICE, ("F1", "W3")))),
    (_BASE.format(rating=20, size="0.75"), ((ADVICE, ("F1", "W2")),)),
    (_BASE.format(rating=20, size="0.35"), ((UNKNOWN, ("F1", "W2")),)),
)
GOOD = (_BASE.format(rating=7.5, size="1.5"), _BASE.format(rating=7.5, size="?"))


@dataclass(slots=True)
class _Stretch:
    """A fuse and the wires behind it, over all the stretches that start at it."""

    part: Part
    edge: Edge
    wires: dict[str, Wire] = field(default_factory=dict)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for each size of wire that a fuse is too large for."""
    for stretch in _stretches(case):
        rated = rating(case.circuit, stretch.part, "rating_a")
        if rated.number is not None and rated.number > 0:
            assumed = rated.origin == "default"
            yield from _judge(case, stretch, float(rated.number), assumed)


def _stretches(case: Case) -> list[_Stretch]:
    """Return the wires behind each fuse, once each."""
    found: dict[str, _Stretch] = {}
    for feed in case.feeds:
        if feed.fuse is not None:
            part = case.circuit.parts[feed.fuse.owner]
            stretch = found.setdefault(part.id, _Stretch(part, feed.fuse))
            stretch.wires.update(_wires(case, feed))
    return list(found.values())


def _wires(case: Case, feed: Feed) -> dict[str, Wire]:
    """Return the wires of a stretch, a starter's cables left out."""
    ids = (w for w in feed.wires if w not in case.starter_cables)
    return {w: case.circuit.wires[w] for w in ids}


def _judge(case: Case, stretch: _Stretch, rating_a: float, assumed: bool) -> Iterator[Finding]:
    """Yield what is wrong with the wires behind one fuse, grouped by what they may carry."""
    groups: dict[tuple[str, float, str, str], list[Wire]] = {}
    unknown: list[Wire] = []
    for wire in stretch.wires.values():
        held = case.ampacity(wire)
        if held is None:
            continue  # no size: size-or-length-missing says so once
        if held.value_a is None:
            unknown.append(wire)
        elif rating_a > held.value_a * (1 + SAME) and wire.size is not None:
            key = (wire.size.text(), held.value_a, held.table, held.bundle)
            groups.setdefault(key, []).append(wire)
    for (size, amps, *_), wires in groups.items():
        yield _too_large(case, stretch, rating_a, assumed, size, amps, wires)
    if unknown:
        yield _not_known(case, stretch, rating_a, unknown)


def _too_large(
    case: Case,
    stretch: _Stretch,
    rating_a: float,
    assumed: bool,
    size: str,
    amps: float,
    wires: list[Wire],
) -> Finding:
    """Return the finding of one size behind a fuse."""
    danger = rating_a > fuse_allowance() * amps * (1 + SAME)
    first = case.ampacity(wires[0])
    assert first is not None
    severity = UNKNOWN if assumed else DANGER if danger else ADVICE
    values: dict[str, Datum] = {
        "fuse": case.name(stretch.part.id),
        "rating": rating_a,
        "wire": listed(case.wire_name(w.id) for w in wires),
        "size": size,
        "ampacity": amps,
        "share": rating_a / max(amps, 1e-9),
        **where_values(first),
    }
    return Finding(
        rule=NAME,
        severity=severity,
        parts=(stretch.part.id,),
        wires=tuple(w.id for w in wires),
        says=_says(danger, assumed, where(first)),
        values=values,
        source=f"{source_of(first)}; 150 %: 33 CFR 183.455",
        path=(("parts", stretch.part.id), *(("wires", w.id) for w in wires)),
        remedy=None if assumed else _remedy(case, stretch, rating_a),
    )


def _says(danger: bool, assumed: bool, conditions: str) -> str:
    """Return the sentence."""
    what = (
        "{fuse} is rated {rating:current}, but {wire} behind it ({size}) may carry only "
        "{ampacity:current} " + conditions
    )
    if assumed:
        return "The rating of {fuse} is not stated. If it is the usual {rating:current}: " + what
    if danger:
        return what + ": the fuse is {share:share} of that and the wire can burn before it opens."
    return (
        what + ": {share:share}, within the 150 % that 33 CFR 183.455 allows, but a fuse no larger "
        "than the wire's own figure is better."
    )


def _not_known(case: Case, stretch: _Stretch, rating_a: float, wires: list[Wire]) -> Finding:
    """Return the finding of wires whose ampacity is not known."""
    sizes = (f"{case.wire_name(w.id)} ({w.size.text() if w.size else 'no size'})" for w in wires)
    return Finding(
        rule=NAME,
        severity=UNKNOWN,
        parts=(stretch.part.id,),
        wires=tuple(w.id for w in wires),
        says="Whether {fuse} ({rating:current}) protects {wire} cannot be told: the table {table} "
        "does not cover that size.",
        values={
            "fuse": case.name(stretch.part.id),
            "rating": rating_a,
            "wire": listed(sizes),
            "table": listed(_lacking(case, wires)),
        },
        source="data missing",
        path=(("parts", stretch.part.id), *(("wires", w.id) for w in wires)),
    )


def _lacking(case: Case, wires: list[Wire]) -> Iterator[str]:
    """Yield the tables that do not cover these wires."""
    for wire in wires:
        held = case.ampacity(wire)
        if held is not None:
            yield held.lacks


def _remedy(case: Case, stretch: _Stretch, rating_a: float) -> Remedy | None:
    """Return the largest fuse that every wire behind it allows and that carries the load."""
    held = [case.ampacity(w) for w in stretch.wires.values()]
    known = [h.value_a for h in held if h is not None and h.value_a is not None]
    if len(known) < len(held) or not known:
        return None
    running = float(case.peaks.amps[case.network.by_key[stretch.edge.key]])
    fits = [
        r
        for r in fuse_ratings(case.circuit, stretch.part)
        if r <= min(known) and running <= rule("continuous") * r and r < rating_a
    ]
    if not fits:
        return None
    name = case.name(stretch.part.id)
    change = set_rating(case.circuit, stretch.part.id, "rating_a", fits[-1])
    return Remedy(f"Fit {fits[-1]:g} A as {name}", change)
