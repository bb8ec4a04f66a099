"""Small pictures of circuit files, drawn by the scene of the drawings, each made once."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QPointF, QRectF, QSize, QSizeF, Qt
from PySide6.QtGui import QImage, QPainter

from app.analysis import Analysis
from app.presenter import states_of
from app.scene.sheet_scene import SheetScene
from app.theme import LIGHT, Look
from model.circuit import Circuit, Sheet
from model.file import load

SIZE = QSize(264, 176)
MARGIN = 30.0
Thumb = tuple[str, QImage]
"""Title and picture."""

_MADE: dict[tuple[str, int], Thumb] = {}


def thumb(path: Path) -> Thumb:
    """Return title and picture of a circuit file; drawn at the first call, then kept.

    Raises
    ------
    FileError
        The file does not open.
    OSError
        It is not there.
    """
    key = (str(path), path.stat().st_mtime_ns)
    if key not in _MADE:
        circuit = load(path).circuit
        _MADE[key] = (circuit.settings.title or path.stem, picture(circuit))
    return _MADE[key]


def picture(circuit: Circuit, size: QSize = SIZE) -> QImage:
    """Return a picture of a circuit's first sheet, on light paper, at twice the size named."""
    image = QImage(size * 2, QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(2.0)
    image.fill(LIGHT.colour("sheet"))
    scene = SheetScene(Look(LIGHT))
    scene.grid_shown = False
    scene.show_circuit(circuit, next(iter(circuit.sheets.values()), Sheet("s1", "Sheet 1")))
    scene.show_state(*states_of(Analysis(circuit), circuit), "none")
    area = scene.contents().adjusted(-MARGIN, -MARGIN, MARGIN, MARGIN)
    painter = QPainter(image)
    painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing)
    fitted = area.size().scaled(QSizeF(size), Qt.AspectRatioMode.KeepAspectRatio)
    where = QRectF(QPointF(), fitted)
    where.moveCenter(QPointF(size.width() / 2, size.height() / 2))
    scene.render(painter, where, area)
    painter.end()
    scene.detach()
    return image
