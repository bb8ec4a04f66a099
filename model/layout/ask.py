"""All that a card is built from."""

from __future__ import annotations

from dataclasses import dataclass

from model.kinds.body import Terminal
from model.layout.geometry import SIDES
from model.layout.sizes import Sizes
from model.layout.text import text_width

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


def turned(side: str, turn: int, mirrored: bool) -> str:
    """Return the side that a terminal of `side` comes to when the card is turned."""
    if mirrored and side in ("left", "right"):
        side = "left" if side == "right" else "right"
    index = SIDES.index(side if side in SIDES else "left")
    return SIDES[(index + turn // 90) % 4]
