"""How good a drawing is: overlaps, wires through cards or along each other, crossings, bends."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

from model.circuit import Sheet
from model.layout.geometry import Rect, Stretch, cross, share, united
from model.layout.path import Path
from model.layout.shape import Card


@dataclass(frozen=True, slots=True)
class Quality:
    """What is wrong with a drawing, by ids, and what it costs the eye.

    `overlaps` are pairs of places whose cards or card labels overlap; `through` pairs of a wire
    and a place whose card or label it enters; `along` pairs of wires that share a line or touch
    at a bend; `length` is in scene units.
    """

    overlaps: tuple[tuple[str, str], ...]
    through: tuple[tuple[str, str], ...]
    along: tuple[tuple[str, str], ...]
    crossings: int
    bends: int
    length: float

    @property
    def sound(self) -> bool:
        """Tell whether nothing overlaps."""
        return not (self.overlaps or self.through or self.along)


def measure(sheet: Sheet, cards: Mapping[str, Card], paths: Mapping[str, Path]) -> Quality:
    """Measure a drawing of a sheet."""
    areas = {p.id: _areas(cards[p.id], p.x, p.y) for p in sheet.places.values() if p.id in cards}
    lines = {w: list(pairwise(p.points)) for w, p in paths.items()}
    near = list(_near(paths))
    return Quality(
        overlaps=tuple(p for p in combinations(areas, 2) if _meet(areas[p[0]], areas[p[1]])),
        through=tuple(_through(lines, areas)),
        along=tuple(p for p in near if share(lines[p[0]], lines[p[1]])),
        crossings=sum(_crossings(lines[a], lines[b]) for a, b in near),
        bends=sum(len(p.bends) for p in paths.values()),
        length=sum(p.length for p in paths.values()),
    )


def _near(paths: Mapping[str, Path]) -> Iterable[tuple[str, str]]:
    """Yield the pairs of ways whose surroundings meet: only these can touch."""
    boxes = {w: united(Rect(x, y, 0, 0) for x, y in p.points).grown(1) for w, p in paths.items()}
    return (p for p in combinations(boxes, 2) if boxes[p[0]].overlaps(boxes[p[1]]))


def _areas(card: Card, x: float, y: float) -> list[Rect]:
    """Return the card, its tag and its name on the sheet."""
    return [r.moved(x, y) for r in (card.body, card.tag, card.name) if r.w]


def _meet(a: Sequence[Rect], b: Sequence[Rect]) -> bool:
    return any(p.overlaps(q) for p in a for q in b)


def _through(
    lines: Mapping[str, Sequence[Stretch]], areas: Mapping[str, Sequence[Rect]]
) -> Iterable[tuple[str, str]]:
    """Yield the wires that enter a card or a label, with its place."""
    for wire, stretches in lines.items():
        for place, rects in areas.items():
            if any(r.crossed_by(a, b) for r in rects for a, b in stretches):
                yield (wire, place)


def _crossings(first: Sequence[Stretch], second: Sequence[Stretch]) -> int:
    return sum(1 for p in first for q in second if cross(p, q))
