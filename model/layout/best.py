"""The best drawing of a whole circuit: several are made and routed, and the most promising ones
bettered card by card.

The same circuit gives the same drawing, and the last ones found are kept.
"""

from __future__ import annotations

from functools import lru_cache
from math import inf

from model.circuit import Circuit, Place
from model.layout.choice import Choice
from model.layout.drawing import Drawing
from model.layout.drawn import Drawn
from model.layout.polish import Polish
from model.layout.sizes import Sizes

MOST_PARTS = 40
"""Larger drawings are made once: a try costs too much there."""
LOOKS = 300
"""How many wires are looked at while choices are tried."""
FEW = 24
"""Choices are tried in circuits of up to so many wires: more would take too long."""
TRIES = 500
"""How many wires are looked at while one drawing is bettered."""
LEAST_TRIES = 33
"""How many tries there are at least."""
STARTS = 3
"""How many other drawings are bettered a little; the best of them then further."""
SWITCHING = ("control", "joint")
KEPT = 32

Poses = dict[str, Place]


class _Key:
    """A circuit by what its drawing depends on."""

    def __init__(self, circuit: Circuit, sizes: Sizes | None) -> None:
        self.circuit = circuit
        self.sizes = sizes
        parts = [(p, p.host, p.slot) for p in circuit.parts.values()]
        self.text = repr((parts, circuit.wires, circuit.own_kinds, sizes))

    def __hash__(self) -> int:
        return hash(self.text)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Key) and self.text == other.text


def best_of(circuit: Circuit, sizes: Sizes | None = None) -> Poses:
    """Return how every card stands in the best drawing found, by part."""
    return dict(_best(_Key(circuit, sizes)))


@lru_cache(maxsize=KEPT)
def _best(key: _Key) -> Poses:
    return _Search(key.circuit, key.sizes).best()


class _Search:
    """The steps of finding it."""

    def __init__(self, circuit: Circuit, sizes: Sizes | None) -> None:
        self.circuit = circuit
        self.sizes = sizes
        self.work = Polish(circuit, sizes)
        self.seen: dict[Choice, Drawn | None] = {}
        families = self.work.families
        self.behind = [p for p, f in families.items() if f in SWITCHING]
        self.over = [p for p, f in families.items() if f in ("relay", "control")]

    def best(self) -> Poses:
        """Return the best drawing."""
        plain = self._plain(Choice())
        if len(plain.places) < 2 or not self.circuit.wires:
            return plain.places
        least = plain.shown()
        for drawn in sorted(self._bettered(), key=lambda d: d.cost):
            if drawn is plain or drawn.shown() >= least:
                return drawn.places
        return plain.places

    def _plain(self, choice: Choice) -> Drawn:
        """Return the drawing of a choice."""
        drawn = self._drawn(choice, inf)
        assert drawn is not None  # nothing is too dear
        return drawn

    def _drawn(self, choice: Choice, limit: float) -> Drawn | None:
        """Return the drawing of a choice, made once; None where it costs too much."""
        if choice not in self.seen:
            drawing = Drawing(self.circuit, self.sizes, choice)
            places = {
                p: Place(p, p, *xy, turn=180 if p in choice.over else 0,
                         mirrored=p in drawing.mirrored)
                for p, xy in drawing.spots().items()
            }  # fmt: skip
            self.seen[choice] = self.work.drawn(places, limit)
        return self.seen[choice]

    def _look(self) -> None:
        """Go from choice to choice while drawings get better."""
        most = max(3, LOOKS // len(self.circuit.wires))
        now = Choice()
        while True:
            before = now
            for other in before.others(self.behind, self.over):
                if len(self.seen) >= most:
                    return
                best = sorted(d.cost for d in self.seen.values() if d is not None)
                drawn = self._drawn(other, best[min(len(best) - 1, STARTS)] + 1)
                if drawn is not None and drawn.cost < self._plain(now).cost - 1:
                    now = other
            if now == before:
                return

    def _bettered(self) -> list[Drawn]:
        """Return the most promising drawings, bettered, and as they were.

        Where the first one comes out without crossings, or in large circuits, others are not
        looked for.
        """
        tries = max(LEAST_TRIES, TRIES // len(self.circuit.wires))
        first = [self._plain(Choice()), self._plain(Choice(turn_joints=False))]
        first.sort(key=lambda d: d.cost)
        better = [self.work.run(first[0], tries)]
        if better[0].crossings and len(self.circuit.wires) <= FEW:
            self._look()
            starts = {d.cost: d for d in self.seen.values() if d not in (None, first[0])}
            best = [starts[k] for k in sorted(starts)[:STARTS]]
            little = [self.work.run(d, tries // (2 * STARTS)) for d in best]
            least = min(little, key=lambda d: d.cost, default=first[0])
            better += [*little, self.work.run(least, tries // 2)]
        return [*better, *first]
