"""Where everything is on one sheet: places, cards, wires, labels, asked from the model's layout.

The scene asks here and nowhere else, so that the layout can change without the items knowing.
Wires that a change does not concern keep their way; only the others are laid anew.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from itertools import pairwise

from model.circuit import Circuit, End, Place, Route, Sheet, Wire
from model.layout.card import Card, cards
from model.layout.geometry import Point, Rect
from model.layout.labels import place_labels
from model.layout.place import arrange
from model.layout.route import Path, Router

GRID = 10.0
WIDEST = "88.8 A"
"""A reading as wide as they get, for which labels keep room."""
CLEAR = 10.0
"""Room that a wire which keeps its way must have from a card that moved."""


@dataclass(frozen=True, slots=True)
class SheetGeometry:
    """Places and cards by place id; corners of wires and the areas of their labels by wire id.

    `sheet` is the sheet with every place on it; `auto` names the places that the automatic layout
    made and that are not in the file; `records` are the wires that were laid.
    """

    sheet: Sheet = field(default_factory=lambda: Sheet(""))
    auto: frozenset[str] = frozenset()
    cards: Mapping[str, Card] = field(default_factory=dict)
    wires: Mapping[str, tuple[Point, ...]] = field(default_factory=dict)
    labels: Mapping[str, Rect] = field(default_factory=dict)
    records: Mapping[str, Wire] = field(default_factory=dict)
    whole: bool = True

    @property
    def places(self) -> Mapping[str, Place]:
        """Every place by its id."""
        return self.sheet.places

    def terminal(self, end: End | None) -> Point | None:
        """Return where a terminal stands, None where its part is not on the sheet."""
        for key, place in self.places.items():
            if end is None or place.part != end.part or key not in self.cards:
                continue
            if port := self.cards[key].ports.get(end.node[1]):
                return (place.x + port.x, place.y + port.y)
        return None


def lay_out(
    circuit: Circuit, sheet: Sheet, before: SheetGeometry, quick: bool = False
) -> SheetGeometry:
    """Return the geometry of a sheet; what did not change since `before` is taken from it.

    Parts without a place keep the one they had, else get one of the automatic layout. `quick`
    leaves out the labels of wires that move: it is for the time of a drag.
    """
    whole, auto = _whole(circuit, sheet, before)
    made = cards(circuit, whole)
    unmoved = whole == before.sheet and made == before.cards
    if unmoved and before.whole and circuit.wires == before.records:
        return before
    steady = _steady(circuit, whole, made, before)
    trial = replace(
        whole, routes={**{k: _as_kept(k, p) for k, p in steady.items()}, **whole.routes}
    )
    paths = Router(circuit, trial, made).route()
    wires = {k: path.points for k, path in paths.items()}
    labels = {k: r for k, r in before.labels.items() if wires.get(k) == before.wires[k]}
    if not quick:
        labels = _labels(circuit, whole, paths, made)
    return SheetGeometry(whole, auto, made, wires, labels, circuit.wires, not quick)


def _whole(circuit: Circuit, sheet: Sheet, before: SheetGeometry) -> tuple[Sheet, frozenset[str]]:
    """Return the sheet with a place for every part, and which of the places are automatic."""
    places = {k: p for k, p in sheet.places.items() if p.part in circuit.parts}
    stray = _stray(circuit, sheet)
    if not stray:
        return replace(sheet, places=places), frozenset()
    known = [p for k, p in before.places.items() if k in before.auto and p.part in stray]
    auto = {p.id: p for p in known if p.id not in places}
    missing = stray - {p.part for p in auto.values()}
    if missing:
        held = replace(sheet, places={**places, **auto})
        trial = replace(circuit, sheets={**circuit.sheets, sheet.id: held})
        auto |= {p.id: p for p in arrange(trial, sheet.id, missing)}
    return replace(sheet, places={**places, **auto}), frozenset(auto)


def _stray(circuit: Circuit, sheet: Sheet) -> set[str]:
    """Return the parts that stand on no sheet; they are shown on the first."""
    first = next(iter(circuit.sheets), sheet.id)
    if sheet.id != first:
        return set()
    others = (s for k, s in circuit.sheets.items() if k != sheet.id)
    shown = {p.part for s in (sheet, *others) for p in s.places.values()}
    return {p.id for p in circuit.parts.values() if p.id not in shown and not p.host}


def _steady(
    circuit: Circuit, sheet: Sheet, made: Mapping[str, Card], before: SheetGeometry
) -> dict[str, tuple[Point, ...]]:
    """Return the ways of the wires that nothing which changed concerns."""
    changed = [
        p for k, p in sheet.places.items()
        if before.places.get(k) != p or before.cards.get(k) != made[k]
    ]  # fmt: skip
    parts = {p.part for p in changed}
    areas = [made[p.id].outer.moved(p.x, p.y).grown(CLEAR) for p in changed]
    kept = {}
    for key, points in before.wires.items():
        wire, old = circuit.wires.get(key), before.records[key]
        if wire is None or (wire.first, wire.second) != (old.first, old.second):
            continue
        touched = any(e and _drawn(circuit, e.part) in parts for e in (wire.first, wire.second))
        if not touched and not _crosses(points, areas):
            kept[key] = points
    return kept


def _drawn(circuit: Circuit, part_id: str) -> str:
    """Return the part on whose card a part is drawn: its host's, if it has one."""
    part = circuit.parts.get(part_id)
    return part.host if part and part.host else part_id


def _crosses(points: tuple[Point, ...], areas: list[Rect]) -> bool:
    return any(area.crossed_by(a, b) for area in areas for a, b in pairwise(points))


def _as_kept(key: str, points: tuple[Point, ...]) -> Route:
    """Return a way as bends to be kept; a straight one as a point on it."""
    (ax, ay), (bx, by) = points[0], points[-1]
    return Route(key, points[1:-1] or (((ax + bx) / 2, (ay + by) / 2),))


def _labels(
    circuit: Circuit, sheet: Sheet, paths: Mapping[str, Path], made: Mapping[str, Card]
) -> dict[str, Rect]:
    placed = place_labels(circuit, sheet, paths, made, _texts(circuit, paths))
    return {k: label.rect for k, label in placed.items() if label is not None}


def _texts(circuit: Circuit, wires: Iterable[str]) -> dict[str, tuple[str, ...]]:
    """Return what each label may have to say, shortest first; room is kept for a reading."""
    found: dict[str, tuple[str, ...]] = {}
    for key in wires:
        wire = circuit.wires[key]
        long = f"{wire.number} · {wire.size.text()}" if wire.size else wire.number
        found[key] = (wire.number, long, f"{long} · {WIDEST}") if wire.number else ()
    return found
