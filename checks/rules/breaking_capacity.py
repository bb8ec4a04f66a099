"""A fuse that cannot break the current that a dead short right behind it draws.

What it finds
    For every fuse, the current of a dead short at its far terminal, against the breaking capacity
    of its form: 1000 A for blade fuses, 2000 A for bolted strip fuses, 200 A for glass.

Why it matters
    Above its breaking capacity a fuse does not end the current: the arc goes on inside, the body
    bursts, the holder burns. A starter battery drives more than a thousand amperes through short
    thick cable.

Example
    A blade fuse in a holder on the battery's post, behind 0.1 m of 16 mm²: 1150 A into a short at
    its outlet, on a fuse made for 1000 A.

How to fix
    A bolted strip fuse at the battery and blade fuses behind it, or some length of the wire that
    the load needs between battery and fuse.

Limits
    One battery, resting; further batteries and an alternator add to the current. Breakers are
    left out: their makers state it.

Reference
    Breaking capacities: ISO 8820-3, -4, -5, -12 and -13 by their scopes; glass from memory. Inner
    resistance of the battery stated, or from its cranking rating.
"""

from __future__ import annotations

from collections.abc import Iterator

from checks.case import Case
from checks.finding import DANGER, UNKNOWN, Finding
from checks.prospective import Fault
from model.circuit import Part
from model.lookup import word
from model.tables.fuses import Style, fuse_styles, style

NAME = "breaking-capacity"
FAMILY = "protection"
_BASE = """
    G1 battery inner_ohm={inner}
    F1 {kind} rating_a=30
    S1 switch contact_a=40
    E1 heater current_a=10
    X1 ground
    X2 ground
    W1 G1.+ F1.1 {size} {length}
    W2 F1.2 S1.1 6 1
    W3 S1.2 E1.+ 6 1
    W4 E1.- X1.g 6 0.3
    W5 X2.g G1.- 35 0.3
"""
BAD = (
    (_BASE.format(inner=0.003, kind="fuse-blade", size=16, length=0.1), ((DANGER, ("F1", "G1")),)),
)
GOOD = (
    _BASE.format(inner=0.003, kind="fuse-strip", size=16, length=0.1),
    _BASE.format(inner=0.009, kind="fuse-blade", size=16, length=0.1),
)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every fuse that a dead short asks too much of."""
    seen: set[str] = set()
    for feed in case.feeds:
        if feed.fuse is None or feed.fuse.owner in seen:
            continue
        part = case.circuit.parts[feed.fuse.owner]
        form = word(case.circuit, part, "band")
        fault = case.faults.behind(feed) if form in fuse_styles() else None
        if fault is not None and fault.amps > style(form).breaking_a:
            seen.add(part.id)
            yield _finding(case, part, style(form), fault)


def _finding(case: Case, part: Part, form: Style, fault: Fault) -> Finding:
    """Return the finding of one fuse."""
    assumed = _assumed(case, fault)
    return Finding(
        rule=NAME,
        severity=UNKNOWN if assumed else DANGER,
        parts=(part.id, fault.battery),
        says="A dead short right behind {fuse} draws {current:current} from {battery}, and a "
        "{form} breaks no more than {breaks:current}: it may burst and go on burning."
        + (" The inner resistance of {battery} is assumed." if assumed else ""),
        values={
            "fuse": case.name(part.id),
            "battery": case.name(fault.battery),
            "form": form.title[0].lower() + form.title[1:],
            "current": fault.amps,
            "breaks": form.breaking_a,
            "inner": fault.inner_ohm,
            "out": fault.out_ohm,
            "back": fault.back_ohm,
        },
        source=form.source,
        path=(("parts", fault.battery), ("parts", part.id)),
    )


def _assumed(case: Case, fault: Fault) -> bool:
    """Tell whether neither the battery's resistance nor its cranking current is stated."""
    battery = case.circuit.parts[fault.battery]
    stated = case.rating(battery, "inner_ohm").number is not None
    return not stated and case.rating(battery, "cca_a").origin == "default"
