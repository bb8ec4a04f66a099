"""A breaker that closes again by itself with nothing else in line that ends a fault.

What it finds
    Circuit breakers that reset themselves (type I) with no fuse, and no breaker that stays open,
    in line with them that would also protect the wires behind. Where nothing can switch the
    breaker's feed off it is danger, behind a switch advice; for lamps alone advice too.

Why it matters
    Into a standing short such a breaker closes again every few seconds or minutes, for as long as
    the battery lasts: wire and contacts are heated each time, and nobody need be there. On a
    meter it looks like a loose connection, and a motor that stops may start again under a hand.

Example
    A window motor fed from the battery through a 25 A breaker of type I: a chafed door wire is
    heated all night.

How to fix
    A breaker that is reset by hand (type III) or a fuse in its place; or a fuse in line that every
    wire behind the breaker allows.

Limits
    Headlamps are often fed so on purpose, since light that comes and goes is better than none:
    lamps alone are advice. Types II and III are not told. How often it closes again is the
    maker's to say.

Reference
    Types of SAE J553 (at second hand). 33 CFR 183.455 asks for breakers that are reset by hand
    and cannot be held closed, and allows 150 % of a wire's ampacity.
"""

from __future__ import annotations

from collections.abc import Iterator

from checks.case import Case
from checks.feeds import Feed
from checks.finding import ADVICE, DANGER, Datum, Finding, Remedy
from checks.stock import fuse_allowance
from checks.wording import listed
from model.circuit import Part
from model.edits import set_rating
from model.lookup import word

NAME = "breaker-resets-alone"
FAMILY = "protection"
UNSWITCHED = frozenset(("wire", "way", "fuse"))
_BASE = """
    G1 battery
    F0 {first}
    F1 breaker rating_a=15 breaker_type={type}
    S1 switch contact_a=30
    M1 {load}
    X1 ground
    W0 G1.+ F0.1 4 0.1
    W1 F0.2 F1.1 4 0.1
    W2 F1.2 S1.1 2.5 1
    W3 S1.2 M1.+ 2.5 1
    W4 M1.- X1.g 2.5 0.3
    W5 X1.g G1.- 10 0.3
"""
_MAIN, _FINE = "fuse-strip rating_a=60", "fuse-blade rating_a=30"
_FAN = "fan current_a=6"
_SWITCHED = (
    _BASE.format(first=_MAIN, type="I", load=_FAN)
    .replace("F1.2 S1.1", "F1.2 M1.+")
    .replace("F0.2 F1.1", "F0.2 S1.1")
    .replace("S1.2 M1.+", "S1.2 F1.1")
)
_WIRES = ("W2", "W3")
BAD = (
    (_BASE.format(first=_MAIN, type="I", load=_FAN), ((DANGER, ("F1", *_WIRES)),)),
    (_BASE.format(first=_MAIN, type="I", load="lamp"), ((ADVICE, ("F1", *_WIRES)),)),
    (_SWITCHED, ((ADVICE, ("F1", "W2")),)),
)
GOOD = (
    _BASE.format(first=_MAIN, type="III", load=_FAN),
    _BASE.format(first=_MAIN, type="II", load=_FAN),
    _BASE.format(first=_FINE, type="I", load=_FAN),
)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every breaker that resets itself and stands alone."""
    breakers = [e for _, e in case.network.of_role("fuse") if _resets(case, e.owner)]
    for edge in breakers:
        stretches = [f for f in case.feeds if f.fuse is edge]
        wires = tuple(dict.fromkeys(w for f in stretches for w in f.wires))
        if wires and not _guarded(case, edge.owner, _bears_a(case, wires)):
            yield _finding(case, stretches[0], case.circuit.parts[edge.owner], wires)


def _resets(case: Case, part_id: str) -> bool:
    """Tell whether a part is a breaker that closes again by itself."""
    part = case.circuit.parts[part_id]
    return part.kind == "breaker" and word(case.circuit, part, "breaker_type") == "I"


def _bears_a(case: Case, wires: tuple[str, ...]) -> float:
    """Return the largest fuse that all these wires allow, 0 where one of them is not known."""
    held = [case.ampacity(case.circuit.wires[w]) for w in wires]
    amps = [h.value_a for h in held if h is not None and h.value_a is not None]
    return fuse_allowance() * min(amps) if len(amps) == len(wires) else 0.0


def _guarded(case: Case, part_id: str, bears_a: float) -> bool:
    """Tell whether what stands before a breaker on every way would end a fault behind it."""
    before = [f for f in case.feeds if any(e.owner == part_id for e in f.fuses)]
    return bool(before) and all(_guards(case, f, bears_a, {part_id}) for f in before)


def _guards(case: Case, feed: Feed, bears_a: float, been: set[str]) -> bool:
    """Tell whether the fuse of a stretch, or one before it, stays open at what wires allow."""
    if feed.fuse is None or feed.fuse.owner in been:
        return False
    part = case.circuit.parts[feed.fuse.owner]
    if not _resets(case, part.id) and 0.0 < case.number(part, "rating_a") <= bears_a:
        return True
    been = been | {part.id}
    before = [f for f in case.feeds if any(e.owner == part.id for e in f.fuses)]
    return bool(before) and all(_guards(case, f, bears_a, been) for f in before)


def _finding(case: Case, feed: Feed, part: Part, wires: tuple[str, ...]) -> Finding:
    """Return the finding of one breaker."""
    loads = [u for u in case.loads if {u.a, u.b} & feed.nodes]
    lamps = bool(loads) and all(u.draws == "lamp" for u in loads)
    off = not _always_live(case, feed)
    fault = case.faults.behind(feed)
    values: dict[str, Datum] = {
        "breaker": case.name(part.id),
        "rating": case.number(part, "rating_a"),
        "wires": listed(case.wire_name(w) for w in wires),
        "current": fault.amps if fault else 0.0,
    }
    change = set_rating(case.circuit, part.id, "breaker_type", "III")
    text = f"Take a breaker that is reset by hand as {case.name(part.id)}"
    return Finding(
        rule=NAME,
        severity=ADVICE if lamps or off else DANGER,
        parts=(part.id,),
        wires=wires,
        says=_says(lamps, off, fault is not None),
        values=values,
        source="SAE J553 (at second hand); 33 CFR 183.455",
        path=(("parts", part.id), *(("wires", w) for w in wires)),
        remedy=None if lamps else Remedy(text, change),
    )


def _always_live(case: Case, feed: Feed) -> bool:
    """Tell whether nothing can switch off what feeds a breaker."""
    assert feed.fuse is not None
    near = feed.fuse.b if feed.start == feed.fuse.a else feed.fuse.a
    return near in case.reach({e.a for e in case.sources}, UNSWITCHED)


def _says(lamps: bool, off: bool, known: bool) -> str:
    """Return the sentence."""
    what = (
        "{breaker} ({rating:current}) closes again by itself, and nothing else in line ends a "
        "fault in {wires}: "
    )
    what += "a short right behind it ({current:current}) " if known else "a short "
    what += "comes back again and again"
    if lamps:
        return what + "; light that comes and goes may be meant, a short that does is not."
    return what + (" until it is switched off." if off else ", and nothing can switch it off.")
