"""Sheets on paper: always the light look, on white, with a frame, a title block and the cautions.

Everything is painted in units of 1/96 inch, whatever the resolution of the device: what is too
small to be read on the paper falls back as it does on the screen. A sheet that would be too small
as a whole goes over several pages that overlap, after one that shows it all.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import product
from string import ascii_uppercase

from PySide6.QtCore import QLocale, QMarginsF, QRectF
from PySide6.QtGui import QPagedPaintDevice, QPageLayout, QPageSize, QPainter

from app.analysis import Analysis
from app.presenter import states_of
from app.scene.paint_page import OVERLAP, UNITS, Leaf, paint_grid, paint_surround, room_of
from app.scene.sheet_scene import SheetScene
from app.theme import LIGHT, Look
from app.tr import tr
from app.words import CAUTIONS
from checks.used import rests_on
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
    codes=True,
)
"""The light look on white paper, with greys that a printer holds."""
MARGIN_MM = 8.0
LARGEST = 1.2
"""A small drawing is not blown up beyond this."""
READABLE = 0.5
"""The scale from which every terminal's number reads, in a type of 6 points."""
MOST_ACROSS = len(ascii_uppercase)
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


@dataclass(frozen=True, slots=True)
class Tile:
    """What of a sheet one page shows: its column and row, and the area of the sheet."""

    column: int
    row: int
    area: QRectF

    @property
    def name(self) -> str:
        """The column's letter and the row's number: B2."""
        return f"{ascii_uppercase[self.column]}{self.row + 1}"


def print_sheets(
    device: QPagedPaintDevice, circuit: Circuit, analysis: Analysis, only: str = ""
) -> None:
    """Paint every sheet of a circuit, or the one of this id, on pages of its own.

    Raises
    ------
    OSError
        The device cannot be painted on.
    """
    sheets = [s for s in circuit.sheets.values() if only in ("", s.id)]
    painter = QPainter()
    if not painter.begin(device):
        raise OSError("the page cannot be painted: is the printer there, the file free?")
    page = page_of(device)
    papers = [Paper(circuit, analysis, s, page) for s in sheets or [Sheet("s1", "Sheet 1")]]
    total, done = sum(paper.count for paper in papers), 0
    for paper in papers:
        for index in range(paper.count):
            if done:
                device.newPage()
            done += 1
            _to_units(painter, device)
            paper.paint(painter, index, f"{done} / {total}")
        paper.scene.detach()
    painter.end()


def page_of(device: QPagedPaintDevice) -> QRectF:
    """Return what of the page is painted on, from its corner, in painted units."""
    inches = device.pageLayout().paintRect(QPageLayout.Unit.Inch)
    return QRectF(0, 0, inches.width() * UNITS, inches.height() * UNITS)


def _to_units(painter: QPainter, device: QPagedPaintDevice) -> None:
    """Let the painter count in painted units; the scene then knows how large things are."""
    page = page_of(device).toRect()
    pixels = device.pageLayout().paintRectPixels(device.logicalDpiX())
    painter.setWindow(page)
    painter.setViewport(0, 0, pixels.width(), pixels.height())


class Paper:
    """One sheet on its pages: as a whole, and where that is too small in tiles after it."""

    def __init__(self, circuit: Circuit, analysis: Analysis, sheet: Sheet, page: QRectF) -> None:
        self.circuit, self.sheet, self.page = circuit, sheet, page
        self.scene = SheetScene(Look(PRINT))
        self.scene.grid_shown = False
        self.scene.codes_shown = True
        self.scene.show_circuit(circuit, sheet)
        self.scene.show_state(*states_of(analysis, circuit), "state")
        drawn = self.scene.contents()
        self.drawn = QRectF(0, 0, 1, 1) if drawn.isEmpty() else drawn
        self.room = room_of(page)
        self.tiles = [t for t in tiles_of(self.drawn, self.room) if self.scene.items(t.area)]

    @property
    def count(self) -> int:
        """How many pages there are."""
        return 1 + len(self.tiles)

    def paint(self, painter: QPainter, index: int, number: str) -> None:
        """Paint one of the pages, 0 for the whole, with its number among all."""
        painter.setRenderHints(
            QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing
        )
        painter.fillRect(self.page, PRINT.colour("sheet"))
        tile = self.tiles[index - 1] if index else None
        area = tile.area if tile else _as_shaped(self.drawn, self.room)
        scale = self.room.width() / area.width()
        painter.save()
        self.scene.render(painter, self.room, area)
        painter.restore()
        if index == 0 and self.tiles:
            self._outline_tiles(painter, area, scale)
        name = self.sheet.name or tr("Sheet")
        leaf = Leaf(name, number, scale, self._beside(tile), tile.name if tile else "")
        settings = self.circuit.settings
        cautions = " ".join((*rests_on(self.circuit), *map(tr, CAUTIONS)))
        paint_surround(painter, self.page, settings, leaf, PRINT, cautions)

    def _outline_tiles(self, painter: QPainter, area: QRectF, scale: float) -> None:
        painter.save()
        painter.setClipRect(self.room)
        painter.translate(self.room.topLeft())
        painter.scale(scale, scale)
        painter.translate(-area.topLeft())
        paint_grid(painter, [(t.name, t.area) for t in self.tiles], scale, PRINT)
        painter.restore()

    def _beside(self, tile: Tile | None) -> tuple[tuple[str, str], ...]:
        """Return the names of the pages beside a tile, by side."""
        if tile is None:
            return ()
        there = {(t.column, t.row): t.name for t in self.tiles}
        steps = (("left", -1, 0), ("right", 1, 0), ("top", 0, -1), ("bottom", 0, 1))
        found = ((side, (tile.column + dx, tile.row + dy)) for side, dx, dy in steps)
        return tuple((side, there[at]) for side, at in found if at in there)


def tiles_of(drawn: QRectF, room: QRectF) -> list[Tile]:
    """Return the tiles of a drawing, none where it is read on one page.

    They are as few as let every terminal's number be read, and as large as that many allow; each
    has `OVERLAP` on the paper in common with those beside it.

    Parameters
    ----------
    drawn
        The area of the sheet that is drawn.
    room
        Where on a page the drawing is, in painted units.
    """
    if _scale(drawn, room, 1, 1) >= READABLE:
        return []
    counts = [_needed(drawn.width(), room.width()), _needed(drawn.height(), room.height())]
    columns, rows = (min(n, MOST_ACROSS) for n in counts)
    scale = _scale(drawn, room, columns, rows)
    wide, high, common = room.width() / scale, room.height() / scale, OVERLAP / scale
    whole = QRectF(0, 0, columns * wide - (columns - 1) * common, rows * high - (rows - 1) * common)
    whole.moveCenter(drawn.center())
    return [
        Tile(
            x, y,
            QRectF(whole.x() + x * (wide - common), whole.y() + y * (high - common), wide, high),
        )
        for y, x in product(range(rows), range(columns))
    ]  # fmt: skip


def _needed(drawn: float, room: float) -> int:
    """Return how many pages beside each other hold a length at the least scale."""
    over = drawn * READABLE - OVERLAP
    return max(1, int(-(-over // (room - OVERLAP))))


def _scale(drawn: QRectF, room: QRectF, columns: int, rows: int) -> float:
    """Return the scale at which a drawing fits so many pages that overlap."""
    wide = columns * room.width() - (columns - 1) * OVERLAP
    high = rows * room.height() - (rows - 1) * OVERLAP
    return min(wide / drawn.width(), high / drawn.height(), LARGEST)


def _as_shaped(area: QRectF, room: QRectF) -> QRectF:
    """Return the area grown to the shape of the room."""
    scale = _scale(area, room, 1, 1)
    grown = QRectF(0, 0, room.width() / scale, room.height() / scale)
    grown.moveCenter(area.center())
    return grown
