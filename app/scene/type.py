"""Fonts of the sheet, by size in scene units, and text drawn in a rectangle."""

from __future__ import annotations

from functools import lru_cache

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QTransform

from model.layout.geometry import Rect

CENTRE = Qt.AlignmentFlag.AlignCenter
LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
LEAST = 8.5
"""Least size on the screen, in pixels, of a bold number that is to be read."""
UNCLIPPED = Qt.TextFlag.TextDontClip | Qt.TextFlag.TextSingleLine


@lru_cache(maxsize=64)
def face(px: float, bold: bool = False) -> QFont:
    """Return the sheet's face at a size."""
    font = QFont()
    font.setPixelSize(max(1, round(px)))
    font.setBold(bold)
    font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    font.setFeature(QFont.Tag("liga"), 0)  # so that a word is found in a PDF as it is typed
    return font


def write(
    painter: QPainter,
    where: QRectF,
    text: str,
    colour: QColor,
    px: float = 11,
    bold: bool = False,
    align: Qt.AlignmentFlag = CENTRE,
) -> None:
    """Write one line of text into a rectangle; it is never cut."""
    painter.setFont(face(px, bold))
    painter.setPen(colour)
    painter.drawText(where, int(align) | int(UNCLIPPED), text)


def legible(px: float, zoom: float, most: float = 0.0) -> float:
    """Return the size of a text that is still read when seen from far, no larger than `most`."""
    return min(max(px, LEAST / zoom), max(px, most))


def fitted(text: str, px: float, room: float) -> float:
    """Return the size at which a bold text is no wider than the room, `px` at most."""
    width = QFontMetricsF(face(px, True)).horizontalAdvance(text)
    return px if width <= room else px * room / width


def rectf(rect: Rect) -> QRectF:
    """Return a rectangle of the layout as Qt's."""
    return QRectF(rect.x, rect.y, rect.w, rect.h)


def zoom_of(transform: QTransform) -> float:
    """Return how many pixels a scene unit has."""
    return abs(transform.m11()) or abs(transform.m12()) or 1.0
