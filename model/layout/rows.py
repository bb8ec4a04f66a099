"""The terminals of a card by side: in reading order, spaced so that wires and numbers have room."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from model.kinds.body import Terminal
from model.layout.ask import Ask, turned
from model.layout.geometry import GRID, SIDES, snap, snap_up
from model.layout.leads import base, lead
from model.layout.text import text_width


@dataclass(frozen=True, slots=True)
class Row:
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


class Sides:
    """The rows of terminals on the sides of one card."""

    def __init__(self, ask: Ask) -> None:
        self.ask = ask
        self.sizes = ask.sizes
        self.picture = ask.sizes.picture
        upright = not ask.turn % 360
        self.base = (base(ask.kind) - 32) * self.picture / 64 if upright else 0.0
        self.rows = {side: self._side(side) for side in SIDES}

    def _side(self, side: str) -> list[Row]:
        """Return the rows of a side, spaced so that wires and numbers have room."""
        ask = self.ask
        rows = [
            Row(t, ask.spots_at(t), self._want(t), ask.sizes.step)
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

    def _reading_order(self, rows: list[Row], side: str) -> list[Row]:
        """Return the rows in order along a side: as listed, reversed where the turn does so."""
        turn, mirrored = self.ask.turn % 360, self.ask.mirrored
        flipped = turn in (90, 180) if side in ("left", "right") else turn in (180,)
        if side in ("top", "bottom") and turn == 90:
            flipped = True
        if mirrored and side in ("top", "bottom") and turn in (0, 180):
            flipped = not flipped
        rows = rows[::-1] if flipped else rows
        return sorted(rows, key=lambda r: 0 if r.want is None else r.want)

    def _beside(self, a: Row, b: Row) -> float:
        """Return the distance of two neighbours on the top or bottom side."""
        texts = (self.text_w(a.terminal) + self.text_w(b.terminal)) / 2 + 6
        return snap_up(max(a.reach + b.reach + self.sizes.pitch, texts))

    def text_w(self, terminal: Terminal) -> float:
        """Return how wide the number of a terminal is."""
        return text_width(self.ask.marking(terminal.key), self.sizes.number_most, bold=True)


def _spread(rows: list[Row], distance: Callable[[Row, Row], float]) -> list[Row]:
    """Return the rows with their places along a side, each at least a distance from the last."""
    placed: list[Row] = []
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
