"""A relay that stays in, or pulls in, by what leaks through a lamp or another load.

What it finds
    Coils that get volts through a lamp, a light-emitting diode, another coil or electronics while
    no conductor feeds them: enough to pull in or to hold a typical relay is a fault, enough to
    hold one that lets go only where its maker guarantees it advice.

Why it matters
    A relay pulls in at 60 % of its voltage and may hold at 10 %. An indicator taken from the
    wrong side of the switch passes a few milliamperes into the coil: nothing happens when the
    relay is out, but once in it stays in, and the pump or the lamps do not go off.

Example
    A "fuel off" lamp of 2 W from the battery to the coil's 86: the lamp glows through the coil,
    the coil keeps 10 V, and the switch no longer stops the pump.

How to fix
    Take the indicator from 87, where it shows what the load gets, or give it a return of its own;
    or a diode that keeps its current from the coil.

Limits
    A fixed resistor alone is taken as meant. The figure is that of a filament as warm as its
    current makes it; in the first moment it is that of the cold or of the hot filament, told too.
    Coils of bistable relays and of relays with a clock are not looked at.

Reference
    Must let go at 10 % of nominal at the latest, pulls in at 70 % (published data of cube
    relays); both grow with the copper's warmth as pull-in does. That a leak that cannot pull a
    relay in can hold it: Lessons in Electric Circuits, Digital, relays.
"""

from __future__ import annotations

from collections.abc import Iterator

from checks.case import Case
from checks.finding import ADVICE, FAULT, Datum, Finding
from checks.leaks import GUARANTEED, Leak, held_leaks, lets_go_v
from checks.wording import listed

NAME = "held-by-leak"
FAMILY = "logic"
TYPICAL = ("drop_out_share", 0.25)
_BASE = """
    G1 battery
    F1 fuse-blade rating_a=5
    S1 switch
    K1 relay-resistor {coil}
    H1 {lamp}
    X1 ground
    W1 G1.+ F1.1 1 0.15
    W2 F1.2 S1.1 1 0.3
    W3 S1.2 K1.86 1 1
    W4 K1.85 X1.g 1 0.3
    W5 X1.g G1.- 10 0.3
"""
_ACROSS = _BASE + "W6 F1.2 H1.+ 1 0.3\nW7 H1.- K1.86 1 0.3"
_BESIDE = _BASE + "W6 K1.86 H1.+ 1 0.3\nW7 H1.- X1.g 1 0.3"
_LED, _SMALL = "lamp-led current_a=0.02", "lamp current_a=0.1"
BAD = (
    (_ACROSS.format(coil="", lamp="lamp current_a=0.25"), ((FAULT, ("K1", "H1")),)),
    (_ACROSS.format(coil="", lamp=_SMALL), ((FAULT, ("K1", "H1")),)),
    (_ACROSS.format(coil="coil_ohm=90", lamp=_LED), ((ADVICE, ("K1", "H1")),)),
)
GOOD = (
    _BESIDE.format(coil="", lamp=_SMALL),
    _ACROSS.format(coil="", lamp="lamp-led current_a=0.005"),
    _ACROSS.format(coil="", lamp="resistor resistance_ohm=100").replace("H1.+", "H1.1")
    .replace("H1.-", "H1.2"),
)  # fmt: skip


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every coil that a leak holds or may hold."""
    for leak in held_leaks(case):
        yield _finding(case, leak)


def _finding(case: Case, leak: Leak) -> Finding:
    """Return the finding of one coil."""
    use, must = leak.use, lets_go_v(case, leak.use, *GUARANTEED)
    pulls = leak.volts >= case.pull_in_v(use)
    others = tuple(dict.fromkeys(e.owner for e in leak.through))
    values: dict[str, Datum] = {
        "part": use.name,
        "through": listed(case.name(p) for p in others),
        "volts": leak.volts,
        "amps": leak.volts / max(case.network.edges[use.edge].ohm, 1e-9),
        "pulls": case.pull_in_v(use),
        "lets": lets_go_v(case, use, *TYPICAL),
        "must": must,
        "find": "find" if len(others) > 1 else "finds",
        "its": "their" if len(others) > 1 else "its",
        "hot": leak.hot_v or 0.0,
        "cold": leak.cold_v or 0.0,
    }
    return Finding(
        rule=NAME,
        severity=FAULT if leak.stays or pulls else ADVICE,
        parts=(use.part.id, *others),
        says=_says(leak, case.pull_in_v(use)) + _cure(case, others),
        values=values,
        source="published data of cube relays; Lessons in Electric Circuits, Digital, relays",
        path=tuple(("parts", p) for p in (use.part.id, *others)),
        setting=case.survey.settings[leak.row],
    )


def _says(leak: Leak, pull_in_v: float) -> str:
    """Return the sentence."""
    what = "With its feed off {part} still gets {volts:voltage} ({amps:current}) through {through}"
    pulls = leak.volts >= pull_in_v
    if pulls:
        what += ": it pulls in at {pulls:voltage}, and nothing switches it off."
    elif leak.stays:
        what += (
            ": too little to pull in ({pulls:voltage}), but once in it stays in, since it lets go "
            "only below {lets:voltage}."
        )
    else:
        what += (
            ": it lets go at about {lets:voltage}, but no maker promises more than {must:voltage}, "
            "and then it stays in."
        )
    if leak.hot_v is None or leak.cold_v is None:
        return what
    what += " With the filament hot it is {hot:voltage}, in the first moment, cold, {cold:voltage}"
    alone = leak.stays and not pulls and leak.cold_v >= pull_in_v
    return what + (": enough to pull in by itself, and then it stays." if alone else ".")


def _cure(case: Case, others: tuple[str, ...]) -> str:
    """Return what to do where loads have no way back but through a coil."""
    lone = any(u.part.id in others and not {u.a, u.b} & case.could_ground for u in case.loads)
    if not lone:
        return ""
    return " {through} {find} no other way back: give {through} a return of {its} own."
