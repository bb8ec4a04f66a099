"""A fuse too small for the current that runs through it.

What it finds
    Fuses and breakers whose greatest running current over all states is above their rating
    (fault), or above 75 % of it (advice); in surroundings above 25 °C above 75 % of what the
    warmth leaves of it.

Why it matters
    Above its rating a fuse opens sooner or later. A little below, it runs hot, ages, and opens on
    a warm day for no reason anyone can find.

Example
    A fan of 12 A on a 15 A fuse: 80 %. It works on the bench and blows in August.

How to fix
    Take the next larger rating that the wires behind it allow; if they do not allow it, thicker
    wire as well.

Limits
    Running current, not the start; currents that flow only while a starter cranks are left out.

Reference
    Fuse makers' guidance of 75 % of the rating for continuous current at 25 °C
    (circuitprotection.ca, fuseology); others give 70 or 80 %. 0.5 % less per °C above 25 °C
    (interfacebus.com).
"""

from __future__ import annotations

from collections.abc import Iterator

from checks.case import OPENS_AT, Case
from checks.currents import peaks_of
from checks.finding import ADVICE, FAULT, UNKNOWN, Finding, Remedy
from checks.stock import fuse_ratings, warm_share
from checks.wording import listed
from model.edits import set_rating
from model.network import Edge
from model.tables.fuses import rule
from model.zones import part_warmth

NAME = "fuse-below-running"
FAMILY = "rating"
SAME = 1e-9
SOURCE = "fuse makers' guidance: 75 % of the rating, continuous, 25 °C"
_BASE = """
    G1 battery
    F1 fuse-blade rating_a={rating}
    S1 switch contact_a=40
    E1 heater current_a=12
    X1 ground
    W1 G1.+ F1.1 4 0.15
    W2 F1.2 S1.1 4 1
    W3 S1.2 E1.+ 4 1
    W4 E1.- X1.g 4 0.3
    W5 X1.g G1.- 10 0.3
"""
BAD = (
    (_BASE.format(rating=10), ((FAULT, ("F1", "E1")),)),
    (_BASE.format(rating=15), ((ADVICE, ("F1", "E1")),)),
)
GOOD = (_BASE.format(rating=20),)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every fuse that runs above its rating or near it."""
    peaks = peaks_of(case.survey, ~case.cranking)
    for index, edge in case.network.of_role("fuse"):
        part = case.circuit.parts[edge.owner]
        rated = case.rating(part, "rating_a")
        amps, row = float(peaks.amps[index]), int(peaks.rows[index])
        limit = rule("continuous") * warm_share(part_warmth(case.circuit, part).celsius)
        if not rated.number or amps <= limit * rated.number * (1 + SAME):
            continue
        if case.shorts[row] and amps > OPENS_AT * rated.number:
            continue  # supply-shorted, or reversed-diode, says so
        yield _finding(case, index, edge, float(rated.number), amps, row, rated.origin == "default")


def _finding(
    case: Case, index: int, edge: Edge, rating_a: float, amps: float, row: int, assumed: bool
) -> Finding:
    """Return the finding of one fuse."""
    warmth = part_warmth(case.circuit, case.circuit.parts[edge.owner])
    loads = case.flows(row).loads_through(index)
    parts = sorted(loads, key=lambda i: -loads[i])
    owners = tuple(dict.fromkeys(case.network.edges[i].owner for i in parts))
    over = amps > rating_a * (1 + SAME)
    return Finding(
        rule=NAME,
        severity=UNKNOWN if assumed else FAULT if over else ADVICE,
        parts=(edge.owner, *owners),
        says=_says(over, assumed, bool(owners), warmth.zone),
        values={
            "fuse": case.name(edge.owner),
            "rating": rating_a,
            "current": amps,
            "share": amps / rating_a,
            "loads": listed(case.name(o) for o in owners),
            "limit": rule("continuous") * warm_share(warmth.celsius),
            "zone": warmth.celsius,
            **({"zone_name": warmth.zone} if warmth.zone else {}),
        },
        source=SOURCE,
        path=(("parts", edge.owner), *(("parts", o) for o in owners)),
        setting=case.survey.settings[row],
        remedy=None if assumed else _remedy(case, edge, rating_a, amps),
    )


def _says(over: bool, assumed: bool, loads: bool, zone: str) -> str:
    """Return the sentence."""
    what = "{current:current}" + (" for {loads}" if loads else "") + " runs through {fuse}"
    if assumed:
        return (
            what + ", whose rating is not stated; {rating:current} is assumed, too little for it."
        )
    if over:
        return what + ", which is rated {rating:current}: it blows."
    return (
        what + " ({rating:current}): {share:share} of its rating, more than the {limit:share} "
        "a fuse should carry for long at {zone:temperature}"
        + (" in the zone {zone_name}." if zone else ".")
    )


def _remedy(case: Case, edge: Edge, rating_a: float, amps: float) -> Remedy | None:
    """Return the next rating that carries the load and that every wire behind it allows."""
    part = case.circuit.parts[edge.owner]
    wires = {w for f in case.feeds if f.fuse is edge for w in f.wires}
    held = [case.ampacity(case.circuit.wires[w]) for w in wires]
    known = [h.value_a for h in held if h is not None and h.value_a is not None]
    if len(known) < len(held) or not known:
        return None
    limit = rule("continuous") * warm_share(part_warmth(case.circuit, part).celsius)
    for fit in fuse_ratings(case.circuit, part):
        if fit > rating_a and amps <= limit * fit and fit <= min(known):
            change = set_rating(case.circuit, part.id, "rating_a", fit)
            return Remedy(f"Fit {fit:g} A as {case.name(part.id)}", change)
    return None
