"""Places of ground points: below what they serve, clear of every card."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from model.layout.flow import Flow
from model.layout.geometry import GRID, Rect, snap, snap_up
from model.layout.nearest import ASIDE, Spots, nearest_free
from model.layout.shape import Card

FAR_BELOW = 500
"""Ground points do not go down to the common line from further up than this."""


class Grounds:
    """Places ground points under what they serve, clear of every card; `gap` below it at least."""

    def __init__(
        self,
        flow: Flow,
        cards: Mapping[str, Card],
        spots: Spots,
        below: Mapping[str, str],
        gap: float,
    ) -> None:
        self.gap = gap
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
        """Let a ground point stand there; nothing else stands where its wires come down."""
        found[ground] = xy
        self.taken.append(self._room(ground).moved(*xy))

    def _room(self, ground: str) -> Rect:
        """Return the area of a ground point and of the lines that its wires need above it."""
        outer, above = self.cards[ground].outer, self._drop(ground) - 2 * GRID
        return Rect(outer.x, outer.y - above, outer.w, outer.h + above)

    def _straight_below(self, part: str, ground: str) -> tuple[float, float]:
        """Return the place under the only card it serves: on the common line if nothing bars it."""
        node = next(n for _, n, (g, _) in self.flow.ground_wires if g == ground)[1]
        x, y = self._at(part, node)
        made = self.cards[ground]
        near = (x, y + self.gap + made.height / 2)
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
        return max(self.gap, self.gap - 20 + GRID * self.wires[ground])

    def _free(self, ground: str, wish: tuple[float, float]) -> tuple[float, float]:
        """Return the free place nearest to the wish, sideways."""
        room = self._room(ground)
        wide = Rect(room.x - ASIDE, room.y, room.w + 2 * ASIDE, room.h)
        return nearest_free(wide, wish, self.taken, level=True)
