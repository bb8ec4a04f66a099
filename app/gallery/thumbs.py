"""Small pictures of circuit files, drawn by the scene of the drawings, each made once."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QPointF, QRectF, QSize, QSizeF, Qt
from PySide6.QtGui import QImage, QPainter

from app.analysis import Analysis
from app.presenter import states_of
from app.scene.sheet_scene import SheetScene
from app.theme import DARK, LIGHT, Look, Theme
from model.circuit import Circuit, Sheet
from model.file import load

SIZE = QSize(264, 176)
MARGIN = 30.0
Thumb = tuple[str, QImage]
"""Title and picture."""

_MADE: dict[tuple[str, int, str], Thumb] = {}


def paper_of(theme: Theme) -> Theme:
    """Return the theme that pictures have while this one is in force: dark or light."""
    return DARK if theme is DARK else LIGHT


def thumb(path: Path, theme: Theme = LIGHT) -> Thumb:
    """Return title and picture of a circuit file; drawn at the first call, then kept.

    Those of another theme are let go.

    Raises
    ------
    FileError
        The file does not open.
    OSError
        It is not there.
    """
    key = (str(path), path.stat().st_mtime_ns, theme.name)
    if key not in _MADE:
        for other in [k for k in _MADE if k[2] != theme.name]:
            del _MADE[other]
        circuit = load(path).circuit
        _MADE[key] = (circuit.settings.title or path.stem, picture(circuit, theme=theme))
    return _MADE[key]


def picture(circuit: Circuit, size: QSize = SIZE, theme: Theme = LIGHT) -> QImage:
    """Return a picture of a circuit's first sheet, on the theme's paper, at twice the size."""
    image = QImage(size * 2, QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(2.0)
    image.fill(theme.colour("sheet"))
    scene = SheetScene(Look(theme))
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
