"""Pictograms ready to paint: recoloured, posed, recorded once as vectors.

A picture is kept as a `QPicture`, so it is sharp at any zoom and stays a drawing when the sheet is
written to SVG or PDF.
"""

from __future__ import annotations

from functools import lru_cache

from PySide6.QtCore import QByteArray, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPicture, QPixmap
from PySide6.QtSvg import QSvgRenderer

from assets.icons import GRID, icon_of_kind, icon_svg


def _renderer(key: str, colour: str, moved: float, arms: bool) -> QSvgRenderer:
    """Return a renderer of one picture."""
    return QSvgRenderer(QByteArray(icon_svg(key, colour, moved, arms)))


@lru_cache(maxsize=1024)
def picture(key: str, colour: str, moved: float = 0.0, arms: bool = True) -> QPicture:
    """Return a picture on its own 64 × 64 grid, in one colour; `moved` poses its arms."""
    record = QPicture()
    painter = QPainter(record)
    _renderer(key, colour, moved, arms).render(painter, QRectF(0, 0, GRID, GRID))
    painter.end()
    return record


def paint_picture(
    painter: QPainter,
    key: str,
    colour: QColor,
    where: QRectF,
    moved: float = 0.0,
    arms: bool = True,
) -> None:
    """Paint a picture into a square of the sheet."""
    painter.save()
    painter.translate(where.topLeft())
    painter.scale(where.width() / GRID, where.height() / GRID)
    painter.drawPicture(QPointF(0, 0), picture(key, colour.name(), moved, arms))
    painter.restore()


def icon(key: str, colour: QColor, size: int = 64) -> QIcon:
    """Return a picture as an icon for a list, a menu or a button."""
    pixmap = QPixmap(size, size)
    pixmap.fill(Qt.GlobalColor.transparent)
    painter = QPainter(pixmap)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    _renderer(key, colour.name(), 0.0, True).render(painter)
    painter.end()
    made = QIcon(pixmap)
    made.addPixmap(pixmap, QIcon.Mode.Selected)
    return made


def kind_icon(kind: str, colour: QColor, size: int = 64) -> QIcon:
    """Return the icon of a part kind."""
    return icon(icon_of_kind(kind), colour, size)
