"""The items of a sheet: a card, a wire, a wire's label. They hold an id and values, and paint."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen
from PySide6.QtWidgets import QGraphicsRectItem, QStyleOptionGraphicsItem, QWidget

from app.scene.guests import guest_areas
from app.scene.paint_card import paint_chosen, paint_part, paint_shown
from app.scene.paint_label import paint_label, paint_mark
from app.scene.paint_wire import WireLook, is_pale, paint_halo, paint_handles, paint_wire
from app.scene.painted import PaintedPart, PaintedWire
from app.scene.stroke import Stroke, changed_strips
from app.scene.type import rectf, zoom_of
from app.theme import Look
from model.circuit import Part, Place, Wire
from model.layout.card import Card
from model.layout.geometry import Point, Rect

WIRES, CARDS, LABELS, OVER = 0.0, 10.0, 20.0, 30.0
"""Heights in the pile: labels lie over cards, cards over wires."""
Options = QStyleOptionGraphicsItem


class SheetItem(QGraphicsRectItem):
    """What every item of the sheet has: an id, the look, whether it is selected or shown.

    It is a rectangle without a line, so that Qt knows its bounds without asking Python for them
    several times for each item that it paints.
    """

    def __init__(self, key: str, look: Look, height: float) -> None:
        super().__init__()
        self.key = key
        self.look = look
        self.chosen = False
        self.on_path = False
        self.bounds = QRectF()
        self.hidden = False
        """Whether it is not to be seen, from near or far."""
        self.setPen(QPen(Qt.PenStyle.NoPen))
        self.setZValue(height)

    def area(self) -> QRectF:
        """Return what it takes of the sheet."""
        return self.bounds.translated(self.pos())

    def become(self, bounds: QRectF) -> None:
        """Take new bounds, told to the scene only when they differ."""
        if bounds != self.bounds:
            self.bounds = bounds
            self.setRect(bounds)
        self.update()

    def mark(self, chosen: bool, on_path: bool) -> None:
        """Show as selected, as on the path of a finding, or neither."""
        if (chosen, on_path) != (self.chosen, self.on_path):
            self.chosen, self.on_path = chosen, on_path
            self.update()


class CardItem(SheetItem):
    """A part at one of its places."""

    def __init__(self, key: str, part_id: str, look: Look) -> None:
        super().__init__(key, look, CARDS)
        self.part_id = part_id
        self.shown: tuple[Part, Place, Card] | None = None
        self.card: Card | None = None
        self.texts = ("", "")
        self.painted = PaintedPart()
        self.used: frozenset[Point] = frozenset()

    def stand(
        self, card: Card, x: float, y: float, texts: tuple[str, str], used: frozenset[Point]
    ) -> None:
        """Take a card and a place; `used` are the spots, on the card, where wires end."""
        if QPointF(x, y) != self.pos():
            self.setPos(x, y)
        if card is not self.card or (texts, used) != (self.texts, self.used):
            self.card, self.texts, self.used = card, texts, used
            self.become(rectf(card.outer).united(rectf(card.body)).adjusted(-14, -14, 14, 14))

    def ids(self) -> tuple[str, ...]:
        """Return the part and those that sit in it."""
        return (self.part_id, *(g.id for g in self.painted.guests))

    def id_at(self, point: QPointF) -> str:
        """Return the part at a point of the sheet: a guest where it is written, else the host."""
        local = point - self.pos()
        for guest, area in guest_areas(self.card, self.painted.guests) if self.card else ():
            if rectf(area).contains(local):
                return guest.id
        return self.part_id

    def show_state(self, painted: PaintedPart) -> None:
        """Take what is to be painted."""
        if painted != self.painted:
            self.painted = painted
            self.update()

    def shape(self) -> QPainterPath:
        """Return the card's outline."""
        path = QPainterPath()
        if self.card:
            path.addRect(rectf(self.card.body))
        return path

    def paint(self, painter: QPainter, option: Options, widget: QWidget | None = None) -> None:
        """Paint the part."""
        if self.card is None:
            return
        theme, zoom = self.look.theme, zoom_of(painter.worldTransform())
        if self.on_path:
            paint_shown(painter, self.card, theme)
        if self.chosen:
            paint_chosen(painter, self.card, theme)
        paint_part(painter, self.card, self.painted, self.texts, self.used, theme, zoom)


class WireItem(SheetItem):
    """A wire of the sheet."""

    def __init__(self, key: str, look: Look) -> None:
        super().__init__(key, look, WIRES)
        self.shown: tuple[Wire, tuple[Point, ...], Rect | None] | None = None
        self.stroke: Stroke | None = None
        self.wire_look = WireLook("", "", 5.0)
        self.painted = PaintedWire()
        self.overlay = "state"
        self.held = False
        """Whether it follows a drag, and is painted where it is held."""

    def parts(self) -> set[str]:
        """Return the parts at which the wire ends as it is shown."""
        wire = self.shown[0] if self.shown else None
        return {e.part for e in (wire.first, wire.second) if e} if wire else set()

    def ends_moved(self, wire: Wire, points: tuple[Point, ...]) -> set[str]:
        """Return the parts at which the wire no longer ends, or ends elsewhere than before."""
        before, way = self.shown[:2] if self.shown else (None, points)
        if before is not wire:
            return self.parts() | {e.part for e in (wire.first, wire.second) if e}
        ends = ((wire.first, way[0], points[0]), (wire.second, way[-1], points[-1]))
        return {e.part for e, old, new in ends if e and old != new}

    def run(self, stroke: Stroke, wire_look: WireLook, dragging: bool = False) -> list[QRectF]:
        """Take a route and the wire's own look; return what of the sheet is still to be painted.

        While something is dragged the item stays as large as it is.
        """
        before, self.stroke, self.wire_look = self.stroke, stroke, wire_look
        if before is None or not (dragging or self.held):
            self.become(stroke.bounds)
            return []
        if dragging:
            self.bounds = stroke.bounds
        else:
            self.become(stroke.bounds)
        return changed_strips(before, stroke, self._runs_on())

    def _runs_on(self) -> bool:
        """Tell whether what is painted at one place depends on the way up to there."""
        wire, overlay = self.painted, self.overlay
        dashed = not self.wire_look.colour and is_pale(wire, overlay)
        marked = wire.carrying and overlay == "state"
        return dashed or marked or self.chosen or self.on_path or overlay == "role"

    def settle(self) -> None:
        """Take the room that the wire needs: the drag is over."""
        if self.rect() != self.bounds:
            self.setRect(self.bounds)
        self.update()

    def show_state(self, painted: PaintedWire, overlay: str) -> None:
        """Take what is to be painted."""
        if (painted, overlay) != (self.painted, self.overlay):
            self.painted, self.overlay = painted, overlay
            self.update()

    def shape(self) -> QPainterPath:
        """Return the area in which a click means this wire."""
        return self.stroke.hit if self.stroke else QPainterPath()

    def paint(self, painter: QPainter, option: Options, widget: QWidget | None = None) -> None:
        """Paint the wire, unless that is done where it is held."""
        if not self.held:
            self.paint_way(painter)

    def paint_way(self, painter: QPainter) -> None:
        """Paint the wire where it runs."""
        if self.stroke is None:
            return
        theme, zoom = self.look.theme, zoom_of(painter.worldTransform())
        for wanted, role in ((self.on_path, "path"), (self.chosen, "chosen")):
            if wanted:
                paint_halo(painter, self.stroke, self.wire_look.width, theme.colour(role))
        paint_wire(painter, self.stroke, self.wire_look, self.painted, self.overlay, theme, zoom)
        if self.chosen:
            paint_handles(painter, self.stroke, theme)


class LabelItem(SheetItem):
    """The label of a wire."""

    def __init__(self, key: str, look: Look) -> None:
        super().__init__(key, look, LABELS)
        self.texts: tuple[str, ...] = ()
        self.toward = "centre"

    def say(self, area: QRectF, texts: tuple[str, ...]) -> None:
        """Take an area of the sheet and the texts, number first."""
        if (area, texts) != (self.bounds, self.texts):
            self.texts = texts
            self.become(area)

    def paint(self, painter: QPainter, option: Options, widget: QWidget | None = None) -> None:
        """Paint the label with as many values as the zoom allows."""
        zoom = zoom_of(painter.worldTransform())
        theme = self.look.theme
        paint_label(painter, self.bounds, self.toward, self.texts, theme, zoom, self.chosen)


class MarkItem(SheetItem):
    """The paper at the end of a wire that leaves the sheet: where it goes."""

    def __init__(self, key: str, look: Look) -> None:
        super().__init__(key, look, LABELS)
        self.text = ""

    def say(self, area: QRectF, text: str) -> None:
        """Take an area of the sheet and the text."""
        if (area, text) != (self.bounds, self.text):
            self.text = text
            self.become(area)

    def paint(self, painter: QPainter, option: Options, widget: QWidget | None = None) -> None:
        """Paint the mark; it is read from as far as a wire's number."""
        zoom = zoom_of(painter.worldTransform())
        paint_mark(painter, self.bounds, self.text, self.look.theme, zoom, self.chosen)
