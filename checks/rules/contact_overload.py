"""A switch or relay contact that carries more than it is made for.

What it finds
    Contacts whose current, in the worst state, is above their rating for the kind of load that
    hangs on them. A contact that carries several kinds is full when the shares of its ratings
    add up to more than 100 %. Loads are found by following the current of that state.

Why it matters
    Lamps and motors draw many times their current in the first moment, and motors arc when they
    are switched off: a contact good for 30 A of heating is good for about 17 A of either. Beyond
    that it burns, or welds and stays on.

Example
    A 20 A fan straight through a 5 A dashboard switch.

How to fix
    Let the switch carry a relay's coil and the relay the load, or fit a contact rated for it.

Limits
    Steady current. A rating for motors or lamps that is not stated is taken as 55 % of the
    resistive one; one that is not stated at all is the program's assumption, and the finding says
    so. Electronics are counted as resistive although their first moment can weld a contact. A
    starter's current lasts seconds: three times the rating is allowed for it.

Reference
    55 %: a published micro relay, 30 A resistive, 17 A motor, 17 A lamp. The sum of shares and the
    three times for a start are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np

from checks.case import Case
from checks.finding import DANGER, FAULT, UNKNOWN, Datum, Finding
from checks.flows import draws
from checks.wording import listed
from model.circuit import Part
from model.kinds.body import Contact
from model.lookup import rating
from model.network import Edge
from model.tables.relays import load_class

NAME = "contact-overload"
FAMILY = "rating"
BURNS = 1.5
"""Times the resistive rating above which a contact is a danger; common practice, no source."""
START_TIMES = 3.0
"""Times its rating a contact stands for the seconds of a start; common practice, no source."""
MOST_STATES = 12
SAME = 1e-6
WORDS = {"motor": "motor", "lamp": "lamp", "starter": "starter", "resistive": "resistive"}
_HEAD = """
    G1 battery
    F1 fuse-strip rating_a=30
    X1 ground
    W1 G1.+ F1.1 4 0.15
    W2 F1.2 S1.1 4 0.3
    W4 M1.- X1.g 4 0.3
    W5 X1.g G1.- 10 0.3
"""
_BASE = (
    _HEAD
    + """
    S1 switch {rating}
    M1 {load}
    W3 S1.2 M1.+ 4 1
"""
)
_RELAY = (
    _HEAD
    + """
    S1 switch contact_a=5
    M1 fan current_a=20
    K1 relay-resistor contact_a=40
    W6 F1.2 K1.30 4 0.3
    W7 K1.87 M1.+ 4 0.3
    W8 S1.2 K1.86 4 1
    W9 K1.85 X1.g 4 0.3
"""
)
BAD = (
    (_BASE.format(rating="contact_a=5", load="fan current_a=20"), ((DANGER, ("S1", "M1")),)),
    (_BASE.format(rating="contact_a=20", load="fan current_a=12"), ((FAULT, ("S1", "M1")),)),
    (_BASE.format(rating="", load="heater current_a=12"), ((UNKNOWN, ("S1", "M1")),)),
)
GOOD = (_RELAY, _BASE.format(rating="contact_a=5", load="heater current_a=4"))


@dataclass(slots=True)
class _Worst:
    """The worst a contact carries: the sum of its shares, and what makes it up."""

    share: float = 0.0
    amps: float = 0.0
    row: int = 0
    loads: dict[int, float] = field(default_factory=dict)
    kinds: dict[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class _Ratings:
    """What a contact is made for, by kind of load; `assumed` where none is stated."""

    amps: dict[str, float]
    assumed: bool
    guessed_kinds: frozenset[str]

    @property
    def resistive(self) -> float:
        """The resistive rating."""
        return self.amps["resistive"]


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every part with a contact that carries too much: its worst contact."""
    most = np.maximum(case.peaks.amps, case.cranking_peaks.amps)
    found: dict[str, tuple[_Worst, _Ratings, Edge]] = {}
    for index, edge in case.network.of_role("contact"):
        part = case.circuit.parts[edge.owner]
        if most[index] <= 0.0 or not isinstance(edge.inner, Contact):
            continue
        rated = _ratings(case, part, edge.inner)
        if rated is None or most[index] <= min(rated.amps.values()):
            continue
        worst = _worst(case, index, rated)
        held = found.get(edge.owner)
        if worst.share > 1 + SAME and (held is None or worst.share > held[0].share):
            found[edge.owner] = (worst, rated, edge)
    for part_id, (worst, rated, edge) in found.items():
        yield _finding(case, part_id, edge, worst, rated)


def _ratings(case: Case, part: Part, contact: Contact) -> _Ratings | None:
    """Return the ratings of a contact; a break contact's for motors and lamps go along."""
    base = rating(case.circuit, part, contact.rating)
    make = rating(case.circuit, part, "contact_a").number
    if not base.number or base.number <= 0:
        return None
    amps = {"resistive": float(base.number), "starter": START_TIMES * base.number}
    guessed = set()
    for kind in ("motor", "lamp"):
        stated = rating(case.circuit, part, f"{kind}_a").number
        if stated is not None and stated > 0:
            amps[kind] = float(stated) * (base.number / make if make else 1.0)
        else:
            amps[kind] = (load_class(kind).contact_share or 1.0) * base.number
            guessed.add(kind)
    return _Ratings(amps, base.origin == "default", frozenset(guessed))


def _worst(case: Case, index: int, rated: _Ratings) -> _Worst:
    """Return the worst state of a contact among those with its greatest currents."""
    column = np.abs(case.survey.amps[:, index])
    _, rows = np.unique(np.round(column, 3), return_index=True)
    rows = rows[::-1][:MOST_STATES]
    tried = [
        _shares(case, index, int(row), float(column[row]), rated)
        for row in rows
        if column[row] > min(rated.amps.values())
    ]
    return max(tried, key=lambda w: w.share, default=_Worst())


def _shares(case: Case, index: int, row: int, amps: float, rated: _Ratings) -> _Worst:
    """Return how much of its ratings a contact uses in one state."""
    loads = case.flows(row).loads_through(index)
    kinds: dict[str, float] = {}
    for load, current in loads.items():
        kind = draws(case.network.edges[load])
        kinds[kind] = kinds.get(kind, 0.0) + current
    rest = amps - sum(kinds.values())
    if rest > 0.01 * amps:
        kinds["resistive"] = kinds.get("resistive", 0.0) + rest
    share = sum(current / rated.amps[kind] for kind, current in kinds.items())
    return _Worst(share, amps, row, loads, kinds)


def _finding(case: Case, part_id: str, edge: Edge, worst: _Worst, rated: _Ratings) -> Finding:
    """Return the finding of one part."""
    edges = case.network.edges
    order = sorted(worst.loads, key=lambda i: -worst.loads[i])
    kept = [i for i in order if worst.loads[i] > 0.02 * worst.amps]
    owners = tuple(dict.fromkeys(edges[i].owner for i in kept))
    values: dict[str, Datum] = {
        "part": case.name(part_id),
        "contact": f"{edge.inner.a}–{edge.inner.b}" if edge.inner else edge.element,
        "current": worst.amps,
        "rating": rated.resistive,
        "share": worst.share,
        "loads": listed(case.name(o) for o in owners),
        "kinds": _kinds(worst, rated),
    }
    for kind, amps in worst.kinds.items():
        values[f"{kind} current"] = amps
        values[f"{kind} rating"] = rated.amps[kind]
    return Finding(
        rule=NAME,
        severity=_severity(worst, rated),
        parts=(part_id, *owners),
        says=_says(worst, rated, bool(owners)),
        values=values,
        source="ratings of the contact; 55 % for motors and lamps: a published micro relay "
        "(30 A resistive, 17 A motor, 17 A lamp)",
        path=(("parts", part_id), *(("parts", o) for o in owners)),
        setting=case.survey.settings[worst.row],
    )


def _severity(worst: _Worst, rated: _Ratings) -> str:
    """Return how bad it is; what rests on an assumed rating alone is never a danger."""
    starter = worst.kinds.get("starter", 0.0) / START_TIMES
    burns = worst.amps - worst.kinds.get("starter", 0.0) + starter > BURNS * rated.resistive
    if rated.assumed:
        return FAULT if burns else UNKNOWN
    return DANGER if burns else FAULT


def _kinds(worst: _Worst, rated: _Ratings) -> str:
    """Return what counts how, in words: "motors at 55 % of it"."""
    words = []
    for kind in worst.kinds:
        if kind in ("motor", "lamp"):
            share = rated.amps[kind] / rated.resistive
            words.append(f"{WORDS[kind]}s at {share:.0%} of that".replace("%", " %"))
        elif kind == "starter":
            words.append(f"a starter at {START_TIMES:g} times that")
    return listed(words)


def _says(worst: _Worst, rated: _Ratings, loads: bool) -> str:
    """Return the sentence."""
    what = "{part} ({contact}) carries {current:current}" + (" for {loads}" if loads else "")
    kinds = " ({kinds})" if set(worst.kinds) - {"resistive"} else ""
    if rated.assumed:
        what += "; its rating is not stated, and the {rating:current} assumed" + kinds
        return what + " would be loaded to {share:share}."
    return what + "; it is rated {rating:current}" + kinds + ": loaded to {share:share}."
