"""A load that gets too few volts because the way to it and back takes them.

What it finds
    For every load, in the states in which conductors join it to both sides of the supply, the
    volts at the supply's terminals less the volts at its own, as a sum of pieces: wires, contacts,
    fuses, ground points. More than 3 % of nominal at a critical load or 10 % at an ordinary one is
    advice; fewer volts than the load works from is a fault.

Why it matters
    A tenth of the volts lost is a third of a lamp's light. Motors run slow and hot, electronics
    reset, and the meter shows full volts as soon as the load is unplugged.

Example
    An 8 A pump on 7 m of 1.5 mm² there and back loses 0.71 V: 5.9 % of 12 V.

How to fix
    Begin with the largest piece: thicker or shorter wire, a relay near the load, a better ground.

Limits
    Running current. Where a wire on the way has no size or length yet the finding is unknown.
    Loads in series, or lit through another load, are not judged. While the
    starter cranks the supply is low for seconds: then the starter's own cables are judged, and
    of the others only loads that keep the engine running and state the voltage they work from.

Reference
    3 % and 10 %: ABYC E-11 and ISO 13297, small craft. The voltage a load works from is its
    rating, 9 V or 18 V unless stated (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

import numpy as np

from checks.case import Case, Use
from checks.drops import Drop, Piece, drop_of
from checks.finding import ADVICE, FAULT, UNKNOWN, Datum, Finding
from checks.lacking import Lacking, Load, lacking_of
from checks.stock import sizes_above
from checks.wording import listed
from model.circuit import Wire
from model.network import Edge
from model.resistances import wire_ohm

NAME = "voltage-drop"
FAMILY = "rating"
MOST_TRIES = 8
JUST = 5e-5
"""What a share may be above its limit and still read the same."""
NEXT = " {thick} in {next} instead of {size} would lose {saves:voltage} less."
SHOWN_V = 0.005
"""Smallest share of the sum that the sentence shows; the values have them all."""
WORDS = {
    "wire": "wires",
    "contact": "contacts",
    "fuse": "fuses",
    "ground": "grounds",
    "way": "connectors",
    "diode": "diodes",
}
SAID = {**WORDS, "ground": "ground points"}
_BASE = """
    G1 battery voltage_v=12.6 inner_ohm=0.01
    F1 fuse-blade rating_a=15
    S1 switch
    M1 pump current_a=8 working_v=9 duty={duty}
    X1 ground
    W1 G1.+ F1.1 2.5 0.15
    W2 F1.2 S1.1 1.5 {length}
    W3 S1.2 M1.+ 1.5 0.5
    W4 M1.- X1.g 2.5 0.3
    W5 X1.g G1.- 10 0.3
"""
BAD = (
    (_BASE.format(duty="critical", length=3), ((ADVICE, ("M1", "W2")),)),
    (_BASE.format(duty="not-critical", length=12), ((ADVICE, ("M1", "W2")),)),
    (_BASE.format(duty="not-critical", length=50), ((FAULT, ("M1", "W2")),)),
)
GOOD = (_BASE.format(duty="not-critical", length=3),)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every load that gets too little, its worst state."""
    found: dict[str, Finding] = {}
    look = lacking_of(case)
    for n in np.flatnonzero(look.rows.any(axis=1)).tolist():
        finding = _judge(case, look, n)
        part_id = look.loads[n].use.part.id
        held = found.get(part_id)
        if finding is not None and (held is None or _worse(finding, held)):
            found[part_id] = finding
    yield from _together(case, list(found.values()))


def _together(case: Case, findings: list[Finding]) -> Iterator[Finding]:
    """Yield one finding for all loads that lose the most in the same wire: the worst of them."""
    groups: dict[tuple[str, tuple[str, ...]], list[Finding]] = {}
    for finding in findings:
        key = (finding.severity, finding.wires or finding.parts)
        groups.setdefault(key, []).append(finding)
    for group in groups.values():
        worst = max(group, key=lambda f: float(f.values["share"]))
        others = [f for f in group if f is not worst]
        if others:
            names = listed(case.name(f.parts[0]) for f in others)
            worst = replace(
                worst,
                parts=worst.parts + tuple(f.parts[0] for f in others),
                says=worst.says + " {others} lose{s} too much on the same way.",
                values={**worst.values, "others": names, "s": "" if len(others) > 1 else "s"},
            )
        yield worst


def _worse(one: Finding, other: Finding) -> bool:
    """Tell whether a finding of a part's second filament is worse than that of its first."""
    return (one.severity == FAULT, one.values["drop"]) > (
        other.severity == FAULT,
        other.values["drop"],
    )


def _judge(case: Case, look: Lacking, n: int) -> Finding | None:
    """Return the finding of one load: too few volts to work, else too many lost."""
    load, rows, across = look.loads[n], look.rows[n], look.across[n]
    short = rows & (across < load.working_v)
    if not load.anyhow:
        short &= ~look.cranking
    if short.any():
        row = int(np.where(short, across, np.inf).argmin())
        drop = drop_of(case.flows(row), load.use)
        if drop is not None:
            return _finding(case, load, row, drop, load.working_v)
    if load.use.draws != "starter":
        rows = rows & ~look.cranking
    lost = np.where(rows, look.greatest - across, 0.0)
    least_v = (load.share + JUST) * case.nominal_v
    for row in np.argsort(-lost)[:MOST_TRIES].tolist():
        # What is lost on the way is never more than what the load is short of.
        drop = drop_of(case.flows(row), load.use) if lost[row] > least_v else None
        if drop and drop.volts > least_v:
            return _finding(case, load, row, drop, None)
    return None


def _finding(case: Case, load: Load, row: int, drop: Drop, working_v: float | None) -> Finding:
    """Return the finding of one load in one state."""
    use = load.use
    wire = max(
        (p for p in drop.pieces if p.edge.role == "wire"), key=lambda p: p.volts, default=None
    )
    thicker = _thicker(case, wire) if wire else {}
    lost_in = drop.by_role
    guessed = case.guessed(p.edge.owner for p in drop.pieces if p.edge.role == "wire")
    severity = UNKNOWN if guessed else ADVICE if working_v is None else FAULT
    return Finding(
        rule=NAME,
        severity=severity,
        parts=(use.part.id,),
        wires=(wire.edge.owner,) if wire else (),
        says=_says(drop, working_v) + (NEXT if thicker else "") + guessed,
        values={
            "load": use.name,
            "supply": case.name(drop.source),
            "supply_volts": drop.supply_v,
            "volts": drop.load_v,
            "drop": drop.volts,
            "share": drop.volts / case.nominal_v,
            "nominal": case.nominal_v,
            "limit": load.share,
            "working": working_v or 0.0,
            **{name: lost_in.get(role, 0.0) for role, name in WORDS.items()},
            **_largest(case, drop),
            **thicker,
            **_pieces(case, drop),
        },
        source=load.source if working_v is None else "the voltage the load works from (its rating)",
        path=_path(use, drop),
        setting=case.survey.settings[row],
    )


def _says(drop: Drop, working_v: float | None) -> str:
    """Return the sentence, with the sum by kinds of conductor and the largest piece."""
    lost_in = drop.by_role
    kinds = [
        f"{{{n}:voltage}} in {SAID[r]}" for r, n in WORDS.items() if lost_in.get(r, 0.0) >= SHOWN_V
    ]
    lost = "{drop:voltage} ({share:share} of {nominal:voltage}) is lost between it and {supply}"
    if kinds:
        lost += ": " + " + ".join(kinds) + ", most of it in {most} ({largest:voltage})"
    if working_v is not None:
        return "{load} gets {volts:voltage} and works from {working:voltage}; " + lost + "."
    return "{load} gets {volts:voltage}; " + lost + ". {limit:share} is the limit."


def _thicker(case: Case, piece: Piece) -> dict[str, Datum]:
    """Return what the next size up would save in a wire, by its resistances; {} if too little."""
    wire = case.circuit.wires[piece.edge.owner]
    larger, ohm = case.network.frame.kept(
        "next size", wire.id, (wire, piece.edge), partial(_next_size, case, wire)
    )
    if wire.size is None or not larger or piece.edge.ohm <= 0.0:
        return {}
    saved = piece.volts * (1.0 - ohm / piece.edge.ohm)
    if saved < SHOWN_V:
        return {}
    return {
        "thick": case.wire_name(wire.id),
        "size": wire.size.text(),
        "next": larger,
        "saves": saved,
    }


def _next_size(case: Case, wire: Wire) -> tuple[str, float]:
    """Return the next size above a wire's, "" for none, and the ohms it would have with it."""
    larger = sizes_above(wire.size) if wire.size is not None else ()
    if not larger:
        return "", 0.0
    return larger[0].text(), wire_ohm(case.circuit, replace(wire, size=larger[0]))


def _largest(case: Case, drop: Drop) -> dict[str, Datum]:
    """Return the name and volts of the largest piece."""
    largest = max(drop.pieces, key=lambda p: p.volts, default=None)
    return {"most": _name(case, largest.edge), "largest": largest.volts} if largest else {}


def _pieces(case: Case, drop: Drop) -> dict[str, Datum]:
    """Return the volts of every piece by its name; they add up to the drop."""
    found: dict[str, float] = {}
    for piece in drop.pieces:
        name = f"in {_name(case, piece.edge)}"
        found[name] = found.get(name, 0.0) + piece.volts
    return dict(found)


def _name(case: Case, edge: Edge) -> str:
    """Return what people call a conductor."""
    return case.wire_name(edge.owner) if edge.role == "wire" else case.name(edge.owner)


def _path(use: Use, drop: Drop) -> tuple[tuple[str, str], ...]:
    """Return the way from the supply's plus to its minus, the load in its place."""
    feed = [(p.edge.table, p.edge.owner) for p in drop.pieces if not p.back]
    back = [(p.edge.table, p.edge.owner) for p in drop.pieces if p.back]
    load = ("parts", use.part.id)
    return (("parts", drop.source), *feed, load, *back)
