"""Pictograms on the sheet: the same at any resolution of what they are painted on."""

from __future__ import annotations

import pytest

pytest.importorskip("PySide6")

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QImage, QPainter
from pytestqt.qtbot import QtBot

from app.pictures.loader import paint_picture


def _painted(dpi: float, moved: float = 0.0, arms: bool = True) -> QImage:
    """Paint a relay into the middle of an image of this resolution."""
    image = QImage(100, 100, QImage.Format.Format_RGB32)
    image.setDotsPerMeterX(round(dpi / 0.0254))
    image.setDotsPerMeterY(round(dpi / 0.0254))
    image.fill(QColor("white"))
    painter = QPainter(image)
    paint_picture(painter, "relay-make", QColor("#102030"), QRectF(18, 18, 64, 64), moved, arms)
    painter.end()
    image.setDotsPerMeterX(3780)
    image.setDotsPerMeterY(3780)
    return image


@pytest.mark.parametrize("dpi", [72, 144, 288])
def test_a_picture_is_as_large_at_any_resolution(qtbot: QtBot, dpi: float) -> None:
    assert _painted(dpi) == _painted(96)


def test_a_picture_stays_in_its_square_and_its_arm_moves(qtbot: QtBot) -> None:
    image, white = _painted(96), QColor("white").rgb()
    edge = [image.pixel(i, j) for i in range(100) for j in (5, 94)]
    assert set(edge) == {white}
    assert _painted(96, moved=1.0) != image
    assert _painted(96, arms=False) != image
