"""One layered drawing of a whole circuit: where every card would stand if it were free to.

Arrows away from the supply (`flow`), columns (`layers`), order within them (`order`), then
heights by a small linear programme that keeps wires straight.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from model.circuit import Circuit, Place
from model.layout.card import Card, card, joins, sizes_of
from model.layout.choice import Choice
from model.layout.flow import Arrow, Flow, flow
from model.layout.fold import folded
from model.layout.geometry import GRID, snap_up
from model.layout.grounds import Grounds
from model.layout.layers import columns, forward, unwound
from model.layout.least import Gap, Pull, settle, straighten
from model.layout.narrow import narrowed
from model.layout.nearest import Spots
from model.layout.order import Columns, arrange_columns, spread
from model.layout.sizes import Sizes
from model.lookup import kind_of

WIDEST = 200
"""Greatest free width between columns."""
MANY = 100
WIDEST_OF_MANY = 500
"""The same in circuits of more parts than that, whose wires would wall each other in."""
CHAINED = ("protection", "control", "diode", "load")
"""Families of parts that stand in a chain, level with their neighbours."""
THICK = 1.2
"""How much more a wire from 2 mm² upwards counts."""


@dataclass(slots=True)
class _Size:
    """How far a thing reaches above and below its middle."""

    above: float
    below: float


class Drawing:
    """One layered drawing of the whole circuit."""

    def __init__(
        self, circuit: Circuit, sizes: Sizes | None = None, choice: Choice | None = None
    ) -> None:
        choice = choice or Choice()
        self.circuit = circuit
        self.sizes = sizes
        self.over = choice.over
        self.counts = joins(circuit)
        self.flow: Flow = flow(circuit)
        self.families = {p.id: kind_of(circuit, p).family for p in circuit.parts.values()}
        self.cards = {p: self._card(p, False) for p in (*self.flow.parts, *self.flow.grounds)}
        arrows = forward(self.flow, self.families if choice.turn_joints else {})
        arrows = [a for a in arrows if self._has_ports(a.tail, a.tail_node)]
        arrows = [a for a in arrows if self._has_ports(a.head, a.head_node)]
        arrows = [a.flipped() if a.tail in choice.behind else a for a in arrows]
        self.arrows = unwound(self.flow.parts, arrows) if choice.behind else arrows
        self.mirrored = self._against_their_wires()
        self.cards |= {p: self._card(p, True) for p in self.mirrored}
        self.arrows = self._joints_before()
        if sizes is not None and sizes.most_columns:
            self.arrows = narrowed(self.flow.parts, self.arrows, sizes.most_columns)
        self.below = self._single_grounds()

    def spots(self) -> Spots:
        """Return the middle of every card."""
        column = columns(self.flow.parts, self.arrows, self.families)
        laid = spread(column, self.arrows, self.cards, self._weights(self.arrows))
        arrange_columns(laid)
        xs = self._across(laid)
        ys = self._down(laid)
        found = {p: (xs[column[p]], ys[p]) for p in self.flow.parts}
        found = folded(found, self.arrows, self.cards)
        return (
            found
            | Grounds(self.flow, self.cards, found, self.below, self._lengths().ground_gap).spots()
        )

    def _card(self, part: str, mirrored: bool) -> Card:
        place = Place("", part, turn=180 if part in self.over else 0, mirrored=mirrored)
        return card(self.circuit, self.circuit.parts[part], place, self.counts, self.sizes)

    def _against_their_wires(self) -> set[str]:
        """Return the parts whose cards more wires reach against their sides than with them."""
        against: defaultdict[str, float] = defaultdict(float)
        for a in self.arrows:
            for part, node, good in ((a.tail, a.tail_node, "right"), (a.head, a.head_node, "left")):
                side = self.cards[part].ports[node].direction
                if side in ("left", "right"):
                    weight = self._thickness(a.wire)
                    against[part] += -weight if side == good else weight
        return {p for p in self.flow.parts if against[p] > 1e-9}

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
        sizes = self._lengths()
        widest = WIDEST if len(self.circuit.parts) <= MANY else WIDEST_OF_MANY
        xs: list[float] = []
        edge = 0.0
        for at, things in enumerate(laid.things):
            outers = [self.cards[t].outer for t in things if t in self.cards]
            left = max((-r.x for r in outers), default=0)
            right = max((r.right for r in outers), default=0)
            x = snap_up(edge + left)
            xs.append(x)
            wires = max(0, len(laid.links[at]) - 1)
            edge = x + right + min(widest, sizes.channel + sizes.per_wire * wires)
        return xs

    def _lengths(self) -> Sizes:
        """Return the sizes that the cards have."""
        return self.sizes or sizes_of(self.circuit)

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
        free = self._lengths().between
        return snap_up(upper.below + lower.above + (free if both else 2 * GRID))

    def _size(self, thing: str) -> _Size:
        made = self.cards.get(thing)
        if made is None:
            return _Size(0, 0)
        ground = self.below.get(thing)
        more = self._lengths().ground_gap + self.cards[ground].height if ground else 0
        return _Size(-made.outer.y, made.outer.bottom + more)
