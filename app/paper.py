"""Sheets on paper: always the light look, on white, fitted to the page, with a frame and a title
block.

Everything is painted in units of 1/96 inch, whatever the resolution of the device: what is too
small to be read on the paper falls back as it does on the screen.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from PySide6.QtCore import QLocale, QMarginsF, QPointF, QRectF, Qt
from PySide6.QtGui import QPagedPaintDevice, QPageLayout, QPageSize, QPainter, QPen

from app.analysis import Analysis
from app.presenter import states_of
from app.scene.sheet_scene import SheetScene
from app.scene.type import LEFT, fitted, write
from app.theme import LIGHT, Look
from model.circuit import Circuit, Sheet

PRINT = replace(
    LIGHT,
    name="print",
    sheet="#ffffff",
    card="#ffffff",
    card_edge="#8c8c8c",
    gap="#ffffff",
    label="#ffffff",
    label_edge="#9a9a9a",
    ink_soft="#4a4a4a",
    dead_alpha=150,
)
"""The light look on white paper, with greys that a printer holds."""
UNITS = 96.0
"""Painted units in an inch."""
MARGIN_MM = 8.0
INSET = 10.0
BLOCK_W, BLOCK_H = 330.0, 62.0
LARGEST = 1.2
"""A small drawing is not blown up beyond this."""
SIZES = {
    "A4": QPageSize.PageSizeId.A4,
    "A3": QPageSize.PageSizeId.A3,
    "Letter": QPageSize.PageSizeId.Letter,
}


def usual_paper() -> str:
    """Return the paper that is usual where the person is: Letter in the United States, else A4."""
    american = QLocale.system().measurementSystem() == QLocale.MeasurementSystem.ImperialUSSystem
    return "Letter" if american else "A4"


def set_up(device: QPagedPaintDevice, paper: str = "") -> None:
    """Give a device its paper, laid level, with narrow margins.

    Raises
    ------
    ValueError
        The paper is none of A4, A3 and Letter.
    """
    name = paper or usual_paper()
    if name not in SIZES:
        raise ValueError(f"There is no paper “{name}”: use {', '.join(SIZES)}.")
    margins = QMarginsF(MARGIN_MM, MARGIN_MM, MARGIN_MM, MARGIN_MM)
    level = QPageLayout.Orientation.Landscape
    device.setPageLayout(
        QPageLayout(QPageSize(SIZES[name]), level, margins, QPageLayout.Unit.Millimeter)
    )


def print_sheets(
    device: QPagedPaintDevice, circuit: Circuit, analysis: Analysis, only: str = ""
) -> None:
    """Paint every sheet of a circuit, or the one of this id, on a page of its own.

    Raises
    ------
    OSError
        The device cannot be painted on.
    """
    sheets = [s for s in circuit.sheets.values() if only in ("", s.id)]
    sheets = sheets or [Sheet("s1", "Sheet 1")]
    painter = QPainter()
    if not painter.begin(device):
        raise OSError("the page cannot be painted: is the printer there, the file free?")
    for number, sheet in enumerate(sheets):
        if number:
            device.newPage()
        _to_units(painter, device)
        place = f"{number + 1} / {len(sheets)}"
        paint_page(painter, _page(device), circuit, analysis, sheet, place)
    painter.end()


def _page(device: QPagedPaintDevice) -> QRectF:
    """Return what of the page is painted on, from its corner, in painted units."""
    inches = device.pageLayout().paintRect(QPageLayout.Unit.Inch)
    return QRectF(0, 0, inches.width() * UNITS, inches.height() * UNITS)


def _to_units(painter: QPainter, device: QPagedPaintDevice) -> None:
    """Let the painter count in painted units; the scene then knows how large things are."""
    page = _page(device).toRect()
    pixels = device.pageLayout().paintRectPixels(device.logicalDpiX())
    painter.setWindow(page)
    painter.setViewport(0, 0, pixels.width(), pixels.height())


def paint_page(
    painter: QPainter,
    page: QRectF,
    circuit: Circuit,
    analysis: Analysis,
    sheet: Sheet,
    number: str = "1 / 1",
) -> None:
    """Paint one sheet into a page: frame, drawing, title block."""
    painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing)
    painter.fillRect(page, PRINT.colour("sheet"))
    scene = SheetScene(Look(PRINT))
    scene.grid_shown = False
    scene.show_circuit(circuit, sheet)
    scene.show_state(*states_of(analysis, circuit), "state")
    room = page.adjusted(INSET, INSET, -INSET, -INSET - BLOCK_H)
    drawn = scene.contents()
    if not drawn.isEmpty():
        scene.render(painter, room, _as_shaped(drawn, room))
    scene.detach()
    painter.setPen(QPen(PRINT.colour("ink"), 1.2))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(page.adjusted(1, 1, -1, -1))
    _paint_block(painter, page, circuit, sheet, number)


def _as_shaped(area: QRectF, room: QRectF) -> QRectF:
    """Return the area grown to the shape of the room."""
    scale = min(room.width() / area.width(), room.height() / area.height(), LARGEST)
    grown = QRectF(0, 0, room.width() / scale, room.height() / scale)
    grown.moveCenter(area.center())
    return grown


def _paint_block(
    painter: QPainter, page: QRectF, circuit: Circuit, sheet: Sheet, number: str
) -> None:
    """Paint the title block in the lower right corner."""
    block = QRectF(page.right() - 1 - BLOCK_W, page.bottom() - 1 - BLOCK_H, BLOCK_W, BLOCK_H)
    painter.fillRect(block, PRINT.colour("sheet"))
    painter.drawRect(block)
    for text, where, px, bold in _lines(circuit, sheet, number, block):
        size = min(px, fitted(text, px, where.width()))
        write(painter, where, text, PRINT.colour("ink"), size, bold, LEFT)
    line = block.top() + BLOCK_H * 0.62
    painter.setPen(QPen(PRINT.colour("ink"), 0.8))
    painter.drawLine(QPointF(block.left(), line), QPointF(block.right(), line))


def _lines(
    circuit: Circuit, sheet: Sheet, number: str, block: QRectF
) -> Sequence[tuple[str, QRectF, float, bool]]:
    """Return the texts of the title block with where they stand, their size, whether bold."""
    known = circuit.settings
    whose = " · ".join(w for w in (known.vehicle, f"{known.nominal_v:g} V") if w)
    revision = f"Revision {known.revision}" if known.revision else ""
    drawn = " · ".join(w for w in (revision, known.date, known.author) if w)
    left, width = block.left() + 8, block.width() - 16
    low = block.top() + BLOCK_H * 0.62
    return (
        (known.title or "Circuit", QRectF(left, block.top() + 3, width, 20), 15, True),
        (whose, QRectF(left, block.top() + 21, width, 16), 11, False),
        (drawn or "Voltwalk", QRectF(left, low, width * 0.6, BLOCK_H * 0.38), 11, False),
        (
            f"{sheet.name or 'Sheet'} · {number}",
            QRectF(left + width * 0.62, low, width * 0.38, BLOCK_H * 0.38),
            11,
            False,
        ),
    )
