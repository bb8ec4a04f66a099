"""The sheet: it mirrors one sheet of the circuit through a table from id to item.

Only this table holds items. Selection, gestures and undo hold ids. The scene shows a circuit that
it is given, so a gesture can let it show the circuit as it would be.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from typing import TypeVar

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QGraphicsScene

from app.scene.geometry import SheetGeometry, lay_out
from app.scene.given import code_of, look_of, texts_of, used_spots
from app.scene.items import CardItem, LabelItem, MarkItem, SheetItem, WireItem
from app.scene.paint_far import FAR, FarSheet
from app.scene.paint_link import paint_links
from app.scene.paint_sheet import paint_ground, paint_hint
from app.scene.painted import PaintedPart, PaintedWire
from app.scene.roomy import for_class
from app.scene.stroke import Stroke, stroke_of, toward
from app.scene.type import rectf, zoom_of
from app.theme import Look
from model.circuit import Circuit, End, Sheet
from model.layout.sizes import Sizes

PAPER = QRectF(-30000, -30000, 60000, 60000)
"""The sheet has no edge that a person meets; a fixed one keeps the view from jumping."""
NOWHERE = QRectF()
MANY = 150
"""Wires of a sheet from which the items rest when it is seen from far away."""
Item = TypeVar("Item", bound=SheetItem)
Layouts = tuple[Sizes | None, SheetGeometry, SheetGeometry]
"""Sizes, the layout with cards of these sizes, and that with cards of the other theme's."""


class SheetScene(QGraphicsScene):
    """Items for everything on one sheet, by id."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self.setSceneRect(PAPER)
        self.look = look
        self.circuit = Circuit()
        self.sheet = Sheet("")
        self.geometry = SheetGeometry()
        self.sizes: Sizes | None = None
        self._asked: tuple[object, object, object] = (None, None, None)
        self._other = SheetGeometry()
        self.grid_shown = True
        self.codes_shown = False
        """Whether labels have the code of the wire's colour: on paper it may be printed black."""
        self._cards: dict[str, CardItem] = {}
        self._wires: dict[str, WireItem] = {}
        self._labels: dict[str, LabelItem] = {}
        self._marks: dict[str, MarkItem] = {}
        self._rests = False
        """Whether the items rest, because the sheet is seen from far away."""
        self._awake = False
        self._far: FarSheet | None = None
        self._apart: dict[str, list[QPointF]] = {}
        """Where the pieces of parts that are drawn apart stand."""
        self.piece = ""
        """Id of the place that is held alone, of a part whose coil and contacts are apart."""
        self._marked: tuple[frozenset[str], frozenset[str]] = (frozenset(), frozenset())

    def show_circuit(self, circuit: Circuit, sheet: Sheet, quick: bool = False) -> None:
        """Show this circuit: add, change and remove items where it differs from the last one.

        `quick` is for the time of a drag: labels of wires that move are left out.
        """
        self.circuit, self.sheet = circuit, sheet
        self._take_sizes()
        self.geometry = lay_out(circuit, sheet, self.geometry, quick, self.sizes, self.codes_shown)
        blank = not self._cards
        self._mirror_cards(self._mirror_wires())
        self._link_pieces()
        self._forget_far()
        if blank is not (not self._cards):
            self.update()

    def forget_layout(self) -> None:
        """Lay out anew the parts that no one has placed."""
        self.geometry = self._other = SheetGeometry()

    def change_layout(self, to: Layouts | None) -> Layouts:
        """Take the layouts of another sheet, None where they are to be made; return those left."""
        left = (self.sizes, self.geometry, self._other)
        sizes, here, other = to or (self.sizes, SheetGeometry(), SheetGeometry())
        same = (sizes is None) == (self.sizes is None)
        self.geometry, self._other = (here, other) if same else (other, here)
        return left

    @property
    def is_of_other_theme(self) -> bool:
        """Whether the theme in force wants cards of other sizes than those shown."""
        return (self.look.theme.sizes is None) != (self.sizes is None)

    def _take_sizes(self) -> None:
        """Take the theme's sizes; the layout of the others is kept for when they come back.

        A layout of cards that the circuit has outgrown is made anew.
        """
        if self.is_of_other_theme:
            self.geometry, self._other = self._other, self.geometry
        asked = (self.circuit.parts, self.circuit.wires, self.look.theme.sizes)
        if any(now is not before for now, before in zip(asked, self._asked, strict=True)):
            self._asked, self.sizes = asked, for_class(self.circuit, self.look.theme.sizes)
        made = next(iter(self.geometry.cards.values()), None)
        if made is not None and self.sizes is not None and made.sizes != self.sizes:
            self.geometry = SheetGeometry()

    def show_state(
        self, parts: dict[str, PaintedPart], wires: dict[str, PaintedWire], overlay: str
    ) -> None:
        """Give every item what it is to paint."""
        for card in self._cards.values():
            card.show_state(parts.get(card.part_id, PaintedPart()))
        for key, item in self._wires.items():
            painted = wires.get(key, PaintedWire())
            item.show_state(painted, overlay)
            if label := self._labels.get(key):
                label.say(label.bounds, texts_of(painted, overlay, self._code(key)))
        self._forget_far()

    def mark(self, chosen: frozenset[str], on_path: frozenset[str]) -> None:
        """Show these parts and wires as selected, those as standing on the path.

        Of a part drawn apart the place that is held is selected, the others are on its path.
        """
        self._marked = (chosen, on_path)
        held = self._cards.get(self.piece)
        if held is None or chosen != {held.part_id}:
            self.piece = ""
        for card in self._cards.values():
            ids = card.ids()
            ours, way = any(i in chosen for i in ids), any(i in on_path for i in ids)
            other = bool(self.piece) and ours and card.key != self.piece
            card.mark(ours and not other, way or other)
        for item in (*self._wires.values(), *self._labels.values(), *self._marks.values()):
            item.mark(item.key in chosen, item.key in on_path)
        self._forget_far()

    def hold(self, place_id: str) -> None:
        """Hold one place of the selected part where that is drawn apart; "" all of them."""
        if place_id != self.piece:
            self.piece = place_id
            self.mark(*self._marked)

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
                area = area.united(card.sceneBoundingRect())
        for key in wanted & self._wires.keys():
            area = area.united(self._wires[key].sceneBoundingRect())
        return area

    def contents(self) -> QRectF:
        """Return the area of everything drawn."""
        area = QRectF()
        for item in self._all():
            area = area.united(item.sceneBoundingRect())
        return area

    def restyle(self) -> None:
        """Paint everything anew: the theme changed."""
        for item in self._all():
            item.update()
        self._forget_far()
        self.invalidate(self.sceneRect())

    def detach(self) -> None:
        """Let every item go."""
        self._cards.clear()
        self._wires.clear()
        self._labels.clear()
        self._marks.clear()
        self._far = None
        self.clear()

    def drawBackground(self, painter: QPainter, rect: QRectF | object) -> None:
        """Paint the paper and its grid of dots."""
        assert isinstance(rect, QRectF)
        theme, zoom = self.look.theme, zoom_of(painter.transform())
        paint_ground(painter, rect, theme, zoom, self.grid_shown)
        self._rest(zoom < FAR and len(self._wires) >= MANY and not self._awake)
        if self._apart:
            paint_links(painter, self._apart, theme, zoom)
        if self._rests:
            self._far = self._far or FarSheet(self._cards.values(), self._wires.values(), theme)
            self._far.paint(painter, rect, zoom)
        if not self._cards and self.grid_shown:
            paint_hint(painter, self.look.theme)

    def render(
        self,
        painter: QPainter,
        target: QRectF = NOWHERE,  # type: ignore[override]
        source: QRectF = NOWHERE,  # type: ignore[override]
        mode: Qt.AspectRatioMode = Qt.AspectRatioMode.KeepAspectRatio,
    ) -> None:
        """Paint an area of the sheet onto a device: the items themselves, near or far."""
        self._rest(False)
        self._awake = True
        super().render(painter, target, source, mode)
        self._awake = False

    def _rest(self, rests: bool) -> None:
        """Let the items rest while the sheet is seen from far away, or come back.

        Asked before the items are painted: a view looks for them after its background.
        """
        if rests != self._rests:
            self._rests = rests
            for item in self._all():
                item.setVisible(not rests and not item.hidden)

    def _forget_far(self) -> None:
        """Gather anew what is seen from far away; the items do not paint it themselves."""
        self._far = None
        if self._rests:
            self.update()

    def _all(self) -> list[SheetItem]:
        words = (*self._labels.values(), *self._marks.values())
        return [*self._cards.values(), *self._wires.values(), *words]

    def _mirror_cards(self, touched: set[str]) -> None:
        """Give the cards their places; those are not touched that are as they were.

        `touched` are parts at which wires end that have changed.
        """
        self._drop(self._cards, self.geometry.places.keys())
        parts = self.circuit.parts
        touched |= {parts[p].host for p in touched if p in parts}
        ends = {p for w in self.geometry.wires.values() for p in (w[0], w[-1])}
        for key, place in self.geometry.places.items():
            part, card = parts[place.part], self.geometry.cards[key]
            item = self._cards.get(key)
            if item is None or item.part_id != place.part:
                item = self._take(self._cards, key, CardItem(key, place.part, self.look))
            shown = (part, place, card)
            if part.id in touched or item.shown != shown:
                item.shown = shown
                texts = (part.reference, part.name)
                item.stand(card, place.x, place.y, texts, used_spots(card, place, ends))

    def _link_pieces(self) -> None:
        """Note which places are joined by a link, and paint it anew where they have moved."""
        found: dict[str, list[QPointF]] = {}
        for card in self._cards.values():
            if card.card is not None and card.card.piece:
                found.setdefault(card.part_id, []).append(card.pos())
        if found != self._apart:
            self._apart = found
            self.update()

    def _mirror_wires(self) -> set[str]:
        """Give the wires their ways; return the parts at which a wire that has changed ends.

        Those are not touched that keep record, way and label: while one part is dragged about a
        large sheet that is nearly all of them.
        """
        wires, labels = self.circuit.wires, self.geometry.labels
        gone = [w for k, w in self._wires.items() if k not in self.geometry.wires]
        touched = {part for item in gone for part in item.parts()}
        self._drop(self._wires, self.geometry.wires.keys())
        self._drop(self._labels, self.geometry.wires.keys())
        for key, points in self.geometry.wires.items():
            item = self._wires.get(key)
            if item is None:
                item = self._take(self._wires, key, WireItem(key, self.look))
            shown = (wires[key], points, labels.get(key))
            if item.shown == shown:
                continue
            touched |= item.parts()
            item.shown = shown
            touched |= item.parts()
            item.run(stroke_of(points), look_of(wires[key], points))
            self._label(key, item.painted, item.overlay)
        self._mirror_marks()
        return touched

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
