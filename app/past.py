"""What undo keeps of many acts: the latest as they are, older ones packed in boxes.

Undo has no limit, and people draw for hours. The records of acts that follow each other are much
alike, so a box of them packed takes a tenth of the room; a box is opened when undo comes to it.
"""

from __future__ import annotations

import pickle
import zlib

from model.kept import Kept

FULL = 64
"""Acts in one box."""
OPEN = 3
"""Boxes that lie open: that which is filled, and those last looked into."""
QUICK = 1
"""How hard zlib tries: what repeats is found with the least effort too."""


class Box:
    """Some acts that followed each other; open, or packed."""

    def __init__(self) -> None:
        self._acts: list[Kept] = []
        self._packed = b""

    @property
    def is_full(self) -> bool:
        """Whether nothing more goes in."""
        return bool(self._packed) or len(self._acts) >= FULL

    @property
    def is_packed(self) -> bool:
        """Whether it is closed."""
        return not self._acts

    def put(self, act: Kept) -> int:
        """Put an act in; return its number."""
        self._acts.append(act)
        return len(self._acts) - 1

    def act(self, number: int) -> Kept:
        """Return an act; the box is open from now on."""
        if not self._acts:
            # Packed by this process a while ago, never read from outside.
            self._acts = pickle.loads(zlib.decompress(self._packed))
        return self._acts[number]

    def close(self) -> None:
        """Pack what lies open."""
        self._packed = self._packed or zlib.compress(pickle.dumps(self._acts, -1), QUICK)
        self._acts = []


class Past:
    """The boxes of one undo stack. A box goes when the last step that is in it goes."""

    def __init__(self) -> None:
        self._open: list[Box] = []
        self._filled: Box | None = None

    def put(self, act: Kept) -> tuple[Box, int]:
        """Keep an act; return where it is."""
        if self._filled is None or self._filled.is_full:
            self._filled = Box()
        self._touch(self._filled)
        return self._filled, self._filled.put(act)

    def act(self, box: Box, number: int) -> Kept:
        """Return an act that is kept."""
        self._touch(box)
        return box.act(number)

    def clear(self) -> None:
        """Let go of everything: the stack is empty."""
        self._open.clear()
        self._filled = None

    def _touch(self, box: Box) -> None:
        """Note that a box is looked into, and close those not looked into for longest."""
        self._open = [b for b in self._open if b is not box] + [box]
        while len(self._open) > OPEN:
            self._open.pop(0).close()
