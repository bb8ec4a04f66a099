"""A fuse that lets a wire behind it carry more than the wire can stand.

What it finds
    For every fuse and breaker, the wires behind it up to the next fuse whose ampacity, in their
    zone and among the wires loaded together in their bundle, is below the rating. Up to 150 % is
    advice, above it danger. Wires that the chosen tables do not cover are named as unknown. A
    thinner wire that goes on from one which the fuse protects is told by thinner-without-fuse.

Why it matters
    A fuse is there for the wire. If the wire stands less than the fuse, the wire is the fuse: a
    short or a stuck motor heats it until its insulation burns.

Example
    A 30 A fuse feeds a lamp through 0.75 mm² (14 A) because the 10 A fuse kept blowing. A short
    in the lamp wire draws 28 A for as long as the fuse holds.

How to fix
    Fit the largest fuse that the thinnest wire behind it allows, or thicker wire. Never a larger
    fuse because the old one kept blowing.

Limits
    Steady current only; how fast a fuse opens in a short is not looked at here. A bundle counts
    with as many loaded wires as any one state has. Cables of a starter motor are left out.

Reference
    Ampacity from the chosen table. 33 CFR 183.455 allows a device up to 150 % of the ampacity of
    its own table under 50 V.
"""

from __future__ import annotations

from collections.abc import Iterator

from checks.bundles import source_of, where, where_values
from checks.case import Case
from checks.finding import ADVICE, DANGER, UNKNOWN, Datum, Finding, Remedy
from checks.steps import SAME, Stretch, Thin, fits_all, grouped
from checks.stock import fuse_allowance
from checks.wording import listed
from model.circuit import Wire
from model.edits import set_rating

NAME = "fuse-above-wire"
FAMILY = "rating"
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


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for each size of wire that a fuse is too large for."""
    for stretch in case.stretches:
        for group in grouped(t for t in stretch.thin if t.guard is None):
            yield _too_large(case, stretch, group)
        if stretch.unknown:
            yield _not_known(case, stretch)


def _too_large(case: Case, stretch: Stretch, group: list[Thin]) -> Finding:
    """Return the finding of one size behind a fuse."""
    held, wires = group[0].held, [t.wire for t in group]
    amps, size = held.value_a or 0.0, wires[0].size
    danger = stretch.rating_a > fuse_allowance() * amps * (1 + SAME)
    severity = UNKNOWN if stretch.assumed else DANGER if danger else ADVICE
    values: dict[str, Datum] = {
        "fuse": case.name(stretch.part.id),
        "rating": stretch.rating_a,
        "wire": listed(case.wire_name(w.id) for w in wires),
        "size": size.text() if size else "",
        "ampacity": amps,
        "share": stretch.rating_a / max(amps, 1e-9),
        **where_values(held),
    }
    return Finding(
        rule=NAME,
        severity=severity,
        parts=(stretch.part.id,),
        wires=tuple(w.id for w in wires),
        says=_says(danger, stretch.assumed, where(held)),
        values=values,
        source=f"{source_of(held)}; 150 %: 33 CFR 183.455",
        path=(("parts", stretch.part.id), *(("wires", w.id) for w in wires)),
        remedy=None if stretch.assumed else _remedy(case, stretch),
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


def _not_known(case: Case, stretch: Stretch) -> Finding:
    """Return the finding of wires whose ampacity is not known."""
    wires = stretch.unknown
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
            "rating": stretch.rating_a,
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


def _remedy(case: Case, stretch: Stretch) -> Remedy | None:
    """Return the largest fuse that every wire behind it allows and that carries the load."""
    fits = fits_all(case, stretch)
    if fits is None:
        return None
    change = set_rating(case.circuit, stretch.part.id, "rating_a", fits)
    return Remedy(f"Fit {fits:g} A as {case.name(stretch.part.id)}", change)
