"""A way of a connector that carries more than it is made for.

What it finds
    Connectors with a way whose greatest running current is above its rating: stated, or by the
    form of its contacts and the wire in their crimp (fault), or the usual 10 A where nothing is
    known (unknown). A thinner wire in a push-on terminal takes less.

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
    82004 p. 8; etco.com engineering guide); sealed and circular contacts: public design notes.
    9.5 mm blades are from memory.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from checks.case import Case
from checks.finding import FAULT, UNKNOWN, Datum, Finding
from checks.wording import listed
from model.circuit import Part
from model.lookup import word
from model.network import Edge
from model.tables.joints import TerminalTable, form_current, terminal_current_a
from model.tables.store import Table
from model.wiresize import Size

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
    (_BASE.format(rating="way_form=push-on-6.3", size=1.5), ((FAULT, ("X1", "E1")),)),
)
GOOD = (
    _BASE.format(rating="way_a=15", size=4),
    _BASE.format(rating="way_form=push-on-6.3", size=4),
)


@dataclass(frozen=True, slots=True)
class _Way:
    """What a way is made for: its amperes, and the table they are from where nobody stated them.

    `usual` marks the usual figure, for want of anything better; `size` is the thinnest wire in
    its crimps, `crimp_a` what a push-on terminal on it takes.
    """

    rated_a: float
    table: Table | None
    usual: bool
    size: str
    crimp_a: float | None


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every connector with an overloaded way: its worst one."""
    worst: dict[str, tuple[float, int, Edge, _Way]] = {}
    for index, edge in case.network.of_role("way"):
        amps = float(case.peaks.amps[index])
        way = _way(case, case.circuit.parts[edge.owner], edge) if amps > 0.0 else None
        share = amps / way.rated_a if way else 0.0
        if way and share > 1 + SAME and share > worst.get(edge.owner, (0.0,))[0]:
            worst[edge.owner] = (share, index, edge, way)
    for share, index, edge, way in worst.values():
        yield _finding(case, share, index, edge, way)


def _way(case: Case, part: Part, edge: Edge) -> _Way | None:
    """Return what a way is made for: stated, by the form of its contacts, or as usual."""
    held, form = case.rating(part, "way_a"), word(case.circuit, part, "way_form")
    size = _thinnest(case, part, edge)
    crimp = terminal_current_a(FORM, size) if size else None
    text = size.text() if size else ""
    if held.origin == "default" and (found := form_current(form, size)):
        return _Way(found[1], found[0], False, text, crimp)
    if not held.number or held.number <= 0:
        return None
    return _Way(float(held.number), None, held.origin == "default", text, crimp)


def _finding(case: Case, share: float, index: int, edge: Edge, way: _Way) -> Finding:
    """Return the finding of one connector."""
    part = case.circuit.parts[edge.owner]
    row = int(case.peaks.rows[index])
    loads = case.flows(row).loads_through(index)
    owners = tuple(
        dict.fromkeys(case.network.edges[i].owner for i in sorted(loads, key=lambda i: -loads[i]))
    )
    values: dict[str, Datum] = {
        "part": case.name(part.id),
        "way": edge.inner.a.partition("/")[0] if edge.inner else edge.element,
        "current": case.peaks.amps[index],
        "rating": way.rated_a,
        "share": share,
        "loads": listed(case.name(o) for o in owners),
        "crimp": way.crimp_a or 0.0,
        "size": way.size,
        "form": way.table.title if way.table else "",
        "table": way.table.id if way.table else "",
        "standing": way.table.standing if way.table else "",
    }
    source = "stated for the connector; push-on terminals UL 310 (a terminal catalogue)"
    return Finding(
        rule=NAME,
        severity=UNKNOWN if way.usual else FAULT,
        parts=(part.id, *owners),
        says=_says(way, bool(owners)),
        values=values,
        source=way.table.source if way.table else source,
        path=(("parts", part.id), *(("parts", o) for o in owners)),
        setting=case.survey.settings[row],
    )


def _thinnest(case: Case, part: Part, edge: Edge) -> Size | None:
    """Return the thinnest wire crimped into a way, None where none is known."""
    inner = edge.inner
    wires = [w for n in (inner.a, inner.b) for w in case.wires_at(part.id, n)] if inner else []
    sizes = [w.size for w in wires if w.size is not None]
    return min(sizes, key=lambda s: s.area_mm2, default=None)


def _says(way: _Way, loads: bool) -> str:
    """Return the sentence."""
    what = "Way {way} of {part} carries {current:current}" + (" for {loads}" if loads else "")
    if way.usual:
        what += (
            "; its rating is not stated, and the usual {rating:current} would be loaded to "
            "{share:share}."
        )
        if way.crimp_a is not None:
            what += " A push-on terminal on {size} takes {crimp:current} for long."
        return what
    if way.table is not None:
        by = " on {size}" if isinstance(way.table, TerminalTable) and way.size else ""
        return what + "; {form}" + by + " takes {rating:current} for long: loaded to {share:share}."
    return what + " and is made for {rating:current}: loaded to {share:share}."
