"""Automatic places: supply side left, loads right, ground points below what they serve.

A layered drawing: arrows away from the supply (`flow`), columns (`layers`), order within them
(`order`), then heights by a small linear programme that keeps wires straight.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from model.circuit import Circuit, Place, Sheet
from model.layout.card import Card, card, joins
from model.layout.flow import Flow, flow
from model.layout.geometry import GRID, Rect, snap, snap_up, united
from model.layout.layers import columns, forward
from model.layout.least import Gap, Pull, settle
from model.layout.order import Columns, arrange_columns, spread
from model.lookup import fresh_id, kind_of

CHANNEL = 70
"""Least free width between columns."""
BETWEEN = 40
"""Least free height between cards of a column."""
GROUND_DROP = 90
"""How far below what it serves a ground point stands."""

Spots = dict[str, tuple[float, float]]


def arrange(circuit: Circuit, sheet_id: str, only: set[str] | None = None) -> list[Place]:
    """Return places for parts of a sheet; nothing else moves.

    Parameters
    ----------
    only
        The parts to place. None: all that have no place on this sheet, or one no person chose.

    Returns
    -------
    list of Place
        New or moved places, in the order of the circuit's parts; the same input gives the same.
    """
    sheet = circuit.sheets.get(sheet_id, Sheet(sheet_id))
    held = {p.part: p for p in sheet.places.values()}
    wanted = [p for p in _drawn(circuit) if _is_free(p, held.get(p), only)]
    fixed = [p for p in sheet.places.values() if p.part in circuit.parts and p.part not in wanted]
    ideal = _Drawing(circuit).spots()
    spots = _beside(circuit, wanted, fixed, ideal) if fixed else {p: ideal[p] for p in wanted}
    return _as_places(sheet, held, spots)


def _drawn(circuit: Circuit) -> list[str]:
    """Return the parts that have cards of their own: those that sit in no other."""
    return [p.id for p in circuit.parts.values() if p.host not in circuit.parts]


def _is_free(part: str, place: Place | None, only: set[str] | None) -> bool:
    if only is not None:
        return part in only
    return place is None or not place.pinned


def _as_places(sheet: Sheet, held: Mapping[str, Place], spots: Spots) -> list[Place]:
    """Return the places, with the ids they had or fresh ones."""
    taken: dict[str, object] = dict(sheet.places)
    made = []
    for part, (x, y) in spots.items():
        old = held.get(part)
        key = old.id if old else fresh_id(taken, "a")
        taken[key] = None
        made.append(Place(key, part, x, y, pinned=False))
    return made


@dataclass(slots=True)
class _Size:
    """How far a thing reaches above and below its middle."""

    above: float
    below: float


class _Drawing:
    """One layered drawing of the whole circuit."""

    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit
        counts = joins(circuit)
        self.flow: Flow = flow(circuit)
        self.cards: dict[str, Card] = {
            p: card(circuit, circuit.parts[p], None, counts)
            for p in (*self.flow.parts, *self.flow.grounds)
        }
        self.families = {p.id: kind_of(circuit, p).family for p in circuit.parts.values()}

    def spots(self) -> Spots:
        """Return the middle of every card."""
        arrows = forward(self.flow, self.families)
        arrows = [a for a in arrows if self._has_ports(a.tail, a.tail_node)]
        arrows = [a for a in arrows if self._has_ports(a.head, a.head_node)]
        column = columns(self.flow.parts, arrows, self.families)
        laid = spread(column, arrows, self.cards, self._weights())
        arrange_columns(laid)
        xs = self._across(laid)
        ys = self._down(laid)
        found = {p: (xs[column[p]], ys[p]) for p in self.flow.parts}
        return found | _Grounds(self.flow, self.cards, found).spots()

    def _has_ports(self, part: str, node: str) -> bool:
        return node in self.cards[part].ports

    def _weights(self) -> dict[str, float]:
        """Return how much each wire wants to be straight: thick ones more."""
        wires = self.circuit.wires.values()
        return {w.id: 2.0 if w.size is not None and w.size.area_mm2 >= 2 else 1.0 for w in wires}

    def _across(self, laid: Columns) -> list[float]:
        """Return the x of every column: widths, and channels as wide as their wires need."""
        xs: list[float] = []
        edge = 0.0
        for at, things in enumerate(laid.things):
            outers = [self.cards[t].outer for t in things if t in self.cards]
            left = max((-r.x for r in outers), default=0)
            right = max((r.right for r in outers), default=0)
            x = snap_up(edge + left)
            xs.append(x)
            edge = x + right + CHANNEL + 10 * max(0, len(laid.links[at]) - 2)
        return xs

    def _down(self, laid: Columns) -> dict[str, float]:
        """Return the y of every card: wires straight where that is possible."""
        index = {t: i for i, t in enumerate(t for c in laid.things for t in c)}
        gaps: list[Gap] = []
        for things in laid.things:
            for a, b in pairwise(things):
                gaps.append((index[a], index[b], self._apart(a, b) / GRID))
        pulls: list[Pull] = []
        for links in laid.links:
            for k in links:
                offset = (k.tail_at - k.head_at) / GRID
                pulls.append((index[k.tail], index[k.head], offset, k.weight))
        found = settle(len(index), gaps, pulls)
        return {t: GRID * found[i] for t, i in index.items()}

    def _apart(self, a: str, b: str) -> float:
        """Return the least distance of two things, one below the other."""
        upper, lower = self._size(a), self._size(b)
        both = a in self.cards and b in self.cards
        return snap_up(upper.below + lower.above + (BETWEEN if both else 2 * GRID))

    def _size(self, thing: str) -> _Size:
        made = self.cards.get(thing)
        return _Size(-made.outer.y, made.outer.bottom) if made else _Size(0, 0)


class _Grounds:
    """Places ground points under what they serve, clear of every card."""

    def __init__(self, flow: Flow, cards: Mapping[str, Card], spots: Spots) -> None:
        self.flow = flow
        self.cards = cards
        self.spots_of = spots
        self.taken = [cards[p].outer.moved(*xy) for p, xy in spots.items()]
        self.base = max((r.bottom for r in self.taken), default=0)

    def spots(self) -> Spots:
        """Return the middle of every ground point."""
        found: Spots = {}
        for ground in sorted(self.flow.grounds, key=lambda g: (self._wish(g), g)):
            xy = self._free(ground, self._wish(ground))
            found[ground] = xy
            self.taken.append(self.cards[ground].outer.moved(*xy))
        return found

    def _wish(self, ground: str) -> tuple[float, float]:
        """Return where a ground point wants to be: below the middle of its wires' other ends."""
        ends = [
            self._at(part, node)
            for _, (part, node), (g, _) in self.flow.ground_wires
            if g == ground and part in self.spots_of
        ]
        if not ends:
            return (0, self._line(self.base))
        xs = sorted(x for x, _ in ends)
        middle = xs[len(xs) // 2] if len(xs) % 2 else (xs[len(xs) // 2 - 1] + xs[len(xs) // 2]) / 2
        return (snap(middle), self._line(max(y for _, y in ends)))

    def _at(self, part: str, node: str) -> tuple[float, float]:
        x, y = self.spots_of[part]
        port = self.cards[part].ports.get(node)
        return (x + port.x, y + port.y) if port else (x, y)

    def _line(self, y: float) -> float:
        """Return the height for what ends at `y`: the common line unless that is far below."""
        line = snap_up(self.base + GROUND_DROP)
        return line if line - y < 500 else snap_up(y + GROUND_DROP)

    def _free(self, ground: str, wish: tuple[float, float]) -> tuple[float, float]:
        """Return the free place nearest to the wish, sideways first."""
        return nearest_free(self.cards[ground].outer, wish, self.taken, level=True)


def nearest_free(
    outer: Rect, wish: tuple[float, float], taken: Iterable[Rect], *, level: bool = False
) -> tuple[float, float]:
    """Return the grid place nearest to a wish where `outer` meets nothing taken.

    `level` prefers to move sideways by far.
    """
    blocks = list(taken)
    room = outer.grown(2 * GRID)
    x0, y0 = snap(wish[0]), snap(wish[1])
    for reach in range(0, 4000, GRID):
        ring = [(dx, dy) for dx in _steps(reach) for dy in _steps(reach) if _on(reach, dx, dy)]
        if level:
            ring = [(reach, 0), (-reach, 0)]
        for dx, dy in sorted(set(ring), key=lambda d: (d[0] ** 2 + d[1] ** 2, d)):
            here = room.moved(x0 + dx, y0 + dy)
            if not any(here.overlaps(b) for b in blocks):
                return (x0 + dx, y0 + dy)
    return (x0, united(blocks).bottom + outer.h)


def _steps(reach: int) -> range:
    return range(-reach, reach + 1, 2 * GRID if reach else 1)


def _on(reach: int, dx: int, dy: int) -> bool:
    return max(abs(dx), abs(dy)) == reach


def _beside(circuit: Circuit, wanted: Sequence[str], fixed: Sequence[Place], ideal: Spots) -> Spots:
    """Return places for new parts among kept ones: as they stand to what they join."""
    counts = joins(circuit)
    at = {p.part: (p.x, p.y) for p in fixed}
    taken = [card(circuit, circuit.parts[p.part], p, counts).outer.moved(p.x, p.y) for p in fixed]
    found: Spots = {}
    for part in sorted(wanted, key=lambda p: ideal[p]):
        near = [q for q in _wired_to(circuit, part) if q in at] or list(at)
        dx = sorted(at[q][0] - ideal[q][0] for q in near)[len(near) // 2]
        dy = sorted(at[q][1] - ideal[q][1] for q in near)[len(near) // 2]
        outer = card(circuit, circuit.parts[part], None, counts).outer
        xy = nearest_free(outer, (ideal[part][0] + dx, ideal[part][1] + dy), taken)
        found[part] = at[part] = xy
        taken.append(outer.moved(*xy))
    return {p: found[p] for p in wanted}


def _wired_to(circuit: Circuit, part: str) -> list[str]:
    """Return the parts at the other ends of a part's wires."""
    found = []
    for wire in circuit.wires.values():
        ends = [e.part for e in (wire.first, wire.second) if e is not None]
        if part in ends:
            found += [p for p in ends if p != part]
    return found
