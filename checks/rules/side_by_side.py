"""Fuses, or contacts of relays, put side by side to carry more.

What it finds
    Fuses and breakers whose both ends are joined by wire and joints alone; relay contacts so
    joined that one switch moves together (one coil, or coils side by side).

Why it matters
    They never share evenly: a milliohm in one joint decides. The one that takes more opens first
    and throws everything on the other. Until then the wires behind are protected by both ratings
    together. Contacts never close or open at the same moment: each time one of them alone makes
    and breaks the whole current, which is what it is not rated for.

Example
    Two 20 A blade fuses in place of the 40 A one that was not at hand, onto wire that bears 33 A:
    a short has 40 A and more to itself before the second one opens.

How to fix
    One fuse of the rating that the wires allow; one relay made for the load, or the load parted
    in two with a fuse and a relay for each half.

Limits
    What contacts join in some positions only, such as two feeds that may be on together, is not
    looked at. Two switches side by side, worked apart from each other, are no mistake.

Reference
    33 CFR 183.455 allows a device up to 150 % of a wire's ampacity. That fuses and contacts are
    not put side by side is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checks.case import Case
from checks.finding import ADVICE, DANGER, FAULT, Datum, Finding
from checks.stock import fuse_allowance
from checks.wording import listed
from model.kinds.body import Contact
from model.linear import Ints, islands
from model.network import Edge

NAME = "side-by-side"
FAMILY = "protection"
METAL = frozenset(("wire", "way", "ground"))
_FUSES = """
    G1 battery
    F1 fuse-blade rating_a=20
    {second}
    S1 switch contact_a=60
    E1 heater current_a=25
    X1 ground
    W1 G1.+ F1.1 6 0.15
    W2 F1.2 S1.1 {size} 1
    W3 S1.2 E1.+ 6 1
    W4 E1.- X1.g 6 0.3
    W5 X1.g G1.- 16 0.3
"""
_F2 = "F2 fuse-blade rating_a=20\n    W6 F1.1 F2.1 6 0.1\n    W7 F2.2 F1.2 6 0.1"
_RELAYS = """
    G1 battery
    F1 fuse-strip rating_a=40
    S1 switch
    K1 relay-resistor contact_a={rated}
    {second}
    E1 heater current_a=25
    X1 ground
    W1 G1.+ F1.1 6 0.15
    W2 F1.2 K1.30 6 0.3
    W3 K1.87 E1.+ 6 1
    W4 E1.- X1.g 6 0.3
    W5 X1.g G1.- 16 0.3
    W6 F1.2 S1.1 6 0.3
    W7 S1.2 K1.86 6 0.3
    W8 K1.85 X1.g 6 0.3
"""
_CONTACTS = """
    K2 relay-resistor contact_a={rated}
    W9 K2.30 K1.30 6 0.1
    W10 K2.87 K1.87 6 0.1
    W11 K2.85 K1.85 6 0.1
"""
_TWO = _RELAYS.format(rated="{rated}", second=_CONTACTS)
BAD = (
    (_FUSES.format(second=_F2, size=1.5), ((DANGER, ("F1", "F2", "W2")),)),
    (_FUSES.format(second=_F2, size=6), ((ADVICE, ("F1", "F2", "W2")),)),
    (_TWO.format(rated=20) + "W12 K2.86 K1.86 6 0.1", ((FAULT, ("K1", "K2")),)),
    (_TWO.format(rated=40) + "W12 K2.86 K1.86 6 0.1", ((ADVICE, ("K1", "K2")),)),
)
GOOD = (
    _FUSES.format(second="", size=6).replace("current_a=25", "current_a=14"),
    _RELAYS.format(rated=40, second=""),
    _TWO.format(rated=40) + "S2 switch\nW12 F1.2 S2.1 6 0.3\nW13 S2.2 K2.86 6 0.1",
)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every group of fuses, and of contacts, side by side."""
    net = case.network
    joins = np.array([e.role in METAL for e in net.edges], np.bool_)
    metal = islands(net.count, net.a, net.b, joins)
    for group in _groups(case, metal, "fuse"):
        owners = tuple(dict.fromkeys(e.owner for _, e in group))
        if len(owners) > 1:
            yield _fuses(case, group, owners)
    told: set[frozenset[str]] = set()
    for group in _groups(case, metal, "contact"):
        for moved in _moved_together(case, metal, group):
            names = frozenset(e.owner for _, e in moved)
            if names not in told:
                told.add(names)
                yield _contacts(case, moved)


def _groups(case: Case, metal: Ints, role: str) -> list[list[tuple[int, Edge]]]:
    """Return the edges of a role that join the same two pieces of metal, where there are several.

    Contacts of one part whose positions never close together are kept apart by their positions.
    """
    found: dict[tuple[frozenset[int], frozenset[str]], list[tuple[int, Edge]]] = {}
    for index, edge in case.network.of_role(role):
        ends = frozenset((int(metal[edge.a]), int(metal[edge.b])))
        closed = frozenset(edge.inner.closed) if isinstance(edge.inner, Contact) else frozenset()
        if len(ends) == 2:
            found.setdefault((ends, closed), []).append((index, edge))
    return [group for group in found.values() if len(group) > 1]


def _moved_together(
    case: Case, metal: Ints, group: list[tuple[int, Edge]]
) -> list[list[tuple[int, Edge]]]:
    """Return the contacts of a group that coils side by side, or one coil, move."""
    coils: dict[str, frozenset[int]] = {}
    for use in case.coils:
        ends = frozenset((int(metal[use.a]), int(metal[use.b])))
        coils[use.part.id] = coils.get(use.part.id, frozenset()) | ends
    by_coil: dict[frozenset[int], list[tuple[int, Edge]]] = {}
    for index, edge in group:
        if edge.owner in coils:
            by_coil.setdefault(coils[edge.owner], []).append((index, edge))
    return [several for several in by_coil.values() if len(several) > 1]


def _shares(case: Case, group: list[tuple[int, Edge]]) -> tuple[int, list[float]]:
    """Return the state in which a group carries most, and the amperes of each in it."""
    amps = np.abs(case.survey.amps[:, [i for i, _ in group]])
    row = int(np.where(case.cleared, 0.0, amps.sum(axis=1)).argmax())
    return row, [float(a) for a in amps[row]]


def _fuses(case: Case, group: list[tuple[int, Edge]], owners: tuple[str, ...]) -> Finding:
    """Return the finding of fuses side by side."""
    row, amps = _shares(case, group)
    total = sum(case.number(case.circuit.parts[p], "rating_a") for p in owners)
    wire, bears = _weakest(case, group, owners)
    danger = bears is not None and total > fuse_allowance() * bears * (1 + 1e-9)
    values: dict[str, Datum] = {
        "fuses": listed(case.name(p) for p in owners),
        "total": total,
        "each": _each(case, group, amps),
        "wire": case.wire_name(wire) if wire else "",
        "ampacity": bears or 0.0,
        "table": case.circuit.settings.chosen.ampacity,
    } | {f"{case.name(e.owner)} current": a for (_, e), a in zip(group, amps, strict=True)}
    says = (
        "{fuses} stand side by side and protect no better than one of {total:current}; they "
        "never share evenly, here {each}, and when one opens the other takes it all."
    )
    if bears is not None:
        says += " {wire} behind them may carry {ampacity:current} (table {table})"
        says += ": it can burn before both open." if danger else "."
    return Finding(
        rule=NAME,
        severity=DANGER if danger else ADVICE,
        parts=owners,
        wires=(wire,) if wire else (),
        says=says + " Fit one fuse that the wires allow.",
        values=values,
        source="common practice, no source; 150 %: 33 CFR 183.455",
        path=tuple(("parts", p) for p in owners),
        setting=case.survey.states[row].setting,
    )


def _weakest(
    case: Case, group: list[tuple[int, Edge]], owners: tuple[str, ...]
) -> tuple[str, float | None]:
    """Return the wire behind fuses that bears least, the links between them left out."""
    fuses = {e.key for _, e in group}
    found: dict[str, float] = {}
    for feed in case.feeds:
        if feed.fuse is None or feed.fuse.key not in fuses:
            continue
        for wire_id in feed.wires:
            ends = {e.part for e in case.ends(wire_id)}
            held = case.ampacity(case.circuit.wires[wire_id])
            if not ends <= set(owners) and held is not None and held.value_a is not None:
                found[wire_id] = held.value_a
    if not found:
        return "", None
    least = min(found, key=lambda w: found[w])
    return least, found[least]


def _each(case: Case, group: list[tuple[int, Edge]], amps: list[float]) -> str:
    """Return the share of each in words: "F1 54 % and F2 46 %"."""
    total = sum(amps) or 1.0
    whose = [(case.name(e.owner), e, a / total) for (_, e), a in zip(group, amps, strict=True)]
    several = len({e.owner for _, e, _ in whose}) < len(whose)
    return listed(
        f"{name}{f' ({e.element})' if several else ''} {share:.0%}".replace("%", " %")
        for name, e, share in whose
    )


def _contacts(case: Case, group: list[tuple[int, Edge]]) -> Finding:
    """Return the finding of contacts side by side."""
    row, amps = _shares(case, group)
    owners = tuple(dict.fromkeys(e.owner for _, e in group))
    least = min(_rated(case, e) for _, e in group)
    over = sum(amps) > least * (1 + 1e-9)
    values: dict[str, Datum] = {
        "relays": listed(case.name(p) for p in owners),
        "whose": "are" if len(owners) > 1 else "has contacts",
        "current": sum(amps),
        "rating": least,
        "each": _each(case, group, amps),
    }
    says = "The contacts of {relays} are joined side by side and carry {current:current} together, "
    says += "{each}; they never close or open at the same moment, so that one of them alone makes "
    says += "and breaks it all. It is rated {rating:current}"
    return Finding(
        rule=NAME,
        severity=FAULT if over else ADVICE,
        parts=owners,
        says=says + (": use one made for the load." if over else "."),
        values=values,
        path=tuple(("parts", p) for p in owners),
        setting=case.survey.states[row].setting,
    )


def _rated(case: Case, edge: Edge) -> float:
    """Return what a contact is rated for, resistive."""
    key = edge.inner.rating if isinstance(edge.inner, Contact) else "contact_a"
    return float(case.rating(case.circuit.parts[edge.owner], key).number or 0.0)
