"""The items of a sheet by id, and what is asked of them: what lies where, how large it is.

Only these tables hold items. Selection, gestures and undo hold ids.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from typing import TypeVar

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtWidgets import QGraphicsScene

from app.scene.geometry import SheetGeometry
from app.scene.items import CardItem, LabelItem, MarkItem, SheetItem, WireItem
from app.scene.stroke import Stroke
from app.scene.type import rectf
from app.theme import Look
from model.circuit import Circuit, End, Sheet

PAPER = QRectF(-30000, -30000, 60000, 60000)
"""The sheet has no edge that a person meets; a fixed one keeps the view from jumping."""
Item = TypeVar("Item", bound=SheetItem)


class HeldScene(QGraphicsScene):
    """Holds the items of everything on one sheet, and tells what lies where."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self.setSceneRect(PAPER)
        self.look = look
        self.circuit = Circuit()
        self.sheet = Sheet("")
        self.geometry = SheetGeometry()
        self._cards: dict[str, CardItem] = {}
        self._wires: dict[str, WireItem] = {}
        self._labels: dict[str, LabelItem] = {}
        self._marks: dict[str, MarkItem] = {}
        self._rests = False
        """Whether the items rest, because the sheet is seen from far away."""

    def pieces_of(self, part_id: str) -> list[str]:
        """Return the ids of the places at which pieces of a part are drawn."""
        return [k for k, c in self._cards.items() if c.part_id == part_id and c.card and
                c.card.piece]  # fmt: skip

    def wire_item(self, key: str) -> WireItem:
        """Return the item of a wire; not to be kept."""
        return self._wires[key]

    def stroke_at(self, key: str) -> Stroke | None:
        """Return the shapes of a wire, None where it is not on this sheet."""
        item = self._wires.get(key)
        return item.stroke if item else None

    def part_item(self, part_id: str) -> CardItem:
        """Return the first item of a part; not to be kept."""
        return next(c for c in self._cards.values() if c.part_id == part_id)

    def part_at(self, point: QPointF) -> CardItem | None:
        """Return the card under a point."""
        return next((c for c in self._cards.values() if _holds(c, point)), None)

    def wire_at(self, point: QPointF) -> str:
        """Return the id of the wire under a point, "" for none."""
        near = ((k, w) for k, w in self._wires.items() if w.bounds.contains(point))
        found = next((k for k, w in near if w.contains(point)), "")
        labels = (k for k, item in self._labels.items() if item.bounds.contains(point))
        return found or self.mark_at(point) or next(labels, "")

    def mark_at(self, point: QPointF) -> str:
        """Return the wire whose mark of where it goes is under a point, "" for none."""
        return next((k for k, item in self._marks.items() if item.bounds.contains(point)), "")

    def end_at(self, point: QPointF, reach: float = 12.0) -> End | None:
        """Return the terminal nearest to a point, None when none is within reach."""
        best, least = None, reach
        for key, card in self.geometry.cards.items():
            place = self.geometry.places[key]
            for port in card.ports.values():
                for spot in port.spots:
                    away = (point - QPointF(place.x + spot.x, place.y + spot.y)).manhattanLength()
                    if away <= least:
                        best, least = _end(place.part, port.node), away
        return best

    def ids_in(self, area: QRectF) -> frozenset[str]:
        """Return the parts and wires that lie wholly within an area."""
        cards = (c.part_id for c in self._cards.values() if area.contains(_outline(c)))
        wires = (
            k
            for k, w in self._wires.items()
            if w.stroke and area.contains(w.stroke.path.boundingRect())
        )
        return frozenset((*cards, *wires))

    def in_order(self) -> list[str]:
        """Return the parts in reading order, then the wires."""
        cards = sorted(self._cards.values(), key=lambda c: (c.x() // 100, c.y()))
        return [*dict.fromkeys(i for c in cards for i in c.ids()), *self._wires]

    def area_of(self, ids: Iterable[str]) -> QRectF:
        """Return the area that these parts and wires take."""
        wanted, area = set(ids), QRectF()
        for card in self._cards.values():
            if wanted.intersection(card.ids()):
                area = area.united(card.area())
        for key in wanted & self._wires.keys():
            area = area.united(self._wires[key].area())
        return area

    def contents(self) -> QRectF:
        """Return the area of everything drawn."""
        area = QRectF()
        for item in self._all():
            area = area.united(item.area())
        return area

    def detach(self) -> None:
        """Let every item go."""
        self._cards.clear()
        self._wires.clear()
        self._labels.clear()
        self._marks.clear()
        self.clear()

    def _rest(self, rests: bool) -> None:
        """Let the items rest while the sheet is seen from far away, or come back.

        Asked before the items are painted: a view looks for them after its background.
        """
        if rests != self._rests:
            self._rests = rests
            for item in self._all():
                item.setVisible(not rests and not item.hidden)

    def _all(self) -> list[SheetItem]:
        words = (*self._labels.values(), *self._marks.values())
        return [*self._cards.values(), *self._wires.values(), *words]

    def _take(self, table: dict[str, Item], key: str, item: Item) -> Item:
        if key in table:
            self.removeItem(table.pop(key))
        table[key] = item
        item.setVisible(not self._rests)
        self.addItem(item)
        return item

    def _drop(self, table: dict[str, Item], keep: Collection[str]) -> None:
        for key in [k for k in table if k not in keep]:
            self.removeItem(table.pop(key))


def _end(part_id: str, node: str) -> End:
    """Return the end that a node of a part is."""
    key, _, face = node.partition("/")
    return End(part_id, key, face)


def _outline(card: CardItem) -> QRectF:
    return rectf(card.card.body).translated(card.pos()) if card.card else QRectF()


def _holds(card: CardItem, point: QPointF) -> bool:
    """Return whether a point lies on a card or its tag."""
    if card.card is None:
        return False
    local = point - card.pos()
    return rectf(card.card.body).contains(local) or rectf(card.card.tag).contains(local)
