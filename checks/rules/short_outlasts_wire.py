"""A dead short that a fuse lets through for longer than the wire stands.

What it finds
    For every fuse, each wire behind it: a dead short at the wire's far end, the current it draws
    through battery, wire and return, the latest time at which the fuse then opens, and the time
    in which the wire reaches the temperature that ruins its insulation. Where the fuse may be
    later it is danger; where the wire lasts but the short may never blow the fuse, advice.

Why it matters
    A long thin wire holds a short back: 54 A through 6 m of 0.5 mm² is less than twice the rating
    of a 30 A fuse, which may take seconds over it. The wire has one second. A fuse blows fast
    only when the wire lets enough through.

Example
    A lamp wire of 0.5 mm² and 6 m branched off behind the 30 A fuse of the fan: its insulation
    burns before the fuse opens.

How to fix
    A smaller fuse, or a fuse of its own where the thin wire begins, or thicker wire.

Limits
    Wires at the circuit's temperature, batteries resting, shorts at far ends only; without heat
    lost up to 5 s, with it beyond. Breakers, and fuses whose published
    band ends below the current, are told as unknown where they are rated above the wire. Cables
    of a starter are left out.

Reference
    IEC 60949: t = (k·S/I)², k from the insulation's two temperatures. Latest opening times from
    the fuse's band (ISO 8820, at second hand); past its last gate what the fuse lets through
    (I²t) is taken to stay. A device rated no higher than the wire's ampacity is taken to protect
    it in a short too: IEC 60364-4-43 clause 435, from memory.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from checks.case import Case
from checks.feeds import Feed
from checks.finding import ADVICE, DANGER, UNKNOWN, Datum, Finding, Remedy
from checks.stock import fuse_ratings
from checks.wording import listed
from model.circuit import Part, Wire
from model.edits import set_rating
from model.lookup import word
from model.own_tables import own_bands, own_insulations
from model.tables.fuses import OpeningTimes, band_for, opening_times, rule
from model.tables.heating import (
    ADIABATIC_VALID_S,
    adiabatic_time_s,
    cooled_time_s,
    insulation_for,
    short_circuit_k,
)
from model.tables.store import SUPPLIED

NAME = "short-outlasts-wire"
FAMILY = "protection"
SOURCE = "IEC 60949; fuse band {band}"
_BASE = """
    G1 battery
    F1 fuse-blade rating_a={rating}
    E1 heater current_a=2
    X1 ground
    X2 ground
    W1 G1.+ F1.1 6 0.15
    W2 F1.2 E1.+ {size} {length}
    W3 E1.- X1.g 1 0.3
    W4 X2.g G1.- 16 0.3
"""
BAD = (
    (_BASE.format(rating=30, size="0.5", length=6), ((DANGER, ("F1", "W2")),)),
    (_BASE.format(rating=10, size="0.75", length=38), ((ADVICE, ("F1", "W2")),)),
    (
        _BASE.format(rating=30, size="0.5", length=2).replace("fuse-blade", "fuse-glass"),
        ((UNKNOWN, ("F1", "W2")),),
    ),
)
GOOD = (
    _BASE.format(rating=15, size="0.5", length=6),
    _BASE.format(rating=30, size="1.5", length=3),
    _BASE.format(rating=10, size="0.5", length=6).replace("fuse-blade", "fuse-glass"),
)


@dataclass(frozen=True, slots=True)
class _Proof:
    """One wire in a dead short at its far end: what flows, when it is ruined, when it ends.

    `lasts_s` is infinite where the wire bears the current for ever; `own` is where the figures of
    its insulation are from where they are the user's.
    """

    wire: Wire
    amps: float
    lasts_s: float
    limit_c: float
    times: OpeningTimes | None
    own: str = ""

    @property
    def opens_s(self) -> float:
        """Latest opening of the fuse, infinite where it is not known or may never be."""
        return self.times.latest_s if self.times else math.inf


def find(case: Case) -> Iterator[Finding]:
    """Yield at most one finding of each severity for every fuse."""
    for feed in case.feeds:
        if feed.fuse is None:
            continue
        part = case.circuit.parts[feed.fuse.owner]
        rated = case.rating(part, "rating_a")
        if rated.number is not None and rated.number > 0:
            proofs = list(_proofs(case, feed, part, float(rated.number)))
            yield from _judge(case, feed, part, proofs, rated.origin == "default")


def _proofs(case: Case, feed: Feed, part: Part, rating_a: float) -> Iterator[_Proof]:
    """Yield the proof of every wire in a stretch whose size is known."""
    for wire_id in feed.wires:
        wire = case.circuit.wires[wire_id]
        fault = None if wire_id in case.starter_cables else case.faults.at_far_end(feed, wire_id)
        if fault is not None and wire.size is not None:
            yield _proof(case, wire, part, rating_a, fault.amps)


def _proof(case: Case, wire: Wire, part: Part, rating_a: float, amps: float) -> _Proof:
    """Return how a wire and a fuse stand a current."""
    assert wire.size is not None
    held = case.ampacity(wire)
    t_max_c = held.t_max_c if held else 90.0
    insulation = insulation_for(wire.insulation, t_max_c, own_insulations(case.circuit))
    lasts_s = adiabatic_time_s(short_circuit_k(insulation), wire.size.area_mm2, amps)
    settles_c = held.copper_c(amps) if held is not None else None
    if lasts_s > ADIABATIC_VALID_S and settles_c is not None:
        lasts_s = cooled_time_s(insulation, lasts_s, settles_c)
    own = insulation.source if insulation.standing == SUPPLIED else ""
    times = _times(case, part, rating_a, amps)
    return _Proof(wire, amps, lasts_s, insulation.limit_c, times, own)


def _times(case: Case, part: Part, rating_a: float, amps: float) -> OpeningTimes | None:
    """Return when a fuse opens, None where its published band does not reach so far."""
    band_id = word(case.circuit, part, "band")
    band = band_for(band_id, rating_a, own_bands(case.circuit)) if band_id else None
    latest = [gate.percent for gate in band.gates if gate.max_s is not None] if band else []
    if len(latest) < 3 and 100.0 * amps > max(latest, default=0.0) * rating_a:
        return None
    own = own_bands(case.circuit)
    return opening_times(band_id, rating_a, amps, by_energy=True, own=own)


def _judge(
    case: Case, feed: Feed, part: Part, proofs: list[_Proof], assumed: bool
) -> Iterator[Finding]:
    """Yield what is wrong behind one fuse."""
    untold = [p for p in proofs if p.times is None and _above(case, part, p.wire)]
    told = [p for p in proofs if p.times is not None]
    burns = [p for p in told if p.opens_s > p.lasts_s]
    # Where one wire burns first, what lies behind it has no short of its own to tell of.
    stays = [p for p in told if math.isinf(p.opens_s)] if not burns else []
    for severity, group in ((DANGER, burns), (ADVICE, stays), (UNKNOWN, untold)):
        if group:
            yield _finding(case, feed, part, severity, group, assumed)


def _above(case: Case, part: Part, wire: Wire) -> bool:
    """Tell whether a fuse is rated above what a wire may carry."""
    held = case.ampacity(wire)
    rated = case.rating(part, "rating_a").number or 0.0
    return held is not None and held.value_a is not None and rated > held.value_a * (1 + 1e-9)


def _finding(
    case: Case, feed: Feed, part: Part, severity: str, group: list[_Proof], assumed: bool
) -> Finding:
    """Return the finding of some wires behind a fuse, with the numbers of the worst."""
    worst = min(group, key=lambda p: (p.lasts_s, p.amps))
    rated = float(case.rating(part, "rating_a").number or 0.0)
    ids = tuple(p.wire.id for p in sorted(group, key=lambda p: p is not worst))
    guessed = case.guessed(ids)
    values: dict[str, Datum] = {
        "fuse": case.name(part.id),
        "rating": rated,
        "wire": case.wire_name(worst.wire.id),
        "others": listed(case.wire_name(i) for i in ids[1:]),
        "size": worst.wire.size.text() if worst.wire.size else "",
        "current": worst.amps,
        "share": worst.amps / rated,
        "limit": worst.limit_c,
        "band": worst.times.band if worst.times else word(case.circuit, part, "band"),
    }
    times = {"lasts": worst.lasts_s, "opens": worst.opens_s}
    values |= {name: at for name, at in times.items() if math.isfinite(at)}
    return Finding(
        rule=NAME,
        severity=UNKNOWN if assumed or guessed else severity,
        parts=(part.id,),
        wires=ids,
        says=_says(severity, worst, assumed, len(ids) > 1) + guessed,
        values=values,
        source=SOURCE.format(band=values["band"] or "not known")
        + (f"; insulation {worst.wire.insulation}: {worst.own}" if worst.own else ""),
        path=(("parts", part.id), *(("wires", i) for i in ids)),
        remedy=_remedy(case, feed, part, rated) if severity == DANGER and not assumed else None,
    )


def _says(severity: str, worst: _Proof, assumed: bool, more: bool) -> str:
    """Return the sentence."""
    start = "The rating of {fuse} is not stated; if it is {rating:current}: a" if assumed else "A"
    also = " The same holds for {others}." if more else ""
    short = start + " dead short at the far end of {wire} ({size}) draws {current:current}"
    if severity == UNKNOWN:
        return short + ", and how fast {fuse} ({rating:current}) then opens is not published. It " \
            "is rated above what the wire may carry." + also  # fmt: skip
    if severity == ADVICE:
        return short + ", only {share:share} of {fuse} ({rating:current}): the fuse may never " \
            "open. The wire itself stands that." + also  # fmt: skip
    takes = "may never open" if math.isinf(worst.opens_s) else "may take {opens:time} to open"
    return (
        short + ". {fuse} ({rating:current}) " + takes + ", but the wire reaches "
        "{limit:temperature} after {lasts:time}: it burns first." + also
    )


def _remedy(case: Case, feed: Feed, part: Part, rating_a: float) -> Remedy | None:
    """Return the largest smaller fuse that opens in time for every wire and carries the load."""
    assert feed.fuse is not None
    if sum(f.fuse is feed.fuse for f in case.feeds) > 1:
        return None
    running = float(case.peaks.amps[case.network.by_key[feed.fuse.key]])
    for fit in reversed(fuse_ratings(case.circuit, part)):
        if fit >= rating_a or running > rule("continuous") * fit:
            continue
        proofs = list(_proofs(case, feed, part, fit))
        if all(p.opens_s <= p.lasts_s and math.isfinite(p.opens_s) for p in proofs):
            change = set_rating(case.circuit, part.id, "rating_a", fit)
            return Remedy(f"Fit {fit:g} A as {case.name(part.id)}", change)
    return None
