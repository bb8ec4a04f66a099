"""Building a card from what is known of its part; the rules of its geometry."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache

from model.kinds.body import Terminal
from model.layout.dots import build_dot, build_ground
from model.layout.geometry import GRID, SIDES, Rect, snap, snap_up
from model.layout.leads import base, lead
from model.layout.shape import Card, Port, Spot
from model.layout.sizes import Sizes
from model.layout.text import text_width, wrapped

PAD = 8
SIDE = 20  # least room beside the pictogram
APART = 5  # between the numbers at the lower edge and a reading beside them
READING, VALUE = "88.8 A", "100 A"
"""A load's reading and a fuse's amperes as wide as they get."""


@dataclass(frozen=True, slots=True)
class Ask:
    """All that a card depends on; hashable, so that cards are kept."""

    kind: str
    family: str
    terminals: tuple[Terminal, ...]
    wires: tuple[int, ...]
    markings: tuple[tuple[str, str], ...]
    words: tuple[str, ...]
    reference: str
    name: str
    turn: int
    mirrored: bool
    sizes: Sizes

    def marking(self, key: str) -> str:
        """Return what is written at a terminal."""
        return dict(self.markings).get(key, key)

    @property
    def word_w(self) -> float:
        """Room for the longest word of a position; 0 where there is none."""
        return max((self.sizes.word_w(w) for w in self.words), default=0.0)

    @property
    def value_w(self) -> float:
        """Room for a fuse's amperes or a load's reading; 0 where none is kept."""
        s = self.sizes
        if not s.value_h:
            return 0.0
        if self.family == "load":
            return text_width(READING, s.reading_px, bold=True)
        stated = self.family == "protection" or self.kind == "resistor"
        return text_width(VALUE, s.value_px, bold=True) if stated else 0.0

    def spots_at(self, terminal: Terminal) -> int:
        """Return how many spots a terminal offers: an odd number, so that one is central."""
        wires = self.wires[self.terminals.index(terminal)]
        return max(1, wires | 1)


KEPT, KEPT_BARE = 1024, 512
"""Cards kept for when they are asked for again: light ones with texts, the heavy ones without.

All cards of a sheet are asked for after each change of its wires: those of 500 wires are some 320.
"""


@lru_cache(maxsize=KEPT)
def build(ask: Ask) -> Card:
    """Return the card; all that does not depend on its texts is shared with others of its kind."""
    if ask.kind in ("splice", "stud") and len(ask.terminals) == 1:
        return build_dot(ask.terminals[0], ask.wires[0], ask.reference, ask.sizes)
    if ask.family == "ground" and len(ask.terminals) == 1:
        side = turned(ask.terminals[0].side, ask.turn, ask.mirrored)
        return build_ground(
            ask.terminals[0], ask.wires[0], side, ask.reference, ask.name, ask.sizes
        )
    return _labelled(_bare(replace(ask, reference="", name="")), ask)


@lru_cache(maxsize=KEPT_BARE)
def _bare(ask: Ask) -> Card:
    """Return a card of the usual shape without tag and name."""
    return _Builder(ask).card()


def turned(side: str, turn: int, mirrored: bool) -> str:
    """Return the side that a terminal of `side` comes to when the card is turned."""
    if mirrored and side in ("left", "right"):
        side = "left" if side == "right" else "right"
    index = SIDES.index(side if side in SIDES else "left")
    return SIDES[(index + turn // 90) % 4]


@dataclass(frozen=True, slots=True)
class _Row:
    """A terminal on a side: where it stands along it (`at`) and how many spots it has."""

    terminal: Terminal
    spots: int
    want: float | None
    step: int = GRID
    at: float = 0.0

    @property
    def reach(self) -> float:
        """How far its spots reach from its middle."""
        return self.step * ((self.spots - 1) // 2)


class _Builder:
    """The steps of building one card of the usual shape."""

    def __init__(self, ask: Ask) -> None:
        self.ask = ask
        self.sizes = ask.sizes
        self.picture = ask.sizes.picture
        upright = not ask.turn % 360
        self.base = (base(ask.kind) - 32) * self.picture / 64 if upright else 0.0
        self.rows = {side: self._side(side) for side in SIDES}

    def card(self) -> Card:
        """Return the card."""
        top, bottom = self._extent()
        middle = snap((top + bottom) / 2)
        half_h = snap_up(max(bottom - middle, middle - top))
        half_w = self._half_width()
        ports = self._ports(half_w, half_h, middle)
        size = self.picture
        picture = Rect(-size / 2, -size / 2 - self.base - middle, size, size)
        word = self._word(picture, half_w, ports) if self.ask.words else None
        none = Rect(0, 0, 0, 0)
        return Card(
            2 * half_w, 2 * half_h, ports, picture, none, none, word=word,
            turn=self.ask.turn, mirrored=self.ask.mirrored,
            value=self._value(picture, word, half_w, ports), sizes=self.sizes,
        )  # fmt: skip

    def _word(self, picture: Rect, half_w: int, ports: dict[str, Port]) -> Rect:
        """Return the area of the position's word, narrower where numbers stand beside it."""
        line = self.sizes.word_line
        wide = Rect(-half_w + 4, picture.bottom + 1, 2 * half_w - 8, line)
        if self.sizes.word_below:
            return Rect(wide.x, self._below(picture, ports), wide.w, line)
        labels = [p.label for p in ports.values() if p.label and p.label.overlaps(wide)]
        if not labels:
            return wide
        half = half_w - self.sizes.lead_in - max(r.w for r in labels) - 2
        return Rect(-half, wide.y, 2 * half, line)

    def _below(self, picture: Rect, ports: dict[str, Port]) -> float:
        """Return the height below the pictogram and all numbers at the sides."""
        sides = [p.label for p in ports.values() if p.direction in ("left", "right")]
        return max([picture.bottom + 1, *(r.bottom for r in sides if r)])

    def _value(
        self, picture: Rect, word: Rect | None, half_w: int, ports: dict[str, Port]
    ) -> Rect | None:
        """Return the area of a value or a reading, below all else in the card."""
        if not self.ask.value_w:
            return None
        if self._is_beside():
            labels = [p.label for p in ports.values() if p.label and p.direction == "bottom"]
            left = max(r.right for r in labels) + APART
            middle = labels[0].y + labels[0].h / 2
            return Rect(left, middle - self.sizes.value_h / 2, half_w - 3 - left,
                        self.sizes.value_h)  # fmt: skip
        top = word.bottom if word else self._below(picture, ports)
        return Rect(-half_w + 4, top, 2 * half_w - 8, self.sizes.value_h)

    def _side(self, side: str) -> list[_Row]:
        """Return the rows of a side, spaced so that wires and numbers have room."""
        ask = self.ask
        rows = [
            _Row(t, ask.spots_at(t), self._want(t), ask.sizes.step)
            for t in ask.terminals
            if turned(t.side, ask.turn, ask.mirrored) == side
        ]
        rows = self._reading_order(rows, side)
        if side in ("left", "right"):
            return _spread(rows, lambda a, b: a.reach + b.reach + self.sizes.pitch)
        return _spread(rows, self._beside)

    def _want(self, terminal: Terminal) -> float | None:
        """Return the height a terminal wants against the main lead, when the card is upright."""
        if self.ask.turn % 360:
            return None
        height = lead(self.ask.kind, terminal.key)
        if height is None:
            return None
        return snap((height - base(self.ask.kind)) * self.picture / 64)

    def _reading_order(self, rows: list[_Row], side: str) -> list[_Row]:
        """Return the rows in order along a side: as listed, reversed where the turn does so."""
        turn, mirrored = self.ask.turn % 360, self.ask.mirrored
        flipped = turn in (90, 180) if side in ("left", "right") else turn in (180,)
        if side in ("top", "bottom") and turn == 90:
            flipped = True
        if mirrored and side in ("top", "bottom") and turn in (0, 180):
            flipped = not flipped
        rows = rows[::-1] if flipped else rows
        return sorted(rows, key=lambda r: 0 if r.want is None else r.want)

    def _beside(self, a: _Row, b: _Row) -> float:
        """Return the distance of two neighbours on the top or bottom side."""
        texts = (self._text_w(a.terminal) + self._text_w(b.terminal)) / 2 + 6
        return snap_up(max(a.reach + b.reach + self.sizes.pitch, texts))

    def _text_w(self, terminal: Terminal) -> float:
        return text_width(self.ask.marking(terminal.key), self.sizes.number_most, bold=True)

    def _extent(self) -> tuple[float, float]:
        """Return the top and bottom of everything in the card, against the main lead."""
        size, s = self.picture, self.sizes
        top = -size / 2 - self.base - (s.number_h if self.rows["top"] else 0)
        bottom = size / 2 - self.base
        if s.value_h or s.word_below:
            bottom = max(bottom, self._lowest())
        bottom += s.word_h if self.ask.words else 0
        bottom += s.value_h if self.ask.value_w and not self._is_beside() else 0
        bottom += s.number_h if self.rows["bottom"] else 0
        sides = self.rows["left"] + self.rows["right"]
        first = min((r.at - r.reach - s.number_line for r in sides), default=top)
        if self.rows["top"] and s.for_class:
            first -= s.number_h / 2
        last = max((r.at + r.reach + s.number_line / 2 for r in sides), default=bottom)
        return min(top, first) - PAD, max(bottom, last) + PAD - 2

    def _lowest(self) -> float:
        """Return where the lowest number at the sides ends, against the main lead."""
        sides = self.rows["left"] + self.rows["right"]
        return max((r.at + self.sizes.number_line / 2 for r in sides), default=0.0)

    def _half_width(self) -> int:
        """Return half the width: pictogram, numbers either side, terminals above and below."""
        sides = self.rows["left"] + self.rows["right"]
        number = max((self._text_w(r.terminal) for r in sides), default=0)
        lead_in = self.sizes.lead_in
        room = self.picture / 2 + lead_in + number + self.sizes.side_pad
        if any(self._beside_word(r) for r in sides):
            room = max(room, self.ask.word_w / 2 + lead_in + number + 4)
        room = max(room, self.ask.word_w / 2 + 4, self._value_room())
        for row in self.rows["top"] + self.rows["bottom"]:
            room = max(room, abs(row.at) + max(row.reach, self._text_w(row.terminal) / 2) + PAD)
        return snap_up(max(room, self.picture / 2 + SIDE))

    def _value_room(self) -> float:
        """Return half the width that a value or a reading asks for."""
        if not self._is_beside():
            return self.ask.value_w / 2 + 4
        numbers = (abs(r.at) + self._text_w(r.terminal) / 2 for r in self.rows["bottom"])
        return max(numbers) + APART + self.ask.value_w + 3

    def _is_beside(self) -> bool:
        """Tell whether the reading stands beside the numbers at the lower edge."""
        return self.sizes.value_beside and self.ask.family == "load" and bool(self.rows["bottom"])

    def _beside_word(self, row: _Row) -> bool:
        """Tell whether a side's number stands level with the position's word."""
        top = self.picture / 2 - self.base + 1
        line = self.sizes.word_line
        between = bool(self.ask.words) and not self.sizes.word_below
        return between and abs(row.at - (top + line / 2)) < line

    def _ports(self, half_w: int, half_h: int, middle: float) -> dict[str, Port]:
        """Return the ports of all sides, in the order of the terminals."""
        made = {}
        for side, rows in self.rows.items():
            for row in rows:
                at = row.at - (middle if side in ("left", "right") else 0)
                made[row.terminal.node] = self._port(row, side, at, half_w, half_h)
        return {t.node: made[t.node] for t in self.ask.terminals}

    def _port(self, row: _Row, side: str, at: float, half_w: int, half_h: int) -> Port:
        """Return one port; its spots go outwards from the middle one."""
        steps = [0]
        for i in range(1, (row.spots - 1) // 2 + 1):
            steps += [-i * row.step, i * row.step]
        if side in ("left", "right"):
            x = half_w if side == "right" else -half_w
            spots = tuple(Spot(x, at + s, side) for s in steps)
        else:
            y = half_h if side == "bottom" else -half_h
            spots = tuple(Spot(at + s, y, side) for s in steps)
        terminal = row.terminal
        label = self._number(terminal, spots[0])
        return Port(terminal.node, terminal.key, terminal.form, spots, label)

    def _number(self, terminal: Terminal, spot: Spot) -> Rect:
        """Return the area of a terminal's number, inside the card beside the terminal."""
        width, s = self._text_w(terminal), self.sizes
        high = s.number_line
        if spot.side == "left":
            return Rect(spot.x + s.lead_in, spot.y - high / 2, width, high)
        if spot.side == "right":
            return Rect(spot.x - s.lead_in - width, spot.y - high / 2, width, high)
        high = min(high, s.number_h - 3)
        y = spot.y + s.lead_up if spot.side == "top" else spot.y - s.lead_up - high
        return Rect(spot.x - width / 2, y, width, high)


def _labelled(made: Card, ask: Ask) -> Card:
    """Return the card with tag and name: above it; the name beside it under upward wires."""
    body, s = made.body, ask.sizes
    tag_w = s.tag_w(ask.reference)
    tag = Rect(body.x + 8, body.y - s.tag_h + 6, tag_w, s.tag_h)
    if any(port.direction == "top" for port in made.ports.values()):
        name_x, bottom, room = body.right + 6, body.bottom, body.w
    else:
        name_x, bottom = body.x + 8 + tag_w + (6 if tag_w else 0), body.y - 3
        room = body.right + s.overhang - name_x
    text = wrapped(ask.name, room, s.name_px)
    lines = text.split("\n")
    width, high = max(text_width(line, s.name_px) for line in lines), s.name_line * len(lines)
    name = Rect(name_x, bottom - high, width, high)
    return replace(made, tag=tag, name=name, name_text=text)


def _spread(rows: list[_Row], distance: Callable[[_Row, _Row], float]) -> list[_Row]:
    """Return the rows with their places along a side, each at least a distance from the last."""
    placed: list[_Row] = []
    for row in rows:
        at = 0.0 if row.want is None else row.want
        if placed:
            nearest = placed[-1].at + distance(placed[-1], row)
            at = nearest if row.want is None else max(nearest, at)
        placed.append(replace(row, at=at))
    if not placed or any(r.want is not None for r in rows):
        return placed
    shift = snap((placed[0].at + placed[-1].at) / 2)
    return [replace(r, at=r.at - shift) for r in placed]
