"""A switch or relay contact that carries more than it is made for.

What it finds
    Contacts of relays, switches, keys and buttons whose current, in the worst state, is above
    their rating for the kind of load that hangs on them, make and break contact each by its own;
    and those that would have to make more than they are made for when their loads start. A
    contact that carries several kinds is full when the shares of its ratings add up to more than
    100 %. Loads are found by following the current of that state; those that a later relay
    switches on do not count for the start.

Why it matters
    Lamps and motors draw many times their current in the first moment, and motors arc when they
    are switched off: a contact good for 30 A of heating is good for about 17 A of either. Beyond
    that it burns, or welds and stays on.

Example
    A 20 A fan straight through a 5 A dashboard switch; the same fan on the break contact 87a.

How to fix
    Let the switch carry a relay's coil and the relay the load, fit a contact rated for it, or
    divide the loads between two relays, each behind its own fuse.

Limits
    What is not stated is taken from published relays and told: motors and lamps 55 % of the
    resistive rating, a break contact 75 % of the make contact, half of a 12 V rating at 24 V, and
    for a start 3.8 times the motor rating, ten times the lamp rating, 2.2 times the resistive one.
    A rating that is not stated at all is the program's assumption. Electronics count as
    resistive, and their start only where it is stated: bare capacitors may draw 20 to 40 times
    for some milliseconds, soft-starting ones nothing. A starter's current lasts seconds: three
    times the rating is allowed for it.
    Electronic outputs do not weld; they are judged by running current.

Reference
    Published micro relay: 30 A resistive, 17 A motor with 65 A of start, 17 A lamp
    (rallyrace.net); published cube relays: 40 A make, 30 A break, half of both at 27 V. The sum of
    shares and the three times for a start are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from checks.carried import Carried, Worst, by_greatest
from checks.case import Case
from checks.contacts import HALF, START_TIMES, Ratings, shares
from checks.finding import DANGER, FAULT, UNKNOWN, Datum, Finding
from checks.wording import listed
from model.kinds.body import Contact
from model.network import Edge
from model.tables.relays import relay_datum

NAME = "contact-overload"
FAMILY = "rating"
BURNS = 1.5
"""Times the resistive rating above which a contact is a danger; common practice, no source."""
SAME = 1e-6
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
_BREAK = (
    _HEAD
    + """
    S1 switch contact_a=5
    M1 {load}
    K1 relay-changeover contact_a=40 {more}
    W6 F1.2 K1.30 4 0.3
    W7 K1.{terminal} M1.+ 4 0.3
    W8 S1.2 K1.86 4 1
    W9 K1.85 X1.g 4 0.3
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
    (
        _BREAK.format(load="fan current_a=18", terminal="87a", more=""),
        ((FAULT, ("K1", "M1")),),
    ),
    (
        _BASE.format(rating="contact_a=25", load="pump current_a=10 start_multiple=7"),
        ((FAULT, ("S1", "M1")),),
    ),
)
GOOD = (
    _RELAY,
    _BASE.format(rating="contact_a=5", load="heater current_a=4"),
    _BREAK.format(load="fan current_a=18", terminal="87", more="suppression=resistor"),
    _BASE.format(rating="contact_a=40", load="pump current_a=8"),
)

Held = tuple[Edge, Ratings, Worst, Worst]


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every part with a contact that carries too much: its worst contact."""
    carried, found = Carried(case), dict[str, Held]()
    for edge, rated, running, starting in carried.full():
        held = found.get(edge.owner)
        most = max(running.share, starting.share)
        if most > 1 + SAME and (held is None or most > max(w.share for w in held[2:])):
            found[edge.owner] = (edge, rated, running, starting)
    for held in found.values():
        yield _finding(carried, *held)


def _finding(
    carried: Carried, edge: Edge, rated: Ratings, running: Worst, starting: Worst
) -> Finding:
    """Return the finding of one part."""
    case = carried.case
    runs, starts = running.share > 1 + SAME, starting.share > 1 + SAME
    worst = running if runs else starting
    kept = by_greatest(worst)
    owners = tuple(dict.fromkeys(case.network.edges[i].owner for i in kept))
    usual = carried.usual(starting) if starts else ()
    values: dict[str, Datum] = {
        "part": case.name(edge.owner),
        "contact": f"{edge.inner.a}–{edge.inner.b}" if edge.inner else edge.element,
        "current": worst.amps,
        "rating": rated.resistive,
        "base": rated.base_a,
        "share": running.share if runs else starting.share,
        "loads": listed(case.name(o) for o in owners),
        "kinds": _kinds(running, rated),
        "draw": "draw" if len(owners) > 1 else "draws",
        "usual": listed(case.name(o) for o in usual),
    }
    for kind, amps in running.kinds.items():
        values[f"{kind} current"] = amps
        values[f"{kind} rating"] = rated.amps[kind]
    if starts:
        values |= {
            "start": starting.peak_a,
            "makes": starting.peak_a / starting.share,
            "times": starting.peak_a / max(starting.amps, 1e-9),
            "start share": starting.share,
        }
    says = (_runs(running, rated, bool(owners)) if runs else "") + (
        _starts(rated, after=runs, usual=bool(usual)) if starts else ""
    )
    return Finding(
        rule=NAME,
        severity=_severity(running, rated) if runs else _start_severity(rated, bool(usual)),
        parts=(edge.owner, *owners),
        says=says + _taken(rated) + _then(edge, rated, worst, starts, len(owners) > 1),
        values=values,
        source=_source(),
        path=(("parts", edge.owner), *(("parts", o) for o in owners)),
        setting=case.survey.settings[worst.row],
    )


def _severity(worst: Worst, rated: Ratings) -> str:
    """Return how bad it is; what rests on an assumed rating alone is never a danger."""
    starter = worst.kinds.get("starter", 0.0)
    amps = worst.amps - starter + starter / START_TIMES
    burns = amps > BURNS * rated.resistive
    if rated.assumed:
        return FAULT if burns else UNKNOWN
    return DANGER if burns and not rated.broken and not rated.halved else FAULT


def _start_severity(rated: Ratings, usual: bool) -> str:
    """Return how bad a start is that a contact is not made for."""
    return UNKNOWN if rated.assumed or usual else FAULT


def _kinds(worst: Worst, rated: Ratings) -> str:
    """Return what counts how, in words: "motors at 55 % of it"."""
    words = []
    for kind in worst.kinds:
        if kind in ("motor", "lamp"):
            share = rated.amps[kind] / rated.resistive
            words.append(f"{kind}s at {share:.0%} of that".replace("%", " %"))
        elif kind == "starter":
            words.append(f"a starter at {START_TIMES:g} times that")
    return listed(words)


def _runs(worst: Worst, rated: Ratings, loads: bool) -> str:
    """Return the sentence about the running current."""
    what = "{part} ({contact}) carries {current:current}" + (" for {loads}" if loads else "")
    kinds = " ({kinds})" if set(worst.kinds) - {"resistive"} else ""
    if rated.assumed:
        what += "; its rating is not stated, and the {rating:current} assumed" + kinds
        return what + " would be loaded to {share:share}."
    return what + "; it is rated {rating:current}" + kinds + ": loaded to {share:share}."


def _starts(rated: Ratings, *, after: bool, usual: bool) -> str:
    """Return the sentence about the start."""
    if after:
        what = " As it closes, {start:current} flow"
    else:
        what = "As {part} ({contact}) closes, {loads} {draw} {start:current}"
    what += ", {times:count} times what runs"
    what += " (the usual start)" if after and usual else ""
    what += "; it is made to close on "
    what += "" if rated.made else "about "
    what += "{makes:current}."
    if rated.assumed and not after:
        what += " Its rating is not stated; {rating:current} is assumed."
    return what + (
        " The start of {usual} is not stated: the usual one is taken."
        if usual and not after
        else ""
    )


def _taken(rated: Ratings) -> str:
    """Return what a rating was taken from where it is not the contact's own."""
    words = []
    if rated.broken:
        words.append(f"{shares().broken:.0%} of the make contact's {{base:current}}")
    if rated.halved:
        words.append("half of what is stated for 12 V" if rated.broken
                     else "half of the {base:current} stated for 12 V")  # fmt: skip
    text = " and ".join(words).replace("%", " %")
    return f" The {{rating:current}} are {text}, as published relays have it." if words else ""


def _then(edge: Edge, rated: Ratings, worst: Worst, starts: bool, several: bool) -> str:
    """Return what comes of it."""
    if rated.electronic:
        return " It shuts off, or fails."
    welds = starts or bool({"motor", "lamp", "starter"} & worst.kinds.keys())
    if not welds or not worst.loads:
        return " It runs hot and burns."
    moved = isinstance(edge.inner, Contact) and bool(edge.inner.by)
    at_rest = "with {part} out" if moved else "with {part} off"
    when = "while {part} is in" if rated.breaks else at_rest
    stays = (
        " It may weld: {loads} then stay on " if several else " It may weld: {loads} then stays on "
    )
    return stays + when + "."


def _source() -> str:
    return f"ratings stated; else shares by {relay_datum('micro-motor-a').source} and by " + (
        f"{relay_datum('break-contact-a').source}; half at 24 V ({HALF:.0%})".replace("%", " %")
    )
