"""Building a card from what is known of its part; the rules of its geometry."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from model.kinds.body import Terminal
from model.layout.ask import Ask, turned
from model.layout.dots import build_dot, build_ground
from model.layout.frame import APART, Frame
from model.layout.geometry import Rect, snap, snap_up
from model.layout.rows import Row
from model.layout.shape import Card, Port, Spot
from model.layout.text import text_width, wrapped

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


class _Builder(Frame):
    """The steps of building one card of the usual shape."""

    def card(self) -> Card:
        """Return the card."""
        top, bottom = self.extent()
        middle = snap((top + bottom) / 2)
        half_h = snap_up(max(bottom - middle, middle - top))
        half_w = self.half_width()
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
        if self.is_beside():
            labels = [p.label for p in ports.values() if p.label and p.direction == "bottom"]
            left = max(r.right for r in labels) + APART
            middle = labels[0].y + labels[0].h / 2
            return Rect(left, middle - self.sizes.value_h / 2, half_w - 3 - left,
                        self.sizes.value_h)  # fmt: skip
        top = word.bottom if word else self._below(picture, ports)
        return Rect(-half_w + 4, top, 2 * half_w - 8, self.sizes.value_h)

    def _ports(self, half_w: int, half_h: int, middle: float) -> dict[str, Port]:
        """Return the ports of all sides, in the order of the terminals."""
        made = {}
        for side, rows in self.rows.items():
            for row in rows:
                at = row.at - (middle if side in ("left", "right") else 0)
                made[row.terminal.node] = self._port(row, side, at, half_w, half_h)
        return {t.node: made[t.node] for t in self.ask.terminals}

    def _port(self, row: Row, side: str, at: float, half_w: int, half_h: int) -> Port:
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
        width, s = self.text_w(terminal), self.sizes
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
