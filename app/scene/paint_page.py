"""What surrounds a drawing on paper: frame, title block, cautions, the bar that shows the size.

Where a drawing goes over several pages, marks say where they are laid together.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen

from app.scene.type import LEFT, RIGHT, fitted, write
from app.theme import Theme
from app.tr import tr
from model.circuit import Settings

UNITS = 96.0
"""Painted units in an inch."""
INSET = 12.0
"""Room between the frame and the drawing, for the names of the pages beside it."""
BLOCK_W, BLOCK_H = 380.0, 62.0
OVERLAP = 40.0
"""What two pages of one drawing have in common."""
BAR_MM = 50
TICK = 9.0
SMALL_PX = 8.0
WRAPPED = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap


@dataclass(frozen=True, slots=True)
class Leaf:
    """What the block says of one page: sheet, page, scale; and the pages beside it by side.

    `beside` has the sides "left", "right", "top" and "bottom" at which the drawing goes on.
    """

    sheet: str
    number: str
    scale: float = 1.0
    beside: tuple[tuple[str, str], ...] = ()
    part: str = ""


def room_of(page: QRectF) -> QRectF:
    """Return where on a page the drawing is."""
    return page.adjusted(INSET, INSET, -INSET, -INSET - BLOCK_H)


def paint_surround(
    painter: QPainter, page: QRectF, settings: Settings, leaf: Leaf, theme: Theme, cautions: str
) -> None:
    """Paint all that stands on a page besides the drawing."""
    painter.setPen(QPen(theme.colour("ink"), 1.2))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(page.adjusted(1, 1, -1, -1))
    _paint_marks(painter, room_of(page), leaf, theme)
    _paint_block(painter, page, settings, leaf, theme)
    strip = QRectF(page.left() + 12, page.bottom() - 1 - BLOCK_H, 0, BLOCK_H - 5)
    strip.setRight(page.right() - BLOCK_W - 16)
    _paint_cautions(painter, strip, cautions, theme)
    _paint_bar(painter, strip, leaf.scale, theme)


def _paint_cautions(painter: QPainter, strip: QRectF, cautions: str, theme: Theme) -> None:
    """Write the usual cautions, as large as the strip has room for above the bar."""
    room = strip.adjusted(0, 2, 0, -18)
    write(painter, QRectF(), "", theme.colour("ink"), SMALL_PX)
    painter.drawText(room, int(WRAPPED), cautions)


def _paint_bar(painter: QPainter, strip: QRectF, scale: float, theme: Theme) -> None:
    """Paint a bar of a known length, by which a print is seen to be of full size."""
    ink, y = theme.colour("ink"), strip.bottom() - 6
    long = BAR_MM / 25.4 * UNITS
    painter.setPen(QPen(ink, 1.2))
    painter.drawLine(QPointF(strip.left(), y), QPointF(strip.left() + long, y))
    for share in (0.0, 0.2, 0.4, 0.6, 0.8, 1.0):
        x, high = strip.left() + long * share, 4.0 if share in (0.0, 1.0) else 2.5
        painter.drawLine(QPointF(x, y - high), QPointF(x, y + high))
    said = "{length} mm when printed at full size · drawn at {scale}"
    text = tr(said, length=BAR_MM, scale=f"{scale:.0%}")
    where = QRectF(strip.left() + long + 8, y - 7, 300, 14)
    write(painter, where, text, ink, SMALL_PX, align=LEFT)


def _paint_marks(painter: QPainter, room: QRectF, leaf: Leaf, theme: Theme) -> None:
    """Mark at each side at which the drawing goes on where the pages are laid together."""
    half = OVERLAP / 2
    for side, name in leaf.beside:
        level = side in ("top", "bottom")
        at = {
            "left": room.left() + half, "right": room.right() - half,
            "top": room.top() + half, "bottom": room.bottom() - half,
        }[side]  # fmt: skip
        ends = (room.left(), room.right()) if level else (room.top(), room.bottom())
        painter.setPen(QPen(theme.colour("ink"), 1.0))
        for end, way in zip(ends, (-1, 1), strict=True):
            a, b = (end - way * TICK, end + way * TICK)
            line = ((a, at), (b, at)) if level else ((at, a), (at, b))
            painter.drawLine(QPointF(*line[0]), QPointF(*line[1]))
        _name_beside(painter, room, side, name, theme)


def _name_beside(painter: QPainter, room: QRectF, side: str, name: str, theme: Theme) -> None:
    """Write at a side which page goes on there."""
    where = {
        "left": QRectF(room.left() - INSET + 2, room.center().y() - 8, INSET - 2, 16),
        "right": QRectF(room.right(), room.center().y() - 8, INSET - 2, 16),
        "top": QRectF(room.center().x() - 40, room.top() - INSET + 2, 80, INSET - 4),
        "bottom": QRectF(room.center().x() - 40, room.bottom(), 80, INSET - 2),
    }[side]
    write(painter, where, name, theme.colour("ink"), fitted(name, 9, INSET - 3), True)


def paint_grid(
    painter: QPainter, tiles: Sequence[tuple[str, QRectF]], scale: float, theme: Theme
) -> None:
    """Outline on the page that shows everything what each of the other pages has."""
    for name, area in tiles:
        painter.setPen(QPen(theme.colour("chosen"), 1.0 / scale, Qt.PenStyle.DashDotLine))
        painter.drawRect(area)
        corner = QRectF(area.left() + 6 / scale, area.top() + 4 / scale, 30 / scale, 16 / scale)
        write(painter, corner, name, theme.colour("chosen"), 13 / scale, True, LEFT)


def _paint_block(
    painter: QPainter, page: QRectF, settings: Settings, leaf: Leaf, theme: Theme
) -> None:
    """Paint the title block in the lower right corner."""
    ink = theme.colour("ink")
    block = QRectF(page.right() - 1 - BLOCK_W, page.bottom() - 1 - BLOCK_H, BLOCK_W, BLOCK_H)
    painter.fillRect(block, theme.colour("sheet"))
    painter.setPen(QPen(ink, 1.2))
    painter.drawRect(block)
    for text, where, px, bold in _lines(settings, leaf, block):
        align = RIGHT if text is leaf.number else LEFT
        px = floor(min(px, fitted(text, px, where.width()))) if text else px
        write(painter, where, text, ink, px, bold, align)
    line = block.top() + BLOCK_H * 0.64
    painter.setPen(QPen(ink, 0.8))
    painter.drawLine(QPointF(block.left(), line), QPointF(block.right(), line))


def _lines(known: Settings, leaf: Leaf, block: QRectF) -> Sequence[tuple[str, QRectF, float, bool]]:
    """Return the texts of the title block with where they stand, their size, whether bold."""
    whose = " · ".join(w for w in (known.vehicle, f"{known.nominal_v:g} V") if w)
    revision = tr("Revision {revision}", revision=known.revision) if known.revision else ""
    drawn = " · ".join(w for w in (revision, known.date, known.author) if w)
    left, width = block.left() + 8, block.width() - 16
    low, high = block.top() + BLOCK_H * 0.64, BLOCK_H * 0.36
    sheet = " · ".join(w for w in (leaf.sheet, leaf.part) if w)
    return (
        (known.title or tr("Circuit"), QRectF(left, block.top() + 3, width, 21), 15, True),
        (whose, QRectF(left, block.top() + 23, width, 16), 11, False),
        (drawn or "Voltwalk", QRectF(left, low, width * 0.5, high), 11, False),
        (sheet, QRectF(left + width * 0.52, low, width * 0.34, high), 11, False),
        (leaf.number, QRectF(left + width * 0.86, low, width * 0.14, high), 11, True),
    )
