"""How a wire's label looks: its number first, then as many values as the zoom allows."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPen

from app.scene.type import LEFT, face, write
from app.theme import Theme

PX = 10.5
NUMBER_ONLY = 0.75
HIDDEN = 0.42


def paint_label(
    painter: QPainter,
    area: QRectF,
    toward: str,
    texts: tuple[str, ...],
    theme: Theme,
    zoom: float,
    chosen: bool,
) -> None:
    """Paint a label in its area, at the side `toward` its wire, no wider than the area."""
    if not texts or (zoom < HIDDEN and not theme.terminal_px):
        return
    number, rest = _fitting(texts, area.width(), zoom)
    first = QFontMetricsF(face(PX, True)).horizontalAdvance(number)
    second = QFontMetricsF(face(PX)).horizontalAdvance(rest)
    width = first + second + 12
    free = max(0.0, area.width() - width)
    left = area.x() + {"left": 0.0, "right": free}.get(toward, free / 2)
    box = QRectF(left, area.center().y() - 7.5, width, 15)
    edge = theme.colour("chosen" if chosen else "label_edge")
    painter.setPen(QPen(edge, 2 if chosen else 1))
    painter.setBrush(theme.colour("label"))
    painter.drawRoundedRect(box, 5, 5)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    write(painter, box.adjusted(6, 0, 0, 0), number, theme.colour("ink"), PX, True, LEFT)
    after = box.adjusted(6 + first, 0, 0, 0)
    write(painter, after, rest, theme.colour("ink"), PX, False, LEFT)


def _fitting(texts: tuple[str, ...], room: float, zoom: float) -> tuple[str, str]:
    """Return the number and the values that fit beside it."""
    number, rest = texts[0], ""
    if zoom < NUMBER_ONLY:
        return number, rest
    bold, plain = QFontMetricsF(face(PX, True)), QFontMetricsF(face(PX))
    left = room - bold.horizontalAdvance(number) - 12
    for text in texts[1:]:
        longer = f"{rest} · {text}" if rest or number else text
        if plain.horizontalAdvance(longer) > left:
            break
        rest = longer
    return number, rest
