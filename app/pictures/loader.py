"""Pictograms ready to paint: recoloured, posed, read once and kept as vectors.

They stay sharp at any zoom and stay drawings when the sheet is written to SVG or PDF. They are
painted by the SVG renderer itself: a recorded `QPicture` would be scaled by the resolution of
whatever it is played on.
"""

from __future__ import annotations

from functools import lru_cache

from PySide6.QtCore import QByteArray, QRectF, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer

from assets.icons import icon_of_kind, icon_svg


@lru_cache(maxsize=256)
def _renderer(key: str, colour: str, moved: float, arms: bool) -> QSvgRenderer:
    """Return a renderer of one picture in one colour; `moved` poses its arms."""
    return QSvgRenderer(QByteArray(icon_svg(key, colour, moved, arms)))


def paint_picture(
    painter: QPainter,
    key: str,
    colour: QColor,
    where: QRectF,
    moved: float = 0.0,
    arms: bool = True,
) -> None:
    """Paint a picture into a square of the sheet."""
    _renderer(key, colour.name(), moved, arms).render(painter, where)


def icon(key: str, colour: QColor, size: int = 64) -> QIcon:
    """Return a picture as an icon for a list, a menu or a button.

    The same one each time: Qt keeps what it paints of an icon, and with one made for every row of
    every list that would be thousands of alike pictures.
    """
    return QIcon(_icon(key, colour.name(), size))


@lru_cache(maxsize=64)
def _icon(key: str, colour: str, size: int) -> QIcon:
    pixmap = QPixmap(size, size)
    pixmap.fill(Qt.GlobalColor.transparent)
    painter = QPainter(pixmap)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    _renderer(key, colour, 0.0, True).render(painter)
    painter.end()
    made = QIcon(pixmap)
    made.addPixmap(pixmap, QIcon.Mode.Selected)
    return made


def kind_icon(kind: str, colour: QColor, size: int = 64) -> QIcon:
    """Return the icon of a part kind."""
    return icon(icon_of_kind(kind), colour, size)
