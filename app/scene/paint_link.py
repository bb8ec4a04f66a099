"""The thin dashed line between a coil and the contacts it moves, where they are drawn apart.

A dashed line for what is joined mechanically is that of IEC 60617.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import pairwise

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QPainter, QPen

from app.theme import Theme

LEAST_PX = 1.0


def paint_links(
    painter: QPainter, pieces: Mapping[str, Iterable[QPointF]], theme: Theme, zoom: float
) -> None:
    """Paint the links between the middles of the pieces of each part."""
    pen = QPen(theme.colour("ink_soft"), max(1.4, LEAST_PX / zoom), Qt.PenStyle.DashLine)
    painter.setPen(pen)
    for middles in pieces.values():
        for a, b in pairwise(middles):
            painter.drawLine(a, b)
