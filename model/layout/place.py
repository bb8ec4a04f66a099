"""Automatic places: supply side left, loads right, ground points below what they serve.

A layered drawing: arrows away from the supply (`flow`), columns (`layers`), order within them
(`order`), then heights by a small linear programme that keeps wires straight.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from model.circuit import Circuit, Place, Sheet
from model.layout.card import Card, card, joins
from model.layout.flow import Arrow, Flow, flow
from model.layout.geometry import GRID, Rect, snap, snap_up, united
from model.layout.layers import columns, forward, unwound
from model.layout.least import Gap, Pull, settle, straighten
from model.layout.order import Columns, arrange_columns, spread
from model.lookup import fresh_id, kind_of

CHANNEL = 70
"""Least free width between columns; every wire adds to it."""
WIDEST = 200
"""Greatest free width between columns."""
BETWEEN = 40
"""Least free height between cards of a column."""
CHAINED = ("protection", "control", "diode", "load")
"""Families of parts that stand in a chain, level with their neighbours."""
NEARBY = 250
"""A new part stands no farther than this from what it joins, each way, if there is room."""
ASIDE = 50
"""Free width kept beside what is placed between other cards."""
GROUND_GAP = 70
"""How far below what it serves a ground point stands."""
FAR_BELOW = 500
"""Ground points do not go down to the common line from further up than this."""
THICK = 1.2
"""How much more a wire from 2 mm² upwards counts."""

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
    drawing = _Drawing(circuit)
    ideal = drawing.spots()
    spots = _beside(drawing, wanted, fixed, ideal) if fixed else {p: ideal[p] for p in wanted}
    return _as_places(sheet, held, spots, drawing.mirrored)


def _drawn(circuit: Circuit) -> list[str]:
    """Return the parts that have cards of their own: those that sit in no other."""
    return [p.id for p in circuit.parts.values() if p.host not in circuit.parts]


def _is_free(part: str, place: Place | None, only: set[str] | None) -> bool:
    if only is not None:
        return part in only
    return place is None or not place.pinned


def _as_places(
    sheet: Sheet, held: Mapping[str, Place], spots: Spots, mirrored: set[str]
) -> list[Place]:
    """Return the places, with the ids they had or fresh ones."""
    taken: dict[str, object] = dict(sheet.places)
    made = []
    for part, (x, y) in spots.items():
        old = held.get(part)
        key = old.id if old else fresh_id(taken, "a")
        taken[key] = None
        made.append(Place(key, part, x, y, mirrored=part in mirrored, pinned=False))
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
        self.counts = joins(circuit)
        self.flow: Flow = flow(circuit)
        self.families = {p.id: kind_of(circuit, p).family for p in circuit.parts.values()}
        self.cards = {p: self._card(p, False) for p in (*self.flow.parts, *self.flow.grounds)}
        arrows = forward(self.flow, self.families)
        arrows = [a for a in arrows if self._has_ports(a.tail, a.tail_node)]
        self.arrows = [a for a in arrows if self._has_ports(a.head, a.head_node)]
        self.mirrored = {p for p in self.flow.parts if self._against(p, self.arrows) > 0}
        self.cards |= {p: self._card(p, True) for p in self.mirrored}
        self.arrows = self._joints_before()
        self.below = self._single_grounds()

    def spots(self) -> Spots:
        """Return the middle of every card."""
        column = columns(self.flow.parts, self.arrows, self.families)
        laid = spread(column, self.arrows, self.cards, self._weights(self.arrows))
        arrange_columns(laid)
        xs = self._across(laid)
        ys = self._down(laid)
        found = {p: (xs[column[p]], ys[p]) for p in self.flow.parts}
        return found | _Grounds(self.flow, self.cards, found, self.below).spots()

    def _card(self, part: str, mirrored: bool) -> Card:
        place = Place("", part, mirrored=mirrored)
        return card(self.circuit, self.circuit.parts[part], place, self.counts)

    def _against(self, part: str, arrows: Sequence[Arrow]) -> float:
        """Return by how much more wires reach a card against its sides than with them."""
        total = 0.0
        for a in arrows:
            for end, node, good in ((a.tail, a.tail_node, "right"), (a.head, a.head_node, "left")):
                side = self.cards[part].ports[node].direction if end == part else ""
                if side in ("left", "right"):
                    total += self._thickness(a.wire) * (-1 if side == good else 1)
        return total

    def _thickness(self, wire: str) -> float:
        size = self.circuit.wires[wire].size
        return THICK if size is not None and size.area_mm2 >= 2 else 1.0

    def _joints_before(self) -> list[Arrow]:
        """Return the arrows, those of a return joint turned when it joins more left sides.

        So a ground splice stands before the cards that it serves on their left.
        """
        sides: dict[str, Counter[str]] = {}
        for a in self.arrows:
            for joint, far, node in ((a.tail, a.head, a.head_node), (a.head, a.tail, a.tail_node)):
                key = self.cards[far].ports[node].direction if a.returns else "feeds"
                sides.setdefault(joint, Counter())[key] += 1
        before = {
            p
            for p, found in sides.items()
            if self.families[p] == "joint" and not found["feeds"] and found["left"] > found["right"]
        }
        return unwound(
            self.flow.parts, [a.flipped() if a.head in before else a for a in self.arrows]
        )

    def _single_grounds(self) -> dict[str, str]:
        """Return the ground points that serve one card, from a terminal below it, by card."""
        wires = Counter(g for _, _, (g, _) in self.flow.ground_wires)
        found = {}
        for _, (part, node), (ground, _) in self.flow.ground_wires:
            port = self.cards[part].ports.get(node)
            if wires[ground] == 1 and port and port.direction == "bottom":
                found[part] = ground
        return found

    def _has_ports(self, part: str, node: str) -> bool:
        return node in self.cards[part].ports

    def _weights(self, arrows: Sequence[Arrow]) -> dict[str, float]:
        """Return how much each wire wants to be straight: those of a plain chain most.

        Wires that share a terminal want it less, as only one of them can have it.
        """
        at = Counter(n for a in arrows for n in ((a.tail, a.tail_node), (a.head, a.head_node)))
        links = Counter(p for a in arrows for p in (a.tail, a.head))
        chain = {p for p in links if links[p] <= 2 and self.families[p] in CHAINED}
        found = {}
        for a in arrows:
            weight = 2.0 if a.tail in chain and a.head in chain else 1.0
            if max(at[(a.tail, a.tail_node)], at[(a.head, a.head_node)]) > 1:
                weight *= 0.6
            found[a.wire] = weight * self._thickness(a.wire)
        return found

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
            edge = x + right + min(WIDEST, CHANNEL + 15 * max(0, len(laid.links[at]) - 1))
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
        found = straighten(settle(len(index), gaps, pulls), gaps, pulls)
        return {t: GRID * found[i] for t, i in index.items()}

    def _apart(self, a: str, b: str) -> float:
        """Return the least distance of two things, one below the other."""
        upper, lower = self._size(a), self._size(b)
        both = a in self.cards and b in self.cards
        return snap_up(upper.below + lower.above + (BETWEEN if both else 2 * GRID))

    def _size(self, thing: str) -> _Size:
        made = self.cards.get(thing)
        if made is None:
            return _Size(0, 0)
        ground = self.below.get(thing)
        more = GROUND_GAP + self.cards[ground].height if ground else 0
        return _Size(-made.outer.y, made.outer.bottom + more)


class _Grounds:
    """Places ground points under what they serve, clear of every card."""

    def __init__(
        self, flow: Flow, cards: Mapping[str, Card], spots: Spots, below: Mapping[str, str]
    ) -> None:
        self.flow = flow
        self.below = below
        self.wires = Counter(g for _, _, (g, _) in flow.ground_wires)
        self.cards = cards
        self.spots_of = spots
        self.taken = [cards[p].outer.moved(*xy) for p, xy in spots.items()]
        self.base = max((r.bottom for r in self.taken), default=0)

    def spots(self) -> Spots:
        """Return the middle of every ground point."""
        found: Spots = {}
        for part, ground in self.below.items():
            self._take(found, ground, self._straight_below(part, ground))
        rest = [g for g in self.flow.grounds if g not in found]
        for ground in sorted(rest, key=lambda g: (self._wish(g), g)):
            self._take(found, ground, self._free(ground, self._wish(ground)))
        return found

    def _take(self, found: Spots, ground: str, xy: tuple[float, float]) -> None:
        found[ground] = xy
        self.taken.append(self.cards[ground].outer.moved(*xy))

    def _straight_below(self, part: str, ground: str) -> tuple[float, float]:
        """Return the place under the only card it serves: on the common line if nothing bars it."""
        node = next(n for _, n, (g, _) in self.flow.ground_wires if g == ground)[1]
        x, y = self._at(part, node)
        made = self.cards[ground]
        near = (x, y + GROUND_GAP + made.height / 2)
        line = self._line(y, ground)
        corridor = Rect(x - made.width / 2 - 20, y + 1, made.width + 40, line + made.height / 2 - y)
        return near if any(corridor.overlaps(r) for r in self.taken) else (x, line)

    def _wish(self, ground: str) -> tuple[float, float]:
        """Return where a ground point wants to be: below the middle of its wires' other ends."""
        ends = [
            self._at(part, node)
            for _, (part, node), (g, _) in self.flow.ground_wires
            if g == ground and part in self.spots_of
        ]
        if not ends:
            return (0, self._line(self.base, ground))
        xs = sorted(x for x, _ in ends)
        middle = xs[len(xs) // 2] if len(xs) % 2 else (xs[len(xs) // 2 - 1] + xs[len(xs) // 2]) / 2
        return (snap(middle), self._line(max(y for _, y in ends), ground))

    def _at(self, part: str, node: str) -> tuple[float, float]:
        x, y = self.spots_of[part]
        made = self.cards[part]
        port = made.ports.get(node)
        return (x, y) if port is None or made.shape == "dot" else (x + port.x, y + port.y)

    def _line(self, y: float, ground: str) -> float:
        """Return the height for what ends at `y`: the common line unless that is far below."""
        drop = self._drop(ground) + self.cards[ground].height / 2
        line = snap_up(self.base + drop)
        return line if line - y < FAR_BELOW else snap_up(y + drop)

    def _drop(self, ground: str) -> float:
        """Return the free height above a ground point: wires from the side need a line each."""
        return max(GROUND_GAP, 50 + GRID * self.wires[ground])

    def _free(self, ground: str, wish: tuple[float, float]) -> tuple[float, float]:
        """Return the free place nearest to the wish, sideways."""
        outer, above = self.cards[ground].outer, self._drop(ground) - 2 * GRID
        room = Rect(outer.x - ASIDE, outer.y - above, outer.w + 2 * ASIDE, outer.h + above)
        return nearest_free(room, wish, self.taken, level=True)


def nearest_free(
    room: Rect, wish: tuple[float, float], taken: Iterable[Rect], *, level: bool = False
) -> tuple[float, float]:
    """Return the grid place nearest to a wish where `room` around it meets nothing taken.

    `level` moves sideways only.
    """
    blocks = list(taken)
    x0, y0 = snap(wish[0]), snap(wish[1])
    for reach in range(0, 6000, GRID):
        ring = {(reach, 0), (-reach, 0)} if level else _ring(reach)
        for dx, dy in sorted(ring, key=lambda d: (d[0] ** 2 + d[1] ** 2, d)):
            here = room.moved(x0 + dx, y0 + dy)
            if not any(here.overlaps(b) for b in blocks):
                return (x0 + dx, y0 + dy)
    return (x0, united(blocks).bottom + room.h)


def _ring(reach: int) -> set[tuple[int, int]]:
    """Return the grid offsets on a square of this half width."""
    steps = range(-reach, reach + 1, 2 * GRID)
    return {(s, e) for s in steps for e in (-reach, reach)} | {
        (e, s) for s in steps for e in (-reach, reach)
    }


def _beside(
    drawing: _Drawing, wanted: Sequence[str], fixed: Sequence[Place], ideal: Spots
) -> Spots:
    """Return places for new parts among kept ones: as they stand to what they join."""
    circuit, counts = drawing.circuit, drawing.counts
    at = {p.part: (p.x, p.y) for p in fixed}
    taken = [card(circuit, circuit.parts[p.part], p, counts).outer.moved(p.x, p.y) for p in fixed]
    found: Spots = {}
    for part in sorted(wanted, key=lambda p: ideal[p]):
        near = [q for q in _wired_to(circuit, part) if q in at] or list(at)
        wishes = [_beyond(at[q], ideal[q], ideal[part]) for q in near]
        wish = (_middle([x for x, _ in wishes]), _middle([y for _, y in wishes]))
        outer = drawing.cards[part].outer
        xy = nearest_free(outer.grown(ASIDE), wish, taken)
        found[part] = at[part] = xy
        taken.append(outer.moved(*xy))
    return {p: found[p] for p in wanted}


def _beyond(
    at: tuple[float, float], ideal: tuple[float, float], mine: tuple[float, float]
) -> tuple[float, float]:
    """Return where a part stands to a kept one as in the whole drawing, though no farther off."""
    dx = max(-NEARBY, min(NEARBY, mine[0] - ideal[0]))
    dy = max(-NEARBY, min(NEARBY, mine[1] - ideal[1]))
    return (at[0] + dx, at[1] + dy)


def _middle(values: Sequence[float]) -> float:
    return sorted(values)[len(values) // 2] if values else 0.0


def _wired_to(circuit: Circuit, part: str) -> list[str]:
    """Return the parts at the other ends of a part's wires."""
    found = []
    for wire in circuit.wires.values():
        ends = [e.part for e in (wire.first, wire.second) if e is not None]
        if part in ends:
            found += [p for p in ends if p != part]
    return found
