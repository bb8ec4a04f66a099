"""Where everything is on one sheet: places, cards, wires, labels, asked from the model's layout.

The scene asks here and nowhere else, so that the layout can change without the items knowing.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from model.circuit import Circuit, End, Place, Sheet
from model.layout.card import Card, cards
from model.layout.geometry import Point, Rect
from model.layout.place import arrange
from model.layout.route import Router

GRID = 10.0


@dataclass(frozen=True, slots=True)
class SheetGeometry:
    """Places and cards by place id; corners of wires and the areas of their labels by wire id.

    `sheet` is the sheet with every place on it; `auto` names the places that the automatic layout
    made and that are not in the file.
    """

    sheet: Sheet = field(default_factory=lambda: Sheet(""))
    auto: frozenset[str] = frozenset()
    cards: Mapping[str, Card] = field(default_factory=dict)
    wires: Mapping[str, tuple[Point, ...]] = field(default_factory=dict)
    labels: Mapping[str, Rect] = field(default_factory=dict)
    ends: Mapping[str, object] = field(default_factory=dict)

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


def lay_out(circuit: Circuit, sheet: Sheet, before: SheetGeometry) -> SheetGeometry:
    """Return the geometry of a sheet; what did not change since `before` is taken from it.

    Parts without a place keep the one they had, else get one of the automatic layout.
    """
    whole, auto = _whole(circuit, sheet, before)
    made = cards(circuit, whole)
    ends = {w.id: (w.first, w.second) for w in circuit.wires.values()}
    same = whole == before.sheet and made == before.cards and ends == before.ends
    if same:
        return before
    paths = Router(circuit, whole, made).route()
    wires = {k: path.points for k, path in paths.items()}
    return SheetGeometry(whole, auto, made, wires, {}, ends)


def _whole(circuit: Circuit, sheet: Sheet, before: SheetGeometry) -> tuple[Sheet, frozenset[str]]:
    """Return the sheet with a place for every part, and which of the places are automatic."""
    places = {k: p for k, p in sheet.places.items() if p.part in circuit.parts}
    shown = {p.part for p in places.values()}
    stray = {p.id for p in circuit.parts.values() if p.id not in shown and not p.host}
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
