"""How a wire's label looks: its number first, then as many values as the zoom allows."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QPen

from app.scene.type import LEFT, advance, fitted, legible, write
from app.theme import Theme
from model.layout.sizes import ORDINARY, SEPARATOR, Sizes

NUMBER_ONLY = 0.75
"""Below this zoom a label has its number only."""
HIDDEN = 0.5
CODE_SHARE = 0.8
"""How much smaller than it should be a number may become so that the code stands beside it."""
LARGEST = 14.0
"""Of a number on an ordinary label, seen from far away."""


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
    sizes = theme.sizes or ORDINARY
    if not texts or zoom * sizes.label_px < HIDDEN * ORDINARY.label_px:
        return
    if theme.codes and not _fitting(texts, area.width(), zoom)[1]:
        texts = _with_code(texts, legible(sizes.label_px, zoom), area.width() - 4)
    roomy = sizes.label_reading_px > sizes.label_px
    px = fitted(texts[0], legible(sizes.label_px, zoom, LARGEST), area.width() - 4)
    number, rest = _large(texts, area, sizes) if roomy else _fitting(texts, area.width(), zoom)
    rest_px = sizes.label_reading_px if roomy else sizes.label_px
    first, second = advance(number, px, True), advance(rest, rest_px, roomy)
    width = min(area.width(), first + second + sizes.label_pad)
    free = area.width() - width
    left = area.x() + {"left": 0.0, "right": free}.get(toward, free / 2)
    high = (sizes.label_reading_h if rest else sizes.label_h) - 1
    box = QRectF(left, area.center().y() - high / 2, width, high)
    edge = theme.colour("chosen" if chosen else "label_edge")
    painter.setPen(QPen(edge, 2 if chosen else 1))
    painter.setBrush(theme.colour("label"))
    painter.drawRoundedRect(box, 5, 5)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    ink, inset = theme.colour("ink"), (width - first - second) / 2
    write(painter, box.adjusted(inset, 0, 0, 0), number, ink, px, True, LEFT)
    after = box.adjusted(inset + first, 0, 0, 0)
    write(painter, after, rest, ink, rest_px, roomy, LEFT)


def _with_code(texts: tuple[str, ...], px: float, room: float) -> tuple[str, ...]:
    """Return the texts, the code of the colours with the number where there is room for both."""
    both = " ".join(texts[:2])
    fits = len(texts) > 1 and advance(both, px * CODE_SHARE, True) <= room
    return (both, *texts[2:]) if fits else texts


def _large(texts: tuple[str, ...], area: QRectF, sizes: Sizes) -> tuple[str, str]:
    """Return the number and the reading, which is larger, if there is room for it."""
    number, reading = texts[0], f" {texts[-1]}" if texts[-1].endswith(" A") else ""
    width = advance(number, sizes.label_px, True)
    width += advance(reading, sizes.label_reading_px, True)
    fits = width + 4 <= area.width() and area.height() >= sizes.label_reading_h
    return number, reading if fits else ""


def _fitting(texts: tuple[str, ...], room: float, zoom: float) -> tuple[str, str]:
    """Return the number and the values that fit beside it."""
    number, rest = texts[0], ""
    if zoom < NUMBER_ONLY:
        return number, rest
    px = ORDINARY.label_px
    left = room - advance(number, px, True) - ORDINARY.label_pad
    for text in texts[1:]:
        longer = f"{rest}{SEPARATOR}{text}" if rest or number else text
        if advance(longer, px) > left:
            break
        rest = longer
    return number, rest


def paint_mark(
    painter: QPainter, area: QRectF, text: str, theme: Theme, zoom: float, chosen: bool
) -> None:
    """Paint where a wire goes that leaves the sheet: its number in bold, then sheet and terminal.

    From far away the paper stays and the text goes, as with a wire's label.
    """
    sizes = theme.sizes or ORDINARY
    box = area.adjusted(0.5, 0.5, -0.5, -0.5)
    edge = theme.colour("chosen" if chosen else "ink_soft")
    painter.setPen(QPen(edge, 2 if chosen else 1, Qt.PenStyle.DashLine))
    painter.setBrush(theme.colour("label"))
    painter.drawRoundedRect(box, 4, 4)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    if zoom * sizes.label_px < HIDDEN * ORDINARY.label_px:
        return
    number, arrow, rest = text.partition(" → ")
    px = fitted(text, sizes.label_px, box.width() - 8)
    first, second = advance(number, px, True), advance(arrow + rest, px)
    inset = (box.width() - first - second) / 2
    ink = theme.colour("ink")
    write(painter, box.adjusted(inset, 0, 0, 0), number, ink, px, True, LEFT)
    write(painter, box.adjusted(inset + first, 0, 0, 0), arrow + rest, ink, px, False, LEFT)
