"""Orthogonal routes of wires around cards: no wire through a card or along another wire.

`Router` builds the obstacle grid once; wires are laid on it one by one, the straight and short
ones first, then each is lifted and laid again while that makes the drawing better.
"""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Collection, Sequence
from itertools import pairwise

from model.circuit import Circuit, Sheet
from model.layout.finder import WORK, Finder
from model.layout.geometry import share
from model.layout.given import kept, open_end
from model.layout.path import Path

__all__ = ["Path", "Router", "route"]

ROUNDS = 3
AGAIN = 50
"""How many wires are laid again, worst first, to better the drawing."""
PUSHES = 5
"""How often a wire may be pushed aside by others that are walled in."""
ALL_PUSHES = 60
"""How often that may happen in all; beyond it wires lie on each other."""


def route(circuit: Circuit, sheet: Sheet, wires: Collection[str] | None = None) -> dict[str, Path]:
    """Return the ways of the wires of a sheet.

    Parameters
    ----------
    wires
        Only these; None routes all. Kept bends of the sheet are honoured.

    Returns
    -------
    dict
        Ways by wire id, from the wire's first end to its second. A wire with an end that is not
        on this sheet has none.
    """
    return Router(circuit, sheet).route(wires)


class Router(Finder):
    """Lays wires on a sheet; holds the obstacle grid and the ways laid so far."""

    def route(self, wires: Collection[str] | None = None, *, again: int = AGAIN) -> dict[str, Path]:
        """Lay the wires asked for (all by default) and return their ways.

        `again` is how many wires are tried a second time to better the drawing; 0 while a part
        is being dragged.
        """
        self._work.left = WORK
        ids = [w for w in self.circuit.wires if wires is None or w in wires]
        for wire in ids:
            self.lift(wire)
        given = [w for w in ids if w in self.sheet.routes and self.both(w)]
        self._lay_given(given, [w for w in ids if not self.both(w)])
        loose = [w for w in ids if w not in given and self.both(w)]
        self._lay_all(sorted(loose, key=self.effort), again)
        return {w: self.paths[w] for w in ids if w in self.paths}

    def kept(self, wire: str) -> Path:
        """Return the way of a wire with the bends a person chose."""
        return kept(self, wire)

    def open_end(self, wire: str) -> Path | None:
        """Return the stub of a wire with an open end, None where it has none."""
        return open_end(self, wire)

    def _lay_given(self, given: Sequence[str], single: Sequence[str]) -> None:
        """Lay the wires whose bends a person chose, and those with one end on the sheet."""
        for wire in given:
            self.put(wire, self.kept(wire))
        for wire in single:
            stub = self.open_end(wire)
            if stub is not None:
                self.put(wire, stub)

    def _lay_all(self, wires: list[str], budget: int) -> None:
        """Lay the wires, then lift and lay each again while the whole gets cheaper."""
        self._lay_with_room(wires)
        for _ in range(ROUNDS if budget else 0):
            worst = sorted(wires, key=lambda w: (-self.cost(self.paths[w]), w))
            some = [w for w in worst if self._improvable(w)][:budget]
            budget -= len(some)
            if not self._lay_again(some):
                return

    def _lay_again(self, wires: Sequence[str]) -> bool:
        """Lift and lay wires once more; tell whether to go on: one changed, work is left."""
        changed = False
        for wire in wires:
            if self._work.left <= 0:
                return False
            before = self.paths[wire]
            self.lift(wire)
            after = self.find(wire) or before
            self.put(wire, after)
            changed = changed or after != before
        return changed

    def _lay_with_room(self, wires: Sequence[str]) -> None:
        """Lay the wires; one that is walled in pushes those in its way, which are laid anew."""
        tries: Counter[str] = Counter()
        todo, mine, pushes = deque(wires), set(wires), ALL_PUSHES
        while todo:
            wire = todo.popleft()
            tries[wire] += 1
            path = self.find(wire)
            if path is None:
                path = self.squeezed(wire)
                mine = {w for w in mine if tries[w] < PUSHES}
                may_push = pushes > 0 and self._work.left > 0
                pushed = self._in_the_way(path, mine)[:pushes] if may_push else []
                for other in pushed:
                    self.lift(other)
                todo += pushed
                pushes -= len(pushed)
            self.put(wire, path)

    def _in_the_way(self, path: Path, wires: set[str]) -> list[str]:
        """Return those of the wires that a path would run along or bend on."""
        mine = list(pairwise(path.points))
        box = path.box.grown(1)
        near = [
            (w, p) for w, p in self.paths.items() if w in wires and p.box.grown(1).overlaps(box)
        ]
        return [w for w, p in near if share(mine, list(pairwise(p.points)))]

    def _improvable(self, wire: str) -> bool:
        """Tell whether a way has crossings or more than two bends: only then is it tried again."""
        path = self.paths[wire]
        return len(path.bends) > 2 or self.crossings(path) > 0
