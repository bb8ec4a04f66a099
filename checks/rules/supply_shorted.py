"""Both sides of the supply joined by nothing but wire and contacts.

What it finds
    States in which most of what a battery gives is lost in conductors, because some position of
    the switches and relays (or the wiring itself) joins its plus to its minus. With a fuse in the
    way that then blows it is a fault, without one a danger.

Why it matters
    A short draws hundreds of amperes. The fuse in its way blows at once, and whoever fits another
    one blows that too. Where no fuse is in the way, the thinnest wire of it burns.

Example
    A reversing switch whose middle position joins both its feeds: the motor stops, and the fuse
    is gone whenever the lever passes the middle.

How to fix
    Follow the way that is shown and take one joint out of it: another terminal of the switch, a
    contact that opens before the other closes, or the wire that was put on the wrong terminal.

Limits
    Shorts that last: what touches for a moment while a contact travels is not seen. A short that
    a diode the wrong way round makes is told by the rule for that.

Reference
    Ohm's law. That conductors take three quarters of the power is taken as a short: common
    practice, no source. A blade fuse opens within 5 s at twice its rating (ISO 8820-3, at second
    hand).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from checks.case import OPENS_AT, Case
from checks.finding import DANGER, FAULT, Finding
from checks.wording import listed
from model.network import Edge

NAME = "supply-shorted"
FAMILY = "protection"
MOST = 0.5
"""Share of the source's current that marks the way of the short."""
_BASE = """
    G1 battery
    S1 switch-changeover contact_a=20
    E1 heater current_a=4
    X1 ground
    {fuse}
    W2 F1.{out} S1.C 2.5 0.5
    W3 S1.A E1.+ 2.5 0.5
    W4 E1.- X1.g 2.5 0.3
    W5 X1.g G1.- 10 0.3
"""
_FUSED = "F1 fuse-blade rating_a=10\n    W1 G1.+ F1.1 2.5 0.15"
_BARE = "F1 splice\n    W1 G1.+ F1.s 2.5 0.15"
_WRONG = "W6 S1.B X1.g 2.5 0.5"
BAD = (
    (_BASE.format(fuse=_FUSED, out=2) + _WRONG, ((FAULT, ("S1", "F1")),)),
    (_BASE.format(fuse=_BARE, out="s") + _WRONG, ((DANGER, ("S1", "W1")),)),
)
GOOD = (_BASE.format(fuse=_FUSED, out=2), _BASE.format(fuse=_BARE, out="s"))


@dataclass(frozen=True, slots=True)
class _Short:
    """A short in one state: its current, the conductors of its way, the fuse in it or None."""

    row: int
    amps: float
    way: tuple[Edge, ...]
    fuse: Edge | None

    @property
    def movers(self) -> tuple[str, ...]:
        """The parts whose contacts the short runs through."""
        return tuple(dict.fromkeys(e.owner for e in self.way if e.role == "contact"))

    @property
    def key(self) -> tuple[str, tuple[str, ...]]:
        """What tells one short from another."""
        return (self.fuse.owner if self.fuse else "", tuple(sorted(self.movers)))


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every way in which the supply is shorted: its worst state."""
    worst: dict[tuple[str, tuple[str, ...]], _Short] = {}
    for row in np.flatnonzero(case.shorts):
        short = _short(case, int(row))
        if short is None or _by_diode(case, short):
            continue
        held = worst.get(short.key)
        if held is None or short.amps > held.amps:
            worst[short.key] = short
    for short in worst.values():
        yield _finding(case, short)


def _short(case: Case, row: int) -> _Short | None:
    """Return the short of a state, None where a fuse in its way bears the current."""
    amps = np.abs(case.survey.amps[row])
    sources = [i for i, _ in case.network.of_role("source")]
    most = max((float(amps[i]) for i in sources), default=0.0)
    carry = [
        (i, e) for i, e in case.network.of_role("wire", "contact", "way", "fuse")
        if amps[i] > MOST * most
    ]  # fmt: skip
    fuses = [e for _, e in carry if e.role == "fuse"]
    opening = [e for e in fuses if most > OPENS_AT * _rated(case, e)]
    if fuses and not opening:
        return None  # fuse-below-running says what it bears
    fuse = min(opening, key=lambda e: _rated(case, e), default=None)
    return _Short(row, most, tuple(e for _, e in carry if e.role != "fuse"), fuse)


def _rated(case: Case, edge: Edge) -> float:
    found = case.rating(case.circuit.parts[edge.owner], "rating_a").number
    return float(found or 0.0)


def _by_diode(case: Case, short: _Short) -> bool:
    """Tell whether a reversed diode carries most of a short: reversed-diode says so."""
    carried = [abs(float(case.survey.amps[short.row, i])) for i in case.shorting_diodes]
    return max(carried, default=0.0) > MOST * short.amps


def _finding(case: Case, short: _Short) -> Finding:
    """Return the finding of one short."""
    fuse, wires = short.fuse, [e for e in short.way if e.role == "wire"]
    thin = _thinnest(case, wires)
    parts = (*short.movers, *((fuse.owner,) if fuse else ()))
    return Finding(
        rule=NAME,
        severity=FAULT if fuse else DANGER,
        parts=parts,
        wires=() if fuse or thin is None else (thin.owner,),
        says=_says(bool(short.movers), fuse is not None, thin is not None),
        values={
            "movers": listed(case.name(p) for p in short.movers),
            "fuse": case.name(fuse.owner) if fuse else "",
            "rating": _rated(case, fuse) if fuse else 0.0,
            "current": short.amps,
            "wire": case.wire_name(thin.owner) if thin else "",
        },
        source="Ohm's law; power shares common practice, no source",
        path=tuple((e.table, e.owner) for e in short.way),
        setting=case.survey.settings[short.row],
    )


def _thinnest(case: Case, wires: list[Edge]) -> Edge | None:
    """Return the thinnest wire of a way, one of unknown size only where there is no other."""
    sized = [(case.circuit.wires[e.owner].size, e) for e in wires]
    known = [(s.area_mm2, e) for s, e in sized if s is not None]
    return min(known, key=lambda p: p[0])[1] if known else next(iter(wires), None)


def _says(movers: bool, fused: bool, wire: bool) -> str:
    """Return the sentence."""
    where = "Through {movers}" if movers else "By wire alone"
    what = (
        where + " the two sides of the supply are joined in this state by nothing but wire and "
        "contacts: {current:current} would flow"
    )
    if fused:
        return what + ", and {fuse} ({rating:current}) blows."
    return what + " and no fuse is in the way" + (": {wire} burns." if wire else ".")
