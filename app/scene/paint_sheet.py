"""The paper under everything: its colour and a grid of dots that fades when far away."""

from __future__ import annotations

from math import floor

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter, QPen

from app.theme import Theme

STEP = 40.0


def paint_ground(painter: QPainter, rect: QRectF, theme: Theme, zoom: float, dots: bool) -> None:
    """Paint the paper in an area of the sheet."""
    painter.fillRect(rect, theme.colour("sheet"))
    step = STEP if zoom >= 0.5 else STEP * 4
    if not dots or zoom < 0.12:
        return
    painter.setPen(QPen(theme.colour("dots"), 2.2))
    xs = range(floor(rect.left() / step), floor(rect.right() / step) + 1)
    ys = range(floor(rect.top() / step), floor(rect.bottom() / step) + 1)
    painter.drawPoints([QPointF(x * step, y * step) for x in xs for y in ys])
