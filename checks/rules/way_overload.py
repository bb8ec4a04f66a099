"""A way of a connector that carries more than it is made for.

What it finds
    Connectors with a way whose greatest running current is above its rating: stated (fault), or
    the usual 10 A where none is (unknown). The wire in the crimp may lower it: a thinner wire in
    a push-on terminal takes less.

Why it matters
    A contact in a plug has a few milliohms on a few square millimetres. Overloaded it warms, its
    spring goes soft, its resistance rises, and the housing melts around it while every fuse holds.

Example
    The feed of a trailer's lamps through one 10 A way of a seven-way plug: 14 A with all of them
    on. The plug browns at that way first.

How to fix
    Two ways side by side for the one current, a larger contact, or the load on a plug of its own.

Limits
    Running current, not the start. Ways side by side are taken to share as their resistances do.
    What a maker states for a housing full of loaded ways is lower; that is not looked at.

Reference
    Push-on terminals by the wire in the crimp after UL 310 (a terminal catalogue, manualshelf.com
    82004 p. 8; etco.com engineering guide).
"""

from __future__ import annotations

from collections.abc import Iterator

from checks.case import Case
from checks.finding import FAULT, UNKNOWN, Datum, Finding
from checks.wording import listed
from model.circuit import Part
from model.network import Edge
from model.tables.joints import terminal_current_a

NAME = "way-overload"
FAMILY = "rating"
FORM = "push-on-6.3"
SAME = 1e-9
_BASE = """
    G1 battery
    F1 fuse-blade rating_a=30
    S1 switch contact_a=40
    X1 connector {rating} ways=2
    E1 heater current_a=12
    X2 ground
    W1 G1.+ F1.1 4 0.15
    W2 F1.2 S1.1 4 0.5
    W3 S1.2 X1.1/a {size} 0.5
    W4 X1.1/b E1.+ {size} 1
    W5 E1.- X2.g 4 0.3
    W6 X2.g G1.- 16 0.3
"""
BAD = (
    (_BASE.format(rating="way_a=10", size=4), ((FAULT, ("X1", "E1")),)),
    (_BASE.format(rating="", size=4), ((UNKNOWN, ("X1", "E1")),)),
)
GOOD = (_BASE.format(rating="way_a=15", size=4),)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every connector with an overloaded way: its worst one."""
    worst: dict[str, tuple[float, int, Edge, float]] = {}
    for index, edge in case.network.of_role("way"):
        part = case.circuit.parts[edge.owner]
        rated = case.rating(part, "way_a").number
        if not rated or rated <= 0:
            continue
        amps = float(case.peaks.amps[index])
        share = amps / float(rated)
        if share > 1 + SAME and share > worst.get(edge.owner, (0.0,))[0]:
            worst[edge.owner] = (share, index, edge, float(rated))
    for share, index, edge, rated_a in worst.values():
        yield _finding(case, share, index, edge, rated_a)


def _finding(case: Case, share: float, index: int, edge: Edge, rated_a: float) -> Finding:
    """Return the finding of one connector."""
    part = case.circuit.parts[edge.owner]
    row = int(case.peaks.rows[index])
    loads = case.flows(row).loads_through(index)
    owners = tuple(
        dict.fromkeys(case.network.edges[i].owner for i in sorted(loads, key=lambda i: -loads[i]))
    )
    assumed = case.rating(part, "way_a").origin == "default"
    crimp = _crimp(case, part, edge)
    values: dict[str, Datum] = {
        "part": case.name(part.id),
        "way": edge.inner.a.partition("/")[0] if edge.inner else edge.element,
        "current": case.peaks.amps[index],
        "rating": rated_a,
        "share": share,
        "loads": listed(case.name(o) for o in owners),
        "crimp": crimp[1] if crimp else 0.0,
        "size": crimp[0] if crimp else "",
    }
    return Finding(
        rule=NAME,
        severity=UNKNOWN if assumed else FAULT,
        parts=(part.id, *owners),
        says=_says(assumed, bool(owners), crimp is not None),
        values=values,
        source="stated for the connector; push-on terminals UL 310 (a terminal catalogue)",
        path=(("parts", part.id), *(("parts", o) for o in owners)),
        setting=case.survey.settings[row],
    )


def _crimp(case: Case, part: Part, edge: Edge) -> tuple[str, float] | None:
    """Return size and amperes of the thinnest wire crimped into a way, None where unknown."""
    inner = edge.inner
    wires = [w for n in (inner.a, inner.b) for w in case.wires_at(part.id, n)] if inner else []
    sizes = [w.size for w in wires if w.size is not None]
    if not sizes:
        return None
    thin = min(sizes, key=lambda s: s.area_mm2)
    held = terminal_current_a(FORM, thin)
    return (thin.text(), held) if held is not None else None


def _says(assumed: bool, loads: bool, crimp: bool) -> str:
    """Return the sentence."""
    what = "Way {way} of {part} carries {current:current}" + (" for {loads}" if loads else "")
    if assumed:
        what += (
            "; its rating is not stated, and the usual {rating:current} would be loaded to "
            "{share:share}."
        )
        if crimp:
            what += " A push-on terminal on {size} takes {crimp:current} for long."
        return what
    return what + " and is made for {rating:current}: loaded to {share:share}."
