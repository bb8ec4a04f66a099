"""A small picture of a wire's colour for a cell, with its tracer as a stripe."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QIcon, QPainter, QPainterPath, QPen, QPixmap

from app.theme import Theme, insulation

WIDTH, HEIGHT = 18, 12
_MADE: dict[tuple[str, str], QIcon] = {}


def swatch(text: str, theme: Theme) -> QIcon | None:
    """Return the picture of a colour such as RD or RD/BU, None for no colour; it is shared."""
    if not text:
        return None
    known = _MADE.get((text, theme.name))
    if known is None:
        known = _MADE[text, theme.name] = QIcon()
        for mode in (QIcon.Mode.Normal, QIcon.Mode.Selected):
            known.addPixmap(_drawn(text, theme), mode)
    return known


def _drawn(text: str, theme: Theme) -> QPixmap:
    colour, _, tracer = text.partition("/")
    made = QPixmap(WIDTH * 2, HEIGHT * 2)
    made.setDevicePixelRatio(2.0)
    made.fill(Qt.GlobalColor.transparent)
    painter = QPainter(made)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    frame = QRectF(0.5, 0.5, WIDTH - 1, HEIGHT - 1)
    shape = QPainterPath()
    shape.addRoundedRect(frame, 3, 3)
    painter.fillPath(shape, insulation(colour))
    if tracer:
        painter.setClipPath(shape)
        painter.fillRect(QRectF(0, HEIGHT / 2 - 1.5, WIDTH, 3), insulation(tracer))
        painter.setClipping(False)
    painter.setPen(QPen(theme.colour("card_edge"), 1))
    painter.drawPath(shape)
    painter.end()
    return made
