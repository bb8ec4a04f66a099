"""Fonts of the sheet, by size in scene units, and text drawn in a rectangle."""

from __future__ import annotations

from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontMetricsF,
    QPaintEngine,
    QPainter,
    QStaticText,
    QTransform,
)

from model.layout.geometry import Rect

CENTRE = Qt.AlignmentFlag.AlignCenter
LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
VECTORS = (QPaintEngine.Type.Pdf, QPaintEngine.Type.SVG, QPaintEngine.Type.Picture)
LEAST = 8.5
"""Least size on the screen, in pixels, of a bold number that is to be read."""
UNCLIPPED = Qt.TextFlag.TextDontClip | Qt.TextFlag.TextSingleLine
_FLAGS = {align: int(align) | int(UNCLIPPED) for align in (CENTRE, LEFT, RIGHT)}


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
    """Write one line of text into a rectangle; it is never cut.

    On a screen the text is laid out once and painted from there, which is the same picture in a
    third of the time; a drawing in vectors gets it as text.
    """
    painter.setFont(face(px, bold))
    painter.setPen(colour)
    if is_vector(painter):
        painter.drawText(where, _FLAGS[align], text)
    elif text:
        laid, wide, high = _laid(text, max(1, round(px)), bold)
        free = where.width() - wide
        x = where.x() + (free / 2 if align == CENTRE else 0.0 if align == LEFT else free)
        painter.drawStaticText(QPointF(x, where.y() + (where.height() - high) / 2), laid)


def is_vector(painter: QPainter) -> bool:
    """Tell whether what is painted is kept as shapes and text, in a file."""
    return painter.paintEngine().type() in VECTORS


@lru_cache(maxsize=2048)
def _laid(text: str, px: int, bold: bool) -> tuple[QStaticText, float, float]:
    """Return a text laid out, with its width and height."""
    laid, font = QStaticText(text), face(px, bold)
    laid.setTextFormat(Qt.TextFormat.PlainText)
    laid.prepare(QTransform(), font)
    return laid, _advance(text, px, bold), QFontMetricsF(font).height()


def advance(text: str, px: float, bold: bool = False) -> float:
    """Return how wide a text is at a size."""
    return _advance(text, max(1, round(px)), bold)


@lru_cache(maxsize=4096)
def _advance(text: str, px: int, bold: bool) -> float:
    return QFontMetricsF(face(px, bold)).horizontalAdvance(text)


def legible(px: float, zoom: float, most: float = 0.0) -> float:
    """Return the size of a text that is still read when seen from far, no larger than `most`."""
    return min(max(px, LEAST / zoom), max(px, most))


def fitted(text: str, px: float, room: float) -> float:
    """Return the size at which a bold text is no wider than the room, `px` at most."""
    width = advance(text, px, True)
    return px if width <= room else px * room / width


def rectf(rect: Rect) -> QRectF:
    """Return a rectangle of the layout as Qt's."""
    return QRectF(rect.x, rect.y, rect.w, rect.h)


def zoom_of(transform: QTransform) -> float:
    """Return how many pixels a scene unit has."""
    return abs(transform.m11()) or abs(transform.m12()) or 1.0
