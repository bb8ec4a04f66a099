"""How terminals look: by their form, at the card's edge, with the trade's numbers inside."""

from __future__ import annotations

from functools import lru_cache
from math import cos, pi, sin

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen, QPolygonF

from app.scene.type import CENTRE, LEFT, RIGHT, legible, rectf, write
from app.theme import Theme
from model.layout.card import Card, Port, Spot
from model.layout.geometry import Point


def paint_terminals(painter: QPainter, card: Card, used: frozenset[Point], theme: Theme) -> None:
    """Paint every terminal of a card: one form a wire that ends there, one where none does."""
    pen = QPen(theme.colour("ink"), 1.4)
    painter.setPen(pen)
    painter.setBrush(theme.colour("metal"))
    if card.shape == "dot":
        _paint_dot(painter, card, theme)
        return
    strips, metal = _shapes(tuple(_used(port, used) for port in card.ports.values()))
    if not strips.isEmpty():
        painter.drawPath(strips)
    painter.drawPath(metal)


def _used(port: Port, used: frozenset[Point]) -> tuple[str, tuple[Spot, ...]]:
    """Return the form of a terminal and where it is painted."""
    spots = tuple(s for s in port.spots if (s.x, s.y) in used)
    return port.form, spots or (port.spots[0],)


@lru_cache(maxsize=512)
def _shapes(
    terminals: tuple[tuple[str, tuple[Spot, ...]], ...],
) -> tuple[QPainterPath, QPainterPath]:
    """Return the strips that join the forms of one terminal, and the forms themselves.

    All of a card in two paths: a connector has scores of them.
    """
    strips, metal = QPainterPath(), QPainterPath()
    metal.setFillRule(Qt.FillRule.WindingFill)
    for form, spots in terminals:
        if len(spots) > 1:
            xs, ys = [s.x for s in spots], [s.y for s in spots]
            strip = QRectF(QPointF(min(xs), min(ys)), QPointF(max(xs), max(ys)))
            strips.addRoundedRect(strip.adjusted(-4, -4, 4, 4), 4, 4)
        for spot in spots:
            _add_form(metal, form, spot)
    return strips, metal


def _add_form(metal: QPainterPath, form: str, spot: Spot) -> None:
    """Add the metal of one terminal."""
    at = QPointF(spot.x, spot.y)
    if form == "ring":
        metal.addEllipse(at, 6.0, 6.0)
        metal.addEllipse(at, 2.2, 2.2)
    elif form == "stud":
        metal.addPolygon(_hexagon(at, 7.0))
        metal.closeSubpath()
        metal.addEllipse(at, 2.6, 2.6)
    elif form == "pin":
        metal.addRoundedRect(_along(spot, 9.0, 5.0), 2.5, 2.5)
    else:
        metal.addRoundedRect(_along(spot, 13.0, 8.0), 2.0, 2.0)


def _along(spot: Spot, length: float, width: float) -> QRectF:
    """Return a rectangle across the card's edge, in the direction the wire leaves."""
    level = spot.side in ("left", "right")
    w, h = (length, width) if level else (width, length)
    return QRectF(spot.x - w / 2, spot.y - h / 2, w, h)


def _hexagon(middle: QPointF, radius: float) -> QPolygonF:
    """Return a nut seen from above."""
    return _nut(radius).translated(middle)


@lru_cache(maxsize=16)
def _nut(radius: float) -> QPolygonF:
    turns = [pi / 3 * i for i in range(6)]
    return QPolygonF([QPointF(cos(t), sin(t)) * radius for t in turns])


def _paint_dot(painter: QPainter, card: Card, theme: Theme) -> None:
    """Paint a splice or stud: the only dots there are on a sheet."""
    radius = min(card.width, card.height) / 2
    painter.setPen(QPen(theme.colour("ink"), 1.6))
    painter.setBrush(theme.colour("card"))
    form = next(iter(card.ports.values())).form
    middle = QPointF(0, 0)
    if form == "stud":
        painter.drawPolygon(_hexagon(middle, radius))
        painter.setBrush(theme.colour("metal"))
        painter.drawEllipse(middle, radius * 0.5, radius * 0.5)
        return
    painter.drawEllipse(middle, radius, radius)
    painter.setBrush(theme.colour("ink"))
    painter.drawEllipse(middle, radius * 0.42, radius * 0.42)


def paint_numbers(
    painter: QPainter, card: Card, markings: tuple[tuple[str, str], ...], theme: Theme, zoom: float
) -> None:
    """Write every terminal's number inside the card, beside the terminal.

    It grows as the zoom falls, up to what the card keeps room for.
    """
    named = {"-": "−", **dict(markings)}
    px = legible(card.sizes.number_px, zoom, card.sizes.number_most)
    ink = theme.colour("ink")
    for port in card.ports.values():
        text = named.get(port.key, port.key)
        if port.label is not None:
            align = {"left": LEFT, "right": RIGHT}.get(port.direction, CENTRE)
            write(painter, rectf(port.label), text, ink, px, bold=True, align=align)


def paint_target(painter: QPainter, spot: QPointF, theme: Theme) -> None:
    """Paint the ring round a terminal that a wire would join."""
    painter.setPen(QPen(theme.colour("chosen"), 3))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawEllipse(spot, 12, 12)
