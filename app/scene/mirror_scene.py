"""The items brought in step with the geometry: added, changed, removed where it differs.

While a part is dragged only those are looked at that lie elsewhere than at rest, now or a step
before, and of a wire only the strips are painted anew along which it ran and runs.
"""

from __future__ import annotations

from collections import Counter

from PySide6.QtCore import QPointF, QRectF

from app.scene.geometry import SheetGeometry
from app.scene.given import code_of, look_of, texts_of, used_spots
from app.scene.hand import HandItem
from app.scene.held_scene import PAPER, HeldScene
from app.scene.items import CardItem, LabelItem, MarkItem, WireItem
from app.scene.painted import PaintedWire
from app.scene.stroke import stroke_of, toward
from app.scene.type import rectf
from app.theme import Look
from model.circuit import Wire
from model.layout.geometry import Point


class MirrorScene(HeldScene):
    """Mirrors a geometry."""

    def __init__(self, look: Look) -> None:
        super().__init__(look)
        self.codes_shown = False
        """Whether labels have the code of the wire's colour: on paper it may be printed black."""
        self._apart: dict[str, list[QPointF]] = {}
        """Where the pieces of parts that are drawn apart stand."""
        self._ends: Counter[Point] = Counter()
        """How many wires end at each point."""
        self._homes: dict[str, list[str]] = {}
        """The places of each part."""
        self._seen = SheetGeometry()
        self._held: tuple[object, object] = (None, None)
        """The parts and wires of the circuit mirrored last."""
        self._hand = HandItem(PAPER)
        self.addItem(self._hand)
        self._stirred: set[str] = set()
        """Wires that were held at some time of a drag."""
        self._carried: set[str] = set()
        """Cards that are dragged: their picture is kept and only put elsewhere."""
        self._strips: list[QRectF] = []
        """Areas in which those wires are to be painted anew."""

    def detach(self) -> None:
        """Let every item go."""
        self._hand.held.clear()
        super().detach()
        self._seen, self._held = SheetGeometry(), (None, None)
        self._ends.clear()
        self._stirred.clear()
        self._carried.clear()
        self._strips.clear()

    def _rest(self, rests: bool) -> None:
        """Let the items rest, that for the wires held with them."""
        if rests != self._rests:
            self._hand.setVisible(not rests)
        super()._rest(rests)

    def _mirror(self) -> None:
        """Bring the items in step with the geometry."""
        now, before = self.geometry, self._seen
        step = self._is_step(now, before)
        wires = now.moved | before.moved if step else None
        touched = self._mirror_wires(wires)
        places = now.shifted | before.shifted if step else None
        self._mirror_cards(touched, places)
        if not step or self._apart:
            self._link_pieces()
        self._seen = now
        if now.whole:
            self._settle()
        for strip in self._strips:  # after the cards have moved, or Qt paints twice
            self.update(strip)
        self._strips.clear()

    def _is_step(self, now: SheetGeometry, before: SheetGeometry) -> bool:
        """Tell whether two geometries are steps of one drag, or its beginning or its end."""
        held, self._held = self._held, (self.circuit.parts, self.circuit.wires)
        same = all(a is b for a, b in zip(held, self._held, strict=True))
        return same and now.at_rest is before.at_rest and now.wires.keys() == before.wires.keys()

    def _mirror_wires(self, keys: frozenset[str] | None) -> set[str]:
        """Give the wires their ways; return the parts at which a wire that has changed ends.

        `keys` are those that may have changed, None all. Those are not touched that keep record,
        way and label: of a large sheet that is nearly all of them.
        """
        wires = self.geometry.wires
        touched: set[str] = set()
        if keys is None:
            for item in [w for k, w in self._wires.items() if k not in wires]:
                touched |= item.parts()
                self._count(item, -1)
                if item.held:
                    self._strips.append(item.bounds)
            self._drop(self._wires, wires.keys())
            self._drop(self._labels, wires.keys())
        for key in wires if keys is None else keys:
            touched |= self._mirror_wire(key, self.circuit.wires[key], wires[key])
        if keys is None or self.geometry.marks is not self._seen.marks:
            self._mirror_marks()
        return touched

    def _mirror_wire(self, key: str, wire: Wire, points: tuple[Point, ...]) -> set[str]:
        """Give one wire its way; return the parts at which it ended and ends, if it changed."""
        item = self._wires.get(key)
        if item is None:
            item = self._take(self._wires, key, WireItem(key, self.look))
        shown = (wire, points, self.geometry.labels.get(key))
        if item.shown == shown:
            return set()
        touched = item.ends_moved(wire, points)
        self._count(item, -1)
        item.shown = shown
        self._count(item, 1)
        dragging = not self.geometry.whole
        self._strips += item.run(stroke_of(points), look_of(wire, points), dragging)
        self._hand.hold(key, item, key in self.geometry.moved)
        if dragging:
            self._stirred.add(key)
        self._label(key, item.painted, item.overlay)
        return touched

    def _count(self, item: WireItem, by: int) -> None:
        """Count the ends of a wire as it is shown, or count them no longer."""
        points = item.shown[1] if item.shown else ()
        for point in (points[0], points[-1]) if points else ():
            self._ends[point] += by
            if not self._ends[point]:
                del self._ends[point]

    def _settle(self) -> None:
        """Give all wires that were held back to their items, paint cards anew: it is let go."""
        for key in self._stirred & self._wires.keys():
            self._hand.hold(key, self._wires[key], False)
            self._wires[key].settle()
        for key in self._carried & self._cards.keys():
            self._cards[key].setCacheMode(CardItem.CacheMode.NoCache)
        self._hand.held.clear()
        self._stirred.clear()
        self._carried.clear()

    def _mirror_cards(self, touched: set[str], keys: frozenset[str] | None) -> None:
        """Give the cards their places; those are not touched that are as they were.

        `touched` are parts at which wires end that have changed, `keys` the places that may have
        changed besides, None all.
        """
        places, parts = self.geometry.places, self.circuit.parts
        touched |= {parts[p].host for p in touched if p in parts}
        if keys is None:
            self._drop(self._cards, places.keys())
            self._homes = {}
            for key, place in places.items():
                self._homes.setdefault(place.part, []).append(key)
        else:
            keys = keys.union(*(self._homes.get(p, ()) for p in touched))
        for key in places if keys is None else keys:
            self._mirror_card(key, touched)

    def _mirror_card(self, key: str, touched: set[str]) -> None:
        """Give one card its place."""
        place, card = self.geometry.places[key], self.geometry.cards[key]
        part, item = self.circuit.parts[place.part], self._cards.get(key)
        if item is None or item.part_id != place.part:
            item = self._take(self._cards, key, CardItem(key, place.part, self.look))
        shown = (part, place, card)
        if part.id in touched or item.shown != shown:
            item.shown = shown
            texts = (part.reference, part.name)
            item.stand(card, place.x, place.y, texts, used_spots(card, place, self._ends))
        if key in self.geometry.shifted and key not in self._carried:
            self._carried.add(key)
            item.setCacheMode(CardItem.CacheMode.DeviceCoordinateCache)

    def _link_pieces(self) -> None:
        """Note which places are joined by a link, and paint it anew where they have moved."""
        found: dict[str, list[QPointF]] = {}
        for card in self._cards.values():
            if card.card is not None and card.card.piece:
                found.setdefault(card.part_id, []).append(card.pos())
        if found != self._apart:
            self._apart = found
            self.update()

    def _mirror_marks(self) -> None:
        """Give the wires that leave the sheet their marks."""
        self._drop(self._marks, self.geometry.marks.keys())
        for key, mark in self.geometry.marks.items():
            held = self._marks.get(key)
            made = held or self._take(self._marks, key, MarkItem(key, self.look))
            made.say(rectf(mark.rect), mark.text)

    def _label(self, key: str, painted: PaintedWire, overlay: str) -> None:
        item = self._labels.get(key)
        if item is None:
            item = self._take(self._labels, key, LabelItem(key, self.look))
        area = self.geometry.labels.get(key)
        if area is None and item.hidden:
            return
        item.hidden = area is None
        item.setVisible(not item.hidden and not self._rests)
        if area is None:
            item.say(QRectF(), item.texts)  # no room: it is not where it was before either
            return
        item.toward = toward(self.geometry.wires[key], area)
        if not painted.number:
            wire = self.circuit.wires[key]
            painted = PaintedWire(number=wire.number, size=wire.size.text() if wire.size else "")
        item.say(rectf(area), texts_of(painted, overlay, self._code(key)))

    def _code(self, key: str) -> str:
        """Return the code of a wire's colours where labels have it."""
        wire = self.circuit.wires.get(key)
        if wire is None or not self.codes_shown:
            return ""
        return code_of(wire)
