"""Places for the labels of wires: never over a bend, a terminal, a card or another label.

A label stands beside a straight stretch of its wire, or on it where there is no room beside; that
of a wire with an open end may also stand beyond that end. Every wire gets its number first, for
which others are moved where need be; then labels grow by as many values as fit.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf

from model.circuit import Circuit, Sheet
from model.layout.beside import Line
from model.layout.board import OVER_WIRE, Board
from model.layout.geometry import Rect
from model.layout.path import Path
from model.layout.shape import Card
from model.layout.sizes import ORDINARY, Sizes
from model.lookup import wire_label

MOVES = 60
"""How many labels are tried elsewhere in all to make room for others."""
NEAR = 30.0
"""How far from a wire a label may stand in the way of its own."""


@dataclass(frozen=True, slots=True)
class Label:
    """A label's text and where it stands."""

    text: str
    rect: Rect


def place_labels(
    circuit: Circuit,
    sheet: Sheet,
    paths: Mapping[str, Path],
    cards: Mapping[str, Card],
    texts: Mapping[str, Sequence[str]] | None = None,
    sizes: Sizes = ORDINARY,
    held: Mapping[str, Label] | None = None,
) -> dict[str, Label | None]:
    """Return the label of every wire, None where no room was found.

    Parameters
    ----------
    texts
        What each label may say, shortest first; by default the wire's number alone.
    sizes
        How large labels are.
    held
        Labels placed before, which stay as they are where nothing has come in their way.
    """
    board = Board(sheet, cards, paths, sizes)
    said = texts or {w: (wire_label(circuit.wires[w]),) for w in paths if circuit.wires[w].number}
    found: dict[str, Label | None] = {
        w: label for w, label in (held or {}).items() if w in paths and board.hold(label.rect)
    }
    wanted = (w for w in paths if said.get(w) and w not in found)
    order = sorted(wanted, key=lambda w: (paths[w].length, w))
    lines = {w: Line.of(circuit.wires[w], paths[w]) for w in order}
    work = _Placing(board, lines, said, found)
    work.number(order)
    for wire in order:
        work.grow(wire)
    return {w: found.get(w) for w in paths}


@dataclass(slots=True)
class _Placing:
    """What is placed so far, bettered in turn."""

    board: Board
    lines: Mapping[str, Line]
    said: Mapping[str, Sequence[str]]
    found: dict[str, Label | None]

    def number(self, order: Sequence[str]) -> None:
        """Give every wire its number; where there is no room at once, it is looked for closer."""
        for wire in order:
            self.found[wire] = self.put(wire, self.said[wire][0], most=OVER_WIRE)
        moves = MOVES
        for wire in (w for w in order if self.found[w] is None):
            self.found[wire] = self.put(wire, self.said[wire][0], finely=True)
            if self.found[wire] is None:
                moves -= self.make_room(wire, moves)

    def put(self, wire: str, text: str, *, finely: bool = False, most: float = inf) -> Label | None:
        """Place a label of a wire."""
        rect = self.board.put(self.lines[wire], text, finely=finely, most=most)
        return None if rect is None else Label(text, rect)

    def grow(self, wire: str) -> None:
        """Let a label say as much as it has room for without covering other wires."""
        old = self.found[wire]
        if old is None:
            return
        for text in reversed(self.said[wire][1:]):
            self.board.mark(old.rect, -1)
            new = self.put(wire, text, most=OVER_WIRE)
            if new is not None:
                self.found[wire] = new
                return
            self.board.mark(old.rect, 1)

    def make_room(self, wire: str, most: int) -> int:
        """Find a place for a wire's label by moving a near one; return how many were tried."""
        near = self._near(wire)[:most]
        return next((i for i, other in enumerate(near, 1) if self._moved(other, wire)), len(near))

    def _near(self, wire: str) -> list[str]:
        """Return the wires whose labels stand near a wire and may be moved."""
        area = self.lines[wire].path.box.grown(NEAR)
        placed = ((w, self.found[w]) for w in self.lines)
        return [w for w, label in placed if label is not None and label.rect.overlaps(area)]

    def _moved(self, other: str, wire: str) -> bool:
        """Move a label out of the way of a wire's if both find a place; tell whether they do."""
        old = self.found[other]
        assert old is not None  # only those that are placed are near
        self.board.mark(old.rect, -1)
        mine = self.put(wire, self.said[wire][0], finely=True)
        new = self.put(other, old.text, finely=True) if mine is not None else None
        if mine is None or new is None:
            if mine is not None:
                self.board.mark(mine.rect, -1)
            self.board.mark(old.rect, 1)
            return False
        self.found[wire], self.found[other] = mine, new
        return True
