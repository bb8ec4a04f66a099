"""The paper under everything: its colour and a grid of dots that fades when far away."""

from __future__ import annotations

from functools import lru_cache
from math import floor

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter, QPen, QPolygonF

from app.scene.type import write
from app.theme import Theme

STEP = 40.0
DOTS = 8
HINT = (
    "Drag a part from the Tray to here, or type its name.",
    "Drag from terminal to terminal to wire it, or type the two ends: S1.2 K1.86",
)


def paint_ground(painter: QPainter, rect: QRectF, theme: Theme, zoom: float, dots: bool) -> None:
    """Paint the paper in an area of the sheet."""
    painter.fillRect(rect, theme.colour("sheet"))
    step = STEP if zoom >= 0.5 else STEP * 4
    if not dots or zoom < 0.12:
        return
    painter.setPen(QPen(theme.colour("dots"), 2.2))
    left, top = floor(rect.left() / step), floor(rect.top() / step)
    columns = floor(rect.right() / step) + 1 - left
    rows = floor(rect.bottom() / step) + 1 - top
    dotted = _dots(_round_up(columns), _round_up(rows), step)
    painter.drawPoints(dotted.translated(left * step, top * step))


@lru_cache(maxsize=32)
def _dots(columns: int, rows: int, step: float) -> QPolygonF:
    """Return so many dots, made once: pan and drag ask for the same numbers again and again."""
    return QPolygonF([QPointF(x * step, y * step) for x in range(columns) for y in range(rows)])


def _round_up(count: int) -> int:
    """Return one of a few numbers of dots, no fewer: those outside of the area are cut off."""
    return -(-count // DOTS) * DOTS


def paint_hint(painter: QPainter, theme: Theme) -> None:
    """Write on a blank sheet how it begins."""
    soft = theme.colour("ink_soft")
    for i, line in enumerate(HINT):
        where = QRectF(-300, -30 + 26 * i, 600, 24)
        write(painter, where, line, soft, 17 if i == 0 else 13, bold=i == 0)
