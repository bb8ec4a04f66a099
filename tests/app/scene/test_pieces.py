"""What is painted in pieces or laid out once is the picture of the plain way to paint it.

The oracle is Qt's own painting: a path stroked as a whole, a text drawn as a text.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPen
from pytestqt.qtbot import QtBot

from app import acts
from app.scene.paint_wire import _pen, _run
from app.scene.sheet_scene import SheetScene
from app.scene.stroke import stroke_of
from app.scene.type import CENTRE, LEFT, RIGHT, face, write
from app.theme import Look
from model.circuit import Sheet
from tests.bench.circuits import cells

WAY = ((20.0, 30.0), (150.0, 30.0), (150.0, 120.0), (260.0, 120.0))


def painted(paint: Callable[[QPainter], None], zoom: float = 1.0) -> np.ndarray:
    """Return what is painted, in grey, (rows, columns)."""
    image = QImage(320, 200, QImage.Format.Format_RGB32)
    image.fill(Qt.GlobalColor.white)
    painter = QPainter(image)
    painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing)
    painter.scale(zoom, zoom)
    paint(painter)
    painter.end()
    grey = image.convertToFormat(QImage.Format.Format_Grayscale8)
    rows = np.frombuffer(grey.constBits(), np.uint8).reshape(200, -1)
    return rows[:, :320].astype(int)


@pytest.mark.parametrize("zoom", [0.37, 0.5, 0.8, 1.0])
@pytest.mark.parametrize("width", [3.7, 5.0, 12.4])
def test_a_wire_in_pieces_is_the_whole_wire_without_a_seam(
    qtbot: QtBot, zoom: float, width: float
) -> None:
    stroke, pen = stroke_of(WAY), QPen(QColor("black"), width)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    whole = painted(lambda p: p.strokePath(stroke.path, pen), zoom)
    pieces = painted(lambda p: _run(p, stroke, _pen(QColor("black").rgba(), width)), zoom)
    assert (whole < 100).sum() > 200 * zoom
    assert np.abs(whole - pieces).max() < 70
    assert np.abs(whole - pieces).mean() < 0.3


def test_what_shines_through_is_not_darker_where_pieces_meet(qtbot: QtBot) -> None:
    stroke, pen = stroke_of(WAY), _pen(QColor("black").rgba(), 8.0)

    def pale(painter: QPainter) -> None:
        painter.setOpacity(0.5)
        _run(painter, stroke, pen)

    assert painted(pale).min() >= 126


@pytest.mark.parametrize("align", [LEFT, CENTRE, RIGHT])
@pytest.mark.parametrize("zoom", [0.5, 0.77, 1.0])
def test_a_text_laid_out_once_is_the_text(
    qtbot: QtBot, align: Qt.AlignmentFlag, zoom: float
) -> None:
    where, text = QRectF(20.3, 30.2, 150, 22), "K12 · 2.5 mm² <b>"

    def plain(painter: QPainter) -> None:
        painter.setFont(face(13, True))
        painter.setPen(QColor("black"))
        flags = Qt.TextFlag.TextDontClip | Qt.TextFlag.TextSingleLine
        painter.drawText(where, int(align) | int(flags), text)

    once = painted(lambda p: write(p, where, text, QColor("black"), 13, True, align), zoom)
    assert once.min() < 120
    assert np.abs(once - painted(plain, zoom)).mean() < 0.4


def test_only_what_changed_is_touched_while_a_part_is_dragged(qtbot: QtBot) -> None:
    circuit = replace(cells(60), sheets={"s1": Sheet("s1", "Sheet 1")})
    scene = SheetScene(Look())
    scene.show_circuit(circuit, circuit.sheets["s1"])
    before = {k: scene.stroke_at(k) for k in circuit.wires}
    rest = scene.geometry
    change = acts.moved(circuit, circuit.sheets["s1"], rest, ["M3"], (20.0, 30.0))
    assert change is not None
    after = change.apply(circuit)
    scene.show_circuit(after, after.sheets["s1"], quick=True)
    moved = {k for k, points in scene.geometry.wires.items() if points != rest.wires[k]}
    anew = {k for k in circuit.wires if scene.stroke_at(k) is not before[k]}
    assert anew == moved and 0 < len(moved) < 15
    scene.detach()
