"""A whole sheet seen from far away, painted in a few strokes: all wires of a colour at once.

Below the zoom at which a card is a box and a wire a line, what takes time is to come to each of
them. So they are gathered by how they look and painted together, and the items rest.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from itertools import pairwise

from PySide6.QtCore import QLineF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from app.scene.items import CardItem, WireItem
from app.scene.paint_card import paint_tiny_picture, tiny_box
from app.scene.paint_wire import HALO, TINY, tiny_band, tiny_line
from app.scene.type import rectf
from app.theme import Theme

FAR = TINY
"""Below this zoom a sheet is seen from far away."""
SEEN_PX = 7.0
"""A pictogram that is smaller on the screen is a smudge, and left out."""
Line = tuple[int, float, Qt.PenStyle]
"""Colour, width and style of lines."""
Box = tuple[int, float, int]
"""Colour and width of the edge of boxes, and the colour in them, 0 for none."""
SOLID = Qt.PenStyle.SolidLine
SQUARE, AROUND = 800.0, 30.0


@dataclass(slots=True)
class Field:
    """A square of the sheet: lines under wires, wires, outlines around cards, cards, by look."""

    bounds: QRectF = field(default_factory=QRectF)
    under: dict[Line, list[QLineF]] = field(default_factory=dict)
    wires: dict[Line, list[QLineF]] = field(default_factory=dict)
    around: dict[Box, list[QRectF]] = field(default_factory=dict)
    boxes: dict[Box, list[QRectF]] = field(default_factory=dict)
    cards: list[CardItem] = field(default_factory=list)


class FarSheet:
    """A sheet by squares, so that a strip that comes into view is painted without the rest."""

    def __init__(self, cards: Iterable[CardItem], wires: Iterable[WireItem], theme: Theme) -> None:
        self.theme = theme
        self._fields: dict[tuple[int, int], Field] = {}
        for wire in wires:
            self._add_wire(wire)
        for card in cards:
            self._add_card(card)

    def paint(self, painter: QPainter, rect: QRectF, zoom: float) -> None:
        """Paint what of the sheet lies in a rectangle."""
        fields = [f for f in self._fields.values() if f.bounds.intersects(rect)]
        for one in fields:
            _paint_lines(painter, one.under)
        for one in fields:
            _paint_lines(painter, one.wires)
        for one in fields:
            _paint_boxes(painter, one.around)
            _paint_boxes(painter, one.boxes)
        for item in (i for one in fields for i in one.cards):
            if item.card is not None and item.card.picture.w * zoom >= SEEN_PX:
                painter.translate(item.pos())
                paint_tiny_picture(painter, item.card, item.painted, self.theme)
                painter.translate(-item.pos())

    def _field(self, area: QRectF) -> Field:
        """Return the square in which the middle of an area lies; it grows to hold the area."""
        at = area.center()
        one = self._fields.setdefault((int(at.x() // SQUARE), int(at.y() // SQUARE)), Field())
        one.bounds = one.bounds.united(area.adjusted(-AROUND, -AROUND, AROUND, AROUND))
        return one

    def _add_wire(self, item: WireItem) -> None:
        theme = self.theme
        under: list[Line] = []
        for wanted, role in ((item.on_path, "path"), (item.chosen, "chosen")):
            if wanted:
                under.append((theme.colour(role).rgba(), item.wire_look.width + HALO, SOLID))
        if (band := tiny_band(item.painted, item.overlay, theme)) is not None:
            under.append((*band, Qt.PenStyle.DotLine))
        look = (*tiny_line(item.wire_look, item.painted, theme), SOLID)
        for (ax, ay), (bx, by) in pairwise(item.shown[1] if item.shown else ()):
            area = QRectF(min(ax, bx), min(ay, by), abs(bx - ax), abs(by - ay))
            one, line = self._field(area), QLineF(ax, ay, bx, by)
            one.wires.setdefault(look, []).append(line)
            for below in under:
                one.under.setdefault(below, []).append(line)

    def _add_card(self, item: CardItem) -> None:
        if item.card is None:
            return
        body = rectf(item.card.body).translated(item.pos())
        one = self._field(body)
        for wanted, role, width in ((item.on_path, "path", 8.0), (item.chosen, "chosen", 6.0)):
            if wanted:
                box = (self.theme.colour(role).rgba(), width, 0)
                one.around.setdefault(box, []).append(body.adjusted(-8, -8, 8, 8))
        edge, width, fill = tiny_box(item.card, item.painted, self.theme)
        one.boxes.setdefault((edge.rgba(), width, fill.rgba()), []).append(body)
        if item.card.shape != "dot":
            one.cards.append(item)


def _paint_lines(painter: QPainter, layer: dict[Line, list[QLineF]]) -> None:
    for (rgba, width, style), lines in layer.items():
        cap = Qt.PenCapStyle.SquareCap if style == SOLID else Qt.PenCapStyle.FlatCap
        painter.setPen(QPen(QColor.fromRgba(rgba), width, style, cap))
        painter.drawLines(lines)


def _paint_boxes(painter: QPainter, layer: dict[Box, list[QRectF]]) -> None:
    for (rgba, width, fill), rects in layer.items():
        painter.setPen(QPen(QColor.fromRgba(rgba), width))
        painter.setBrush(QColor.fromRgba(fill) if fill else Qt.BrushStyle.NoBrush)
        painter.drawRects(rects)
