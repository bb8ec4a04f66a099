"""Load, fuse, wire and short of one load on one axis of current, as data for text and drawing."""

from __future__ import annotations

import math
from dataclasses import dataclass

from checks.case import Case
from checks.sizing.advice import WIRE, Sized
from checks.stock import warm_share
from model.circuit import Circuit
from model.lookup import label, number, word
from model.own_tables import own_bands
from model.tables.fuses import HOLDS_TO_PERCENT, opening_times
from model.units import show
from model.zones import part_warmth

SURE_SHARE = 1.35
"""Times its rating from which a fuse opens for certain: the second gate of ISO 8820 bands."""
WIDEST_A, NARROWEST_A = 1e6, 1e-3


@dataclass(frozen=True, slots=True)
class Mark:
    """One thing on the axis: from `low_a` to `high_a` (the same for a point), in amperes.

    `lane` is load, fuse, wire or short; `what` tells the marks of a lane apart: running, start,
    rating, band, holds, carries, short. `says` is the mark in words.
    """

    lane: str
    what: str
    low_a: float
    high_a: float
    says: str


@dataclass(frozen=True, slots=True)
class Axis:
    """The marks of one load, in the order of reading, and the decades that they span."""

    load: str
    marks: tuple[Mark, ...]

    @property
    def ends_a(self) -> tuple[float, float]:
        """The least and the greatest current of the axis: from a 1-2-5 step to another."""
        points = [a for m in self.marks for a in (m.low_a, m.high_a) if a > NARROWEST_A]
        return _step(min(points, default=1.0) / 1.5, up=False), \
            _step(max(points, default=10.0) * 1.15, up=True)  # fmt: skip

    def share(self, amps: float) -> float:
        """Return where a current lies, 0 at the left end and 1 at the right: decades alike."""
        low, high = self.ends_a
        at = math.log(max(amps, low) / low) / math.log(high / low)
        return min(max(at, 0.0), 1.0)

    @property
    def ticks(self) -> tuple[float, ...]:
        """The 1-2-5 steps between its ends."""
        low, high = self.ends_a
        first, last = math.floor(math.log10(low)), math.ceil(math.log10(high))
        steps = (m * 10.0**d for d in range(first, last + 1) for m in (1, 2, 5))
        return tuple(s for s in steps if low * 0.999 <= s <= high * 1.001)

    @property
    def text(self) -> str:
        """All marks as sentences, for who does not see the drawing."""
        return " ".join(m.says for m in self.marks)


def axis_of(case: Case, sized: Sized) -> Axis:
    """Return the axis of one load with what was advised in place.

    Parameters
    ----------
    case
        The circuit as it is advised, analysed.
    sized
        The load.
    """
    circuit = case.circuit
    name = label(circuit.parts[sized.load])
    marks = [_point("load", "running", sized.amps, f"{name} runs at {_a(sized.amps)}.")]
    if sized.start_s > 0.0:
        lasts = show(sized.start_s, "time")
        says = f"It starts at {_a(sized.start_a)} for {lasts}."
        marks.append(_point("load", "start", sized.start_a, says))
    if sized.fuse:
        marks += _fuse(circuit, sized)
        marks += _wire(case, sized)
        marks += _short(case, sized)
    return Axis(sized.load, tuple(marks))


def _fuse(circuit: Circuit, sized: Sized) -> list[Mark]:
    """Return rating, band, and what a fuse holds for the time of the start."""
    part = circuit.parts[sized.fuse]
    rated, name = number(circuit, part, "rating_a"), label(part)
    holds = HOLDS_TO_PERCENT / 100.0
    marks = [_point("fuse", "rating", rated, f"{name} is rated {_a(rated)}.")]
    says = (
        f"Up to {_a(holds * rated)} it need never open, from {_a(SURE_SHARE * rated)} it opens "
        "for certain; between the two it may."
    )
    marks.append(Mark("fuse", "band", holds * rated, SURE_SHARE * rated, says))
    stands = _stands(circuit, sized, rated)
    if stands is not None:
        lasts = show(sized.start_s, "time")
        marks.append(
            _point("fuse", "holds", stands, f"For {lasts} it is sure to stand {_a(stands)}.")
        )
    return marks


def _stands(circuit: Circuit, sized: Sized, rated: float) -> float | None:
    """Return the greatest current that a warm fuse stands for the time of the start."""
    part = circuit.parts[sized.fuse]
    band, own = word(circuit, part, "band"), own_bands(circuit)
    left = warm_share(part_warmth(circuit, part).celsius)
    if sized.start_s <= 0.0 or not band or opening_times(band, rated, rated, own=own) is None:
        return None
    low, high = left * rated, 50.0 * left * rated
    for _ in range(50):
        middle = math.sqrt(low * high)
        times = opening_times(band, rated, middle / left, own=own)
        if times is not None and times.earliest_s > sized.start_s:
            low = middle
        else:
            high = middle
    return low


def _wire(case: Case, sized: Sized) -> list[Mark]:
    """Return what the thinnest wire of the load's own run carries for ever."""
    runs = [c for c in sized.choices if c.kind == WIRE]
    held: list[tuple[float, str, str]] = []
    for wire_id in runs[-1].wires if runs else ():
        wire = case.circuit.wires[wire_id]
        found = case.ampacity(wire)
        if found is not None and found.value_a is not None and wire.size is not None:
            held.append((found.value_a, wire.size.text(), found.table))
    if not held:
        return []
    amps, size, table = min(held)
    says = f"Its wires ({size}) carry {_a(amps)} for ever (table {table})."
    return [Mark("wire", "carries", 0.0, amps, says)]


def _short(case: Case, sized: Sized) -> list[Mark]:
    """Return the least and the greatest current of a dead short behind the fuse."""
    amps = []
    for feed in case.feeds:
        if feed.fuse is not None and feed.fuse.owner == sized.fuse:
            far = (case.faults.at_far_end(feed, w) for w in feed.wires)
            amps += [f.amps for f in (case.faults.behind(feed), *far) if f is not None]
    if not amps:
        return []
    low, high = min(amps), max(amps)
    says = f"A dead short draws {_a(low)} at the far end and {_a(high)} right behind the fuse."
    return [Mark("short", "short", low, high, says)]


def _point(lane: str, what: str, amps: float, says: str) -> Mark:
    return Mark(lane, what, amps, amps, says)


def _a(amps: float) -> str:
    return show(amps, "current")


def _step(amps: float, *, up: bool) -> float:
    """Return the nearest 1-2-5 step above or below a current."""
    amps = min(max(amps, NARROWEST_A), WIDEST_A)
    steps = [m * 10.0**d for d in range(-4, 8) for m in (1.0, 2.0, 5.0)]
    return min(s for s in steps if s >= amps) if up else max(s for s in steps if s <= amps)
