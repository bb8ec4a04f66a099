"""Wires behind a fuse that is too large for them, told apart by what made them so.

Where already the wire at the fuse stands less than the fuse's rating, the fuse is too large. Where
a thinner wire goes on from a thicker one that the fuse does protect, it is the step that has no
fuse of its own.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import partial
from typing import TYPE_CHECKING

from checks.covers import BARE_M, SHEATHED_M, sheathed
from checks.feeds import Feed
from checks.stock import fuse_allowance, fuse_ratings
from model.circuit import Part, Wire
from model.lookup import number
from model.network import Edge
from model.tables.fuses import rule

if TYPE_CHECKING:
    from checks.bundles import Held
    from checks.case import Case

SAME = 1e-9


@dataclass(frozen=True, slots=True)
class Tap:
    """A thin run that leads to nothing but fuses: their ids, and the metres from the step on."""

    fuses: tuple[str, ...]
    metres: float
    sheathed: bool

    @property
    def limit_m(self) -> float:
        """The metres that small-craft practice allows from a step to the fuse."""
        return SHEATHED_M if self.sheathed else BARE_M

    @property
    def near(self) -> bool:
        """Tell whether the fuse is near enough."""
        return self.metres <= self.limit_m + SAME


@dataclass(frozen=True, slots=True)
class Thin:
    """A wire that may carry less than the fuse before it is rated.

    `guard` is the last thicker wire on the way from the fuse that the fuse does protect, None
    where there is none; `place` the part at which the wire goes on from it; `tap` is set where
    the wire leads to fuses of its own only.
    """

    wire: Wire
    held: Held
    guard: Wire | None = None
    place: str = ""
    tap: Tap | None = None


@dataclass(slots=True)
class Stretch:
    """A fuse and the wires behind it up to the next fuse, over all feeds that start at it."""

    part: Part
    edge: Edge
    rating_a: float
    assumed: bool
    wires: dict[str, Wire] = field(default_factory=dict)
    thin: list[Thin] = field(default_factory=list)
    unknown: list[Wire] = field(default_factory=list)


def stretches_of(case: Case) -> tuple[Stretch, ...]:
    """Return the stretches behind the fuses whose rating is known, or usual."""
    feeds: dict[str, list[Feed]] = {}
    for feed in case.feeds:
        if feed.fuse is not None:
            feeds.setdefault(feed.fuse.owner, []).append(feed)
    found = (_kept(case, fuse, tuple(some)) for fuse, some in feeds.items())
    return tuple(s for s in found if s is not None)


def _kept(case: Case, fuse: str, feeds: tuple[Feed, ...]) -> Stretch | None:
    """Return the stretch behind a fuse, that of the circuit before while nothing in it changed.

    In zones and bundles what a wire may carry depends on more than its own record.
    """
    make = partial(_stretch, case, fuse, feeds)
    if case.circuit.branches or case.circuit.zones:
        return make()
    parts = case.circuit.parts
    beyond = (parts[f.owner] for feed in feeds for f in feed.fuses)
    # Which way to a starter has the least resistance may follow from a wire elsewhere.
    cables = tuple(w for feed in feeds for w in feed.wires if w in case.starter_cables)
    records = (parts[fuse], *feeds, *beyond)
    return case.network.frame.kept("stretch", (fuse, cables), records, make)


def _stretch(case: Case, fuse: str, feeds: tuple[Feed, ...]) -> Stretch | None:
    """Return the stretch behind a fuse, None where its rating is not known."""
    part = case.circuit.parts[fuse]
    rated = case.rating(part, "rating_a")
    if rated.number is None or rated.number <= 0:
        return None
    edge = next(f.fuse for f in feeds if f.fuse is not None)
    found = Stretch(part, edge, float(rated.number), rated.origin == "default")
    for feed in feeds:
        _judge(case, found, feed)
    return found


def _judge(case: Case, stretch: Stretch, feed: Feed) -> None:
    """Add the wires of a feed, a starter's cables left out, and what is too thin of them."""
    new = [w for w in feed.wires if w not in case.starter_cables and w not in stretch.wires]
    stretch.wires |= {w: case.circuit.wires[w] for w in new}
    small: dict[str, Held] = {}
    for wire_id in new:
        held = case.ampacity(stretch.wires[wire_id])
        if held is None:
            continue  # no size: size-or-length-missing says so once
        if held.value_a is None:
            stretch.unknown.append(stretch.wires[wire_id])
        elif stretch.rating_a > held.value_a * (1 + SAME):
            small[wire_id] = held
    if small:
        way = _Way(case, feed, stretch.rating_a)
        found = [way.thin(w, held) for w, held in small.items()]
        # A size that is at the fuse itself too has the wrong fuse, wherever else it is.
        at_fuse = {t.wire.size for t in found if t.guard is None}
        stretch.thin += [Thin(t.wire, t.held) if t.wire.size in at_fuse else t for t in found]


class _Way:
    """The way from a fuse to every wire behind it, as the feed was walked."""

    def __init__(self, case: Case, feed: Feed, rating_a: float) -> None:
        self._case, self._feed = case, feed
        self._least_a = rating_a / fuse_allowance()
        self._guard: dict[int, Wire | None] = {feed.start: None}
        self._near: dict[str, int] = {}
        self._after: dict[int, list[tuple[Edge, int]]] = {}
        for edge, _ in feed.edges:
            self._pass(edge)

    def _pass(self, edge: Edge) -> None:
        """Note from which end an edge was met and what protects what lies behind it."""
        near, far = (edge.a, edge.b) if edge.a in self._guard else (edge.b, edge.a)
        guard = self._guard.get(near)
        wire = self._case.circuit.wires[edge.owner] if edge.role == "wire" else None
        if wire is not None:
            self._near.setdefault(wire.id, near)
            held = self._case.ampacity(wire)
            if held is not None and (held.value_a or 0.0) >= self._least_a * (1 - SAME):
                guard = wire
        if far not in self._guard:
            self._guard[far] = guard
            self._after.setdefault(near, []).append((edge, far))

    def thin(self, wire_id: str, held: Held) -> Thin:
        """Return a wire that is too thin, with what the fuse does protect before it."""
        wire = self._case.circuit.wires[wire_id]
        near = self._near[wire_id]
        guard = self._guard.get(near)
        if guard is None or wire.size is None or guard.size is None or guard.size <= wire.size:
            return Thin(wire, held)
        return Thin(wire, held, guard, self._place(wire, near), self._tap(wire, near, guard, held))

    def _place(self, wire: Wire, near: int) -> str:
        """Return the part at the near end of a wire."""
        index = self._case.network.index
        ends = {e.part: index.get(self._case.node(e)) for e in self._case.ends(wire.id)}
        return next((p for p, node in ends.items() if node == near), "")

    def _tap(self, wire: Wire, near: int, guard: Wire, held: Held) -> Tap | None:
        """Return where a wire leads, None where to anything but fuses, or where that is untold."""
        here = [(e, n) for e, n in self._after.get(near, ()) if e.owner == wire.id]
        metres = self._since(wire, near, guard)
        ends = self._ends(here[0][1], metres) if here and metres is not None else None
        if ends is None:
            return None
        fuses, longest, wires = ends
        if not self._bears(fuses, held):
            return None
        kept = all(sheathed(self._case.circuit, w) for w in (wire, *wires))
        return Tap(tuple(fuses), longest, kept)

    def _ends(
        self, start: int, metres: float | None
    ) -> tuple[dict[str, None], float, list[Wire]] | None:
        """Return the fuses beyond a node, the metres to the farthest, and the wires there.

        None where anything but a fuse is met, a dead end, or a wire of unknown length.
        """
        fuses: dict[str, None] = {}
        wires: list[Wire] = []
        longest, todo = 0.0, [(start, metres)]
        while todo:
            node, so_far = todo.pop()
            ends = [f.owner for f in self._feed.fuses if node in (f.a, f.b)]
            after = self._after.get(node, [])
            if so_far is None or node in self._case.drawing or not (ends or after):
                return None
            longest = max(longest, so_far)
            fuses |= dict.fromkeys(ends)
            wires += [self._case.circuit.wires[e.owner] for e, _ in after if e.role == "wire"]
            todo += [(beyond, _plus(so_far, self._length(e))) for e, beyond in after]
        return fuses, longest, wires

    def _since(self, wire: Wire, near: int, guard: Wire) -> float | None:
        """Return the metres from the step to the far end of a wire, None where not known."""
        before = {far: (edge, at) for at, some in self._after.items() for edge, far in some}
        metres: float | None = wire.length_m
        while near in before:
            edge, near = before[near]
            if edge.owner == guard.id:
                break
            metres = _plus(metres, self._length(edge))
        return metres

    def _length(self, edge: Edge) -> float | None:
        return self._case.circuit.wires[edge.owner].length_m if edge.role == "wire" else 0.0

    def _bears(self, fuses: Iterable[str], held: Held) -> bool:
        """Tell whether a wire may carry all that the fuses it leads to let through."""
        circuit = self._case.circuit
        through = sum(number(circuit, circuit.parts[f], "rating_a") for f in fuses)
        return through <= fuse_allowance() * (held.value_a or 0.0) * (1 + SAME)


def _plus(one: float | None, other: float | None) -> float | None:
    return None if one is None or other is None else one + other


def grouped(thin: Iterable[Thin]) -> Iterator[list[Thin]]:
    """Yield wires of one size and limit together, those near a fuse of their own apart."""
    groups: dict[tuple[object, ...], list[Thin]] = {}
    for one in thin:
        near = one.tap is not None and one.tap.near
        key = (one.wire.size, one.held.value_a, one.held.table, one.held.bundle, near)
        groups.setdefault(key, []).append(one)
    yield from groups.values()


def fits_all(case: Case, stretch: Stretch) -> float | None:
    """Return the largest smaller fuse that every wire behind allows and that carries the load."""
    held = [case.ampacity(w) for w in stretch.wires.values()]
    known = [h.value_a for h in held if h is not None and h.value_a is not None]
    if len(known) < len(held) or not known:
        return None
    running = float(case.peaks.amps[case.network.by_key[stretch.edge.key]])
    fits = [
        r
        for r in fuse_ratings(case.circuit, stretch.part)
        if r <= min(known) and running <= rule("continuous") * r and r < stretch.rating_a
    ]
    return fits[-1] if fits else None
