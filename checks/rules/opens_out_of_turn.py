"""A fuse that may open before the one behind it.

What it finds
    For every two fuses in series, the currents from 135 % of the one behind up to a dead short
    right behind it: where that one may still hold at its latest while the one before may already
    open at its earliest. Told once for every fuse, with all those behind it.

Why it matters
    A short in one branch should cost that branch alone. If the main fuse goes, everything it
    feeds goes with it: lights and engine too, and the search begins at the wrong fuse.

Example
    A 20 A blade fuse behind a 25 A one of the same form: at 60 A the first may take 0.9 s, the
    second may open after 0.1 s.

How to fix
    A larger or slower fuse before (its wires must allow it), or a smaller one behind. Between
    blade fuses of one form about three times the rating is needed by the published bands.

Limits
    Advice, since nothing burns and the edges are the worst of many makers' fuses: two of them
    will mostly open in the right order. Both are taken as equally warm, and the other loads of
    the fuse before are left out. Breakers, and fuses of which no earliest or latest edge is
    published (glass), are not judged.

Reference
    Operating-time bands of ISO 8820 and DIN 72581-3 (at second hand); past the last gate what a
    fuse lets through (I²t) is taken to stay. Comparing what the one lets through with what the
    other bears is IEC 60364-5-53 clause 536, from memory.
"""

from __future__ import annotations

from collections.abc import Iterator

from checks.case import Case
from checks.feeds import Feed
from checks.finding import ADVICE, UNKNOWN, Datum, Finding
from checks.stock import fuse_ratings
from checks.turns import BEYOND, Fuse, OutOfTurn, known, out_of_turn
from checks.wording import listed
from model.circuit import Part
from model.lookup import word
from model.own_tables import own_bands

NAME = "opens-out-of-turn"
FAMILY = "protection"
_BASE = """
    G1 battery
    F0 {main} rating_a={rated}
    X2 splice
    F1 fuse-blade rating_a=20
    F2 fuse-blade rating_a=5
    E1 heater current_a=10
    E2 heater current_a=2
    X1 ground
    W1 G1.+ F0.1 6 0.1
    W2 F0.2 X2.s 6 0.5
    W3 X2.s F1.1 6 0.1
    W4 X2.s F2.1 6 0.1
    W5 F1.2 E1.+ 2.5 1
    W6 F2.2 E2.+ 2.5 1
    W7 E1.- X1.g 2.5 0.3
    W8 E2.- X1.g 2.5 0.3
    W9 X1.g G1.- 16 0.3
"""
BAD = (
    (_BASE.format(main="fuse-blade", rated=25), ((ADVICE, ("F0", "F1")),)),
    (_BASE.format(main="fuse-blade", rated=10), ((ADVICE, ("F0", "F1", "F2")),)),
    (
        _BASE.format(main="fuse-blade", rated=25).replace("rating_a=20", ""),
        ((UNKNOWN, ("F0", "F1")),),
    ),
)
GOOD = (
    _BASE.format(main="fuse-strip", rated=60),
    _BASE.format(main="fuse-glass", rated=25),
    _BASE.format(main="breaker", rated=25),
)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every fuse that may open before one behind it."""
    groups: dict[str, dict[str, OutOfTurn]] = {}
    for feed, behind in _pairs(case):
        assert feed.fuse is not None
        assert behind.fuse is not None
        turn = _turn(case, feed.fuse.owner, behind)
        if turn is not None:
            groups.setdefault(feed.fuse.owner, {})[behind.fuse.owner] = turn
    for part_id, turns in groups.items():
        yield _finding(case, case.circuit.parts[part_id], turns)


def _pairs(case: Case) -> Iterator[tuple[Feed, Feed]]:
    """Yield every two stretches of which the second hangs on a fuse that ends the first."""
    by_fuse: dict[tuple[str, str], list[Feed]] = {}
    for feed in case.feeds:
        if feed.fuse is not None:
            by_fuse.setdefault(feed.fuse.key, []).append(feed)
    for feed in case.feeds:
        ends = feed.fuses if feed.fuse is not None else ()
        nodes = feed.nodes if ends else frozenset()
        for edge in ends:
            for behind in by_fuse.get(edge.key, ()):
                near = edge.b if behind.start == edge.a else edge.a
                if near in nodes:
                    yield feed, behind


def _fuse(case: Case, part_id: str) -> Fuse | None:
    """Return band and rating of a fuse, None where they are not known."""
    part = case.circuit.parts[part_id]
    rated = case.rating(part, "rating_a").number
    if not rated or rated <= 0:
        return None
    fuse = (word(case.circuit, part, "band"), float(rated))
    return fuse if known(fuse, own_bands(case.circuit)) else None


def _turn(case: Case, before_id: str, feed: Feed) -> OutOfTurn | None:
    """Return where a fuse may open before the one behind it, by any current that can flow."""
    assert feed.fuse is not None
    before, behind = _fuse(case, before_id), _fuse(case, feed.fuse.owner)
    own = own_bands(case.circuit)
    if before is None or behind is None or out_of_turn(before, behind, own=own) is None:
        return None
    fault = case.faults.behind(feed)
    return out_of_turn(before, behind, min(fault.amps, BEYOND), own) if fault else None


def _finding(case: Case, part: Part, turns: dict[str, OutOfTurn]) -> Finding:
    """Return the finding of one fuse with those behind it, the worst of them first."""
    order = sorted(turns, key=lambda p: -turns[p].latest_s / max(turns[p].earliest_s, 1e-9))
    worst = turns[order[0]]
    assumed = [p for p in (part.id, *order) if _assumed(case, p)]
    needs = _needs(case, part, order)
    values: dict[str, Datum] = {
        "before": case.name(part.id),
        "rating": float(case.rating(part, "rating_a").number or 0.0),
        "behind": case.name(order[0]),
        "smaller": float(case.rating(case.circuit.parts[order[0]], "rating_a").number or 0),
        "low": worst.low_a,
        "high": worst.high_a,
        "at": worst.worst_a,
        "slow": worst.latest_s,
        "fast": worst.earliest_s,
        "others": listed(case.name(p) for p in order[1:]),
        "needs": needs,
        "assumed": listed(case.name(p) for p in assumed),
    }
    return Finding(
        rule=NAME,
        severity=UNKNOWN if assumed else ADVICE,
        parts=(part.id, *order),
        says=_says(len(order) > 1, needs > 0, bool(assumed)),
        values=values,
        source="operating-time bands (ISO 8820, DIN 72581-3, at second hand)",
        path=tuple(("parts", p) for p in (part.id, *order)),
    )


def _assumed(case: Case, part_id: str) -> bool:
    """Tell whether the rating of a fuse is not stated."""
    return case.rating(case.circuit.parts[part_id], "rating_a").origin == "default"


def _needs(case: Case, part: Part, behind: list[str]) -> float:
    """Return the least rating of a fuse's own form that waits for all behind it, 0 for none."""
    band, own = word(case.circuit, part, "band"), own_bands(case.circuit)
    fuses = [f for f in (_fuse(case, p) for p in behind) if f is not None]
    for rated in fuse_ratings(case.circuit, part):
        fit = (band, rated)
        if not any(out_of_turn(fit, f, own=own) for f in fuses) and known(fit, own):
            return rated
    return 0.0


def _says(more: bool, needs: bool, assumed: bool) -> str:
    """Return the sentence."""
    what = (
        "{before} ({rating:current}) may open before {behind} ({smaller:current}) behind it, at "
        "{low:current} to {high:current}: at {at:current} {behind} may take {slow:time}, and "
        "{before} may open after {fast:time}; then all it feeds is dead."
    )
    if more:
        what += " The same holds for {others}."
    if needs:
        what += " One of {needs:current} would wait, where its wires allow it."
    return what + (" The rating of {assumed} is not stated." if assumed else "")
