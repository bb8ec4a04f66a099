"""A thinner wire that goes on from a thicker one without a fuse of its own.

What it finds
    Behind every fuse and breaker, the places where a wire that it does protect goes on as a
    thinner one that it does not: the rating is above what the thinner wire may carry in its zone
    and bundle, and no fuse follows there. Above 150 % it is danger, up to that advice; advice too
    where the thinner wire leads to nothing but fuses of its own within 7 in (0.18 m), or 40 in
    (1.02 m) in a sheath, and may carry what they let through.

Why it matters
    A main fuse is sized for the main wire. The thin wire that branches off behind it is protected
    by nothing: a short in it, or a seized motor at its end, draws more than it stands and less
    than the main fuse opens for.

Example
    A 60 A main fuse feeds a stud through 16 mm², and 0.75 mm² (14 A) goes on from the stud to
    the control fuse half a metre away. Until that fuse, the thin wire is the fuse.

How to fix
    A fuse right where the wire becomes thinner, no larger than the thin wire allows; or the thick
    wire as far as the next fuse; or a smaller fuse before both, where the load allows that.

Limits
    Steady current only; how fast a fuse opens in a short is told by short-outlasts-wire. A wire
    that is too thin from the fuse on has the wrong fuse, not a step (fuse-above-wire). What has
    no fuse before it at all is told by unfused-length. Cables of a starter are left out.

Reference
    33 CFR 183.455 and ABYC E-11 ask for protection where each conductor gets its current: at most
    7 in away, 40 in in a sheath or enclosure; 33 CFR allows a device up to 150 % of the ampacity.
    Road vehicles have no figure in law. Ampacity from the chosen table.
"""

from __future__ import annotations

from collections.abc import Iterator

from checks.bundles import source_of, where, where_values
from checks.case import Case
from checks.finding import ADVICE, DANGER, UNKNOWN, Datum, Finding, Remedy
from checks.steps import SAME, Stretch, Thin, fits_all, grouped
from checks.stock import fuse_allowance
from checks.wording import listed
from model.edits import set_rating

NAME = "thinner-without-fuse"
FAMILY = "protection"
_BASE = """
    G1 battery
    F1 fuse-blade rating_a={rating}
    P1 stud
    F2 fuse-blade rating_a=5
    E1 heater current_a=15
    E2 heater current_a=2
    X1 ground
    W1 G1.+ F1.1 6 0.15
    W2 F1.2 P1.s 6 1
    W3 P1.s E1.+ 6 1
    W4 P1.s F2.1 {size} {length}
    W5 F2.2 E2.+ {size} 1
    W6 E1.- X1.g 6 0.3
    W7 E2.- X1.g {size} 0.3
    W8 X1.g G1.- 10 0.3
"""
BAD = (
    (_BASE.format(rating=30, size="0.75", length=0.5), ((DANGER, ("F1", "W4")),)),
    (_BASE.format(rating=25, size="1.5", length=0.5), ((ADVICE, ("F1", "W4")),)),
    (_BASE.format(rating=30, size="0.75", length=0.15), ((ADVICE, ("F1", "W4")),)),
)
GOOD = (
    _BASE.format(rating=25, size="2", length=0.5),
    _BASE.format(rating=30, size="3", length=0.5),
)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for each thinner size that goes on behind a fuse."""
    for stretch in case.stretches:
        for group in grouped(t for t in stretch.thin if t.guard is not None):
            yield _stepped(case, stretch, group)


def _stepped(case: Case, stretch: Stretch, group: list[Thin]) -> Finding:
    """Return the finding of one thinner size."""
    first, held = group[0], group[0].held
    assert first.guard is not None
    share = stretch.rating_a / max(held.value_a or 0.0, 1e-9)
    near = first.tap is not None and first.tap.near
    danger = share > fuse_allowance() * (1 + SAME) and not near
    severity = UNKNOWN if stretch.assumed else DANGER if danger else ADVICE
    wires = tuple(t.wire.id for t in group)
    return Finding(
        rule=NAME,
        severity=severity,
        parts=(stretch.part.id,),
        wires=wires,
        says=_says(first, stretch.assumed, danger, where(held)),
        values=_values(case, stretch, group, share),
        source=f"{source_of(held)}; 33 CFR 183.455, ABYC E-11 (7/40 in, 150 %)",
        path=(("parts", stretch.part.id), ("wires", first.guard.id),
              *(("wires", w) for w in wires)),
        remedy=None if stretch.assumed else _remedy(case, stretch),
    )  # fmt: skip


def _values(case: Case, stretch: Stretch, group: list[Thin], share: float) -> dict[str, Datum]:
    """Return the numbers of a finding and the names in it."""
    first = group[0]
    assert first.guard is not None and first.guard.size is not None
    values: dict[str, Datum] = {
        "fuse": case.name(stretch.part.id),
        "rating": stretch.rating_a,
        "wire": listed(case.wire_name(t.wire.id) for t in group),
        "size": first.wire.size.text() if first.wire.size else "",
        "ampacity": first.held.value_a or 0.0,
        "share": share,
        "guard": listed(case.wire_name(t.guard.id) for t in group if t.guard),
        "guard_size": first.guard.size.text(),
        "at": listed(case.name(t.place) for t in group if t.place),
        **where_values(first.held),
    }
    if first.tap is not None:
        longest = max((t.tap for t in group if t.tap), key=lambda tap: tap.metres)
        values["own"] = listed(case.name(f) for t in group if t.tap for f in t.tap.fuses)
        values |= {"length": longest.metres, "practice": first.tap.limit_m}
    return values


def _says(first: Thin, assumed: bool, danger: bool, conditions: str) -> str:
    """Return the sentence."""
    start = "Behind {fuse} ({rating:current}) the wire becomes thinner"
    if assumed:
        start = (
            "The rating of {fuse} is not stated. If it is the usual {rating:current}: behind "
            "{fuse} ({rating:current}) the wire becomes thinner"
        )
    says = start + (" at {at}" if first.place else "")
    says += (
        ", from {guard} ({guard_size}) to {wire} ({size}), and no fuse is there. The thinner one "
        "may carry only {ampacity:current} "
    )
    says += conditions + ": {fuse} is {share:share} of that"
    if first.tap is not None and first.tap.near:
        inches = "40 in" if first.tap.sheathed else "7 in"
        says += "; {own} follows within {length:length}, and small-craft practice allows " + inches
        return says + " ({practice:length}), if nothing can chafe it."
    if danger and first.tap is not None:
        says += ", and it is {length:length} to {own}"
    if danger:
        return says + ". It can burn before anything opens."
    return (
        says + ", within the 150 % that 33 CFR 183.455 allows; a fuse of its own no larger than "
        "the thin wire's figure is better."
    )


def _remedy(case: Case, stretch: Stretch) -> Remedy | None:
    """Return the largest fuse before the step that every wire allows and the load too."""
    fits = fits_all(case, stretch)
    if fits is None:
        return None
    change = set_rating(case.circuit, stretch.part.id, "rating_a", fits)
    return Remedy(f"Fit {fits:g} A as {case.name(stretch.part.id)}", change)
