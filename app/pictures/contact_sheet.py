"""The contact sheet: every pictogram at four sizes, light and dark, on one picture.

`python3 -m app.pictures.contact_sheet OUT.png` writes it. A contact that moves is shown a second
time, operated.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QByteArray, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QGuiApplication, QImage, QImageWriter, QPainter
from PySide6.QtSvg import QSvgRenderer

from assets.icons import EMBLEM, action_icons, arm_geometry, icon_svg, kind_icons

COLUMNS = 6
TILE_W, TILE_H, GAP = 326, 192, 12
HEADING_H = 56


@dataclass(frozen=True, slots=True)
class Ink:
    """Colours of one panel of the sheet."""

    title: str
    page: str
    card: str
    line: str
    text: str


LIGHT = Ink("Light", "#f5f3ec", "#ffffff", "#d6d2c6", "#22262b")
DARK = Ink("Dark", "#17191c", "#24282d", "#3b4148", "#ecebe6")


def paint_icon(
    painter: QPainter, key: str, target: QRectF, colour: str, moved: float = 0.0
) -> None:
    """Paint picture `key` into `target` in `colour`; `moved` is 0 at rest, 1 operated."""
    QSvgRenderer(QByteArray(icon_svg(key, colour, moved))).render(painter, target)


def _paint_tile(painter: QPainter, key: str, x: float, y: float, ink: Ink) -> None:
    """Paint one card: 128 px, then 64, 32 and 20 px at rest and, where it moves, operated."""
    painter.setPen(QColor(ink.line))
    painter.setBrush(QColor(ink.card))
    painter.drawRoundedRect(QRectF(x, y, TILE_W - GAP, TILE_H - GAP), 10, 10)
    paint_icon(painter, key, QRectF(x + 16, y + 14, 128, 128), ink.text)
    moves = arm_geometry(key) is not None
    for column, moved in enumerate((0.0, 1.0) if moves else (0.0,)):
        left = x + 160 + 78 * column
        paint_icon(painter, key, QRectF(left, y + 14, 64, 64), ink.text, moved)
        paint_icon(painter, key, QRectF(left, y + 92, 32, 32), ink.text, moved)
        paint_icon(painter, key, QRectF(left + 42, y + 98, 20, 20), ink.text, moved)
    painter.setPen(QColor(ink.text))
    painter.drawText(QRectF(x + 16, y + 150, TILE_W, 22), Qt.AlignmentFlag.AlignLeft, key)


def _panel_height(count: int) -> int:
    return HEADING_H + -(-count // COLUMNS) * TILE_H + GAP


def _paint_panel(painter: QPainter, keys: Sequence[str], top: int, ink: Ink) -> None:
    width = COLUMNS * TILE_W + GAP
    painter.fillRect(QRectF(0, top, width, _panel_height(len(keys))), QColor(ink.page))
    painter.setPen(QColor(ink.text))
    painter.setFont(_font(24))
    heading = f"{ink.title} · {len(keys)} pictures at 128, 64, 32 and 20 px"
    painter.drawText(QRectF(GAP, top, width, HEADING_H), Qt.AlignmentFlag.AlignVCenter, heading)
    painter.setFont(_font(15))
    for index, key in enumerate(keys):
        row, column = divmod(index, COLUMNS)
        _paint_tile(painter, key, GAP + column * TILE_W, top + HEADING_H + row * TILE_H, ink)


def _font(size_px: int) -> QFont:
    font = QFont()
    font.setPixelSize(size_px)
    return font


def render_contact_sheet(path: Path) -> None:
    """Write the contact sheet of every picture to `path`, as PNG.

    Raises
    ------
    OSError
        The picture cannot be written there.
    """
    application = QGuiApplication.instance() or QGuiApplication([])
    keys = (EMBLEM, *kind_icons(), *action_icons())
    height = _panel_height(len(keys))
    image = QImage(COLUMNS * TILE_W + GAP, 2 * height, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    for index, ink in enumerate((LIGHT, DARK)):
        _paint_panel(painter, keys, index * height, ink)
    painter.end()
    saved = QImageWriter(str(path), QByteArray(b"png")).write(image)
    del application
    if not saved:
        raise OSError(f"cannot write the contact sheet to {path}: is the folder there?")


def main(argv: Sequence[str]) -> int:
    """Write the sheet to the file that `argv` names; 0 done, 2 wrong call, 3 not written."""
    if len(argv) != 1:
        sys.stderr.write("usage: python3 -m app.pictures.contact_sheet OUT.png\n")
        return 2
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    try:
        render_contact_sheet(Path(argv[0]))
    except OSError as error:
        sys.stderr.write(f"{error}\n")
        return 3
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
