"""Draws a sheet to SVG, PDF or PNG from the same scene as the window, always in the light theme.

A PDF is a page of paper, the same as what is printed; the others are as large as the drawing.
"""

from __future__ import annotations

import os
from pathlib import Path

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QRect, QRectF, QSize
from PySide6.QtGui import (
    QGuiApplication,
    QImage,
    QImageWriter,
    QPaintDevice,
    QPainter,
    QPdfWriter,
)
from PySide6.QtSvg import QSvgGenerator
from PySide6.QtWidgets import QApplication

from app.analysis import Analysis, Analyst, look
from app.paper import print_sheets, set_up
from app.presenter import states_of
from app.scene.paint_title import TITLE_HEIGHT, paint_title
from app.scene.sheet_scene import SheetScene
from app.session import at_rest
from app.theme import LIGHT, Look
from model.circuit import Circuit, Sheet
from model.states import Memory

MARGIN = 40.0
PNG_SCALE = 2.0


def export(
    circuit: Circuit,
    path: Path,
    analysis: Analysis | None = None,
    sheet: str = "",
    paper: str = "",
) -> None:
    """Draw a sheet of a circuit to a file.

    Parameters
    ----------
    circuit
        What is drawn; parts without a place get one of the automatic layout.
    path
        Where to; its ending tells the format: svg, pdf or png.
    analysis
        The state to paint; that with every control at rest if none is given.
    sheet
        Id of the sheet; the first one if none is given.
    paper
        A4, A3 or Letter, for a PDF; the one that is usual here if none is given.

    Raises
    ------
    OSError
        When the file cannot be written.
    ValueError
        When the ending is none of the three, or the paper is not known.
    """
    app = _application()
    shown = analysis or _analysed(circuit)
    chosen = circuit.sheets.get(sheet) or _first(circuit)
    if path.suffix.lower() == ".pdf":
        _written(path, _pdf(circuit, shown, chosen, paper))
        return
    scene = SheetScene(Look(LIGHT))
    scene.grid_shown = False
    scene.show_circuit(circuit, chosen)
    parts, wires = states_of(shown, circuit)
    scene.show_state(parts, wires, "state")
    try:
        _written(path, _drawn(scene, circuit, path.suffix.lower()))
    finally:
        scene.detach()
        app.processEvents()


def _analysed(circuit: Circuit) -> Analysis:
    """Return the circuit with every control at rest, every state of it checked."""
    solved = Analyst().solve(circuit, at_rest(circuit), Memory())
    return look(circuit, quick=False).onto(solved, None)


def _first(circuit: Circuit) -> Sheet:
    return next(iter(circuit.sheets.values()), Sheet("s1", "Sheet 1"))


def _application() -> QGuiApplication:
    """Return the application, made off the screen where there is none yet."""
    known = QApplication.instance()
    if isinstance(known, QGuiApplication):
        return known
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    return QApplication(["voltwalk"])


def _drawn(scene: SheetScene, circuit: Circuit, ending: str) -> bytes:
    """Return the drawing as the bytes of a file."""
    drawn = scene.contents().adjusted(-MARGIN, -MARGIN - TITLE_HEIGHT, MARGIN, MARGIN)
    area = QRectF(drawn.toAlignedRect())
    drawers = {".svg": _svg, ".png": _png}
    if ending not in drawers:
        raise ValueError(f"“{ending}” cannot be drawn: use .svg, .pdf or .png.")
    return drawers[ending](scene, circuit, area)


def _svg(scene: SheetScene, circuit: Circuit, area: QRectF) -> bytes:
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QSvgGenerator()
    writer.setOutputDevice(buffer)
    writer.setTitle(circuit.settings.title or "Circuit")
    writer.setSize(area.size().toSize())
    writer.setViewBox(QRectF(0, 0, area.width(), area.height()))
    _paint(scene, circuit, area, writer, QRectF(0, 0, area.width(), area.height()))
    return bytes(buffer.data().data())


def _pdf(circuit: Circuit, analysis: Analysis, sheet: Sheet, paper: str) -> bytes:
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setTitle(circuit.settings.title or "Circuit")
    writer.setCreator("Voltwalk")
    writer.setResolution(288)
    set_up(writer, paper)
    print_sheets(writer, circuit, analysis, sheet.id)
    return bytes(buffer.data().data())


def _png(scene: SheetScene, circuit: Circuit, area: QRectF) -> bytes:
    size = QSize(round(area.width() * PNG_SCALE), round(area.height() * PNG_SCALE))
    image = QImage(size, QImage.Format.Format_RGB32)
    _paint(scene, circuit, area, image, QRectF(QRect(0, 0, size.width(), size.height())))
    data = QByteArray()
    buffer = QBuffer(data)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    QImageWriter(buffer, QByteArray(b"png")).write(image)
    return bytes(data.data())


def _paint(
    scene: SheetScene, circuit: Circuit, area: QRectF, device: QPaintDevice, target: QRectF
) -> None:
    """Paint an area of the scene onto a device, with the title in its corner."""
    painter = QPainter(device)
    painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing)
    painter.fillRect(target, LIGHT.colour("sheet"))
    scene.render(painter, target, area)
    painter.scale(target.width() / area.width(), target.height() / area.height())
    paint_title(painter, QRectF(MARGIN, MARGIN * 0.6, area.width(), TITLE_HEIGHT), circuit, LIGHT)
    painter.end()


def _written(path: Path, data: bytes) -> None:
    path.write_bytes(data)
