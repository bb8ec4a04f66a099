"""Every example on one page: light, dark, projector, and black and white at half size.

`python3 -m app.pictures.page OUT.png` writes it, or OUT.pdf, or OUT.html. The circuits are shown in
the state in which most of their loads run. No screen is needed.
"""

from __future__ import annotations

import base64
import html
import os
import sys
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import combinations, product
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMarginsF, QRectF, QSizeF, Qt
from PySide6.QtGui import (
    QColor,
    QImage,
    QImageWriter,
    QPageSize,
    QPaintDevice,
    QPainter,
    QPdfWriter,
)
from PySide6.QtWidgets import QApplication

from app.analysis import Analysis, Analyst
from app.controls import position_now, positions_of
from app.presenter import states_of
from app.scene.sheet_scene import SheetScene
from app.scene.type import LEFT, write
from app.session import at_rest
from app.theme import DARK, LIGHT, PROJECTOR, Look, Theme
from model.circuit import Circuit, Sheet
from model.file import load
from model.states import Memory, Setting

if TYPE_CHECKING:
    from collections.abc import Iterable

EXAMPLES = Path(__file__).resolve().parents[2] / "assets" / "examples"
CELL_W, CELL_H, GAP, HEAD = 1200, 700, 24, 56
HALF_W, HALF_H = CELL_W // 2, CELL_H // 2
WIDTH = 3 * CELL_W + HALF_W + 5 * GAP
ROW = CELL_H + HEAD
TOP = 110
EDGE = 16.0
"""Free room around a drawing in its cell, in scene units."""
MOST_TRIED = 600
"""Most combinations of positions that are tried for what is at work."""
COLUMNS = ("Light", "Dark", "Projector", "Black and white, half size")
PAPER, INK, SOFT = QColor("#ffffff"), QColor("#22262b"), QColor("#6a6c6b")


@dataclass(frozen=True, slots=True)
class Cell:
    """One picture of an example: its theme, whether it is grey and half as large."""

    theme: Theme
    grey: bool = False

    @property
    def size(self) -> tuple[int, int]:
        """Width and height."""
        return (HALF_W, HALF_H) if self.grey else (CELL_W, CELL_H)


CELLS = (Cell(LIGHT), Cell(DARK), Cell(PROJECTOR), Cell(LIGHT, grey=True))


def examples(folder: Path = EXAMPLES) -> list[tuple[str, Circuit]]:
    """Return the examples with their titles, by file name."""
    loaded = [(f.stem, load(f).circuit) for f in sorted(folder.glob("*.voltwalk"))]
    return [(c.settings.title or name, c) for name, c in loaded]


def worked(circuit: Circuit) -> Analysis:
    """Return a circuit in the state that is shown."""
    return Analyst().solve(circuit, at_work(circuit), Memory())


def at_work(circuit: Circuit) -> Setting:
    """Return the setting in which most loads run, with the fewest controls away from rest."""
    rest, analyst = at_rest(circuit), Analyst()
    best, most = rest, _running(analyst, circuit, rest)
    for positions in _positions(circuit):
        setting = rest.moved(positions)
        now = _running(analyst, circuit, setting)
        if now > most:
            best, most = setting, now
    return best


def _positions(circuit: Circuit) -> Iterator[dict[str, str]]:
    """Yield combinations of positions, fewest away from rest first; every one unless too many."""
    away = {}
    for part in circuit.parts:
        rest = position_now(circuit, part, "")
        away[part] = [p.name for p in positions_of(circuit, part) if p.name != rest]
    moved = {part: names for part, names in away.items() if names}
    tried = 0
    for count in range(1, len(moved) + 1):
        for parts in combinations(moved, count):
            for names in product(*(moved[p] for p in parts)):
                tried += 1
                if tried > MOST_TRIED:
                    return
                yield dict(zip(parts, names, strict=True))


def _running(analyst: Analyst, circuit: Circuit, setting: Setting) -> tuple[int, int]:
    """Return how many loads run in a setting, and how many wires carry."""
    parts, wires = states_of(analyst.solve(circuit, setting, Memory()), circuit)
    return sum(p.running for p in parts.values()), sum(w.carrying for w in wires.values())


def paint_cell(painter: QPainter, target: QRectF, shown: Analysis, cell: Cell) -> None:
    """Paint one picture of a circuit into its cell, as large as it goes in."""
    if cell.grey:
        painter.drawImage(target, picture(shown, cell))
        return
    circuit, scene = shown.circuit, SheetScene(Look(cell.theme))
    scene.grid_shown = False
    scene.show_circuit(circuit, next(iter(circuit.sheets.values()), Sheet("s1", "Sheet 1")))
    scene.show_state(*states_of(shown, circuit), "state")
    area = scene.contents().adjusted(-EDGE, -EDGE, EDGE, EDGE)
    painter.fillRect(target, cell.theme.colour("sheet"))
    scene.render(painter, target, _as_wide(area, target))
    scene.detach()


def _as_wide(area: QRectF, target: QRectF) -> QRectF:
    """Return the area grown to the shape of the target; a small one is not blown up."""
    scale = min(target.width() / area.width(), target.height() / area.height(), 1.25)
    grown = QRectF(0, 0, target.width() / scale, target.height() / scale)
    grown.moveCenter(area.center())
    return grown


def picture(shown: Analysis, cell: Cell) -> QImage:
    """Return one picture of a circuit; a grey one is the ordinary one halved, without colour."""
    image = QImage(CELL_W, CELL_H, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    _smooth(painter)
    paint_cell(painter, QRectF(image.rect()), shown, Cell(cell.theme))
    painter.end()
    if not cell.grey:
        return image
    ways = (Qt.AspectRatioMode.IgnoreAspectRatio, Qt.TransformationMode.SmoothTransformation)
    return image.scaled(HALF_W, HALF_H, *ways).convertToFormat(QImage.Format.Format_Grayscale8)


def page_size(shown: Sequence[tuple[str, Circuit]]) -> tuple[int, int]:
    """Return width and height of the page."""
    return WIDTH, TOP + len(shown) * ROW + GAP


def places(row: int) -> Iterator[tuple[Cell, QRectF]]:
    """Yield the cells of a row with where they stand on the page."""
    x, y = float(GAP), float(TOP + row * ROW + HEAD - GAP)
    for cell in CELLS:
        width, height = cell.size
        yield cell, QRectF(x, y, width, height)
        x += width + GAP


def paint_page(device: QPaintDevice, shown: Sequence[tuple[str, Circuit]]) -> None:
    """Paint the page of these circuits onto a device of its size."""
    painter = QPainter(device)
    _smooth(painter)
    width, height = page_size(shown)
    painter.fillRect(QRectF(0, 0, width, height), PAPER)
    title = f"Voltwalk · {len(shown)} examples at work"
    write(painter, QRectF(GAP, 20, WIDTH, 44), title, INK, 34, True, LEFT)
    for word, (_, where) in zip(COLUMNS, places(0), strict=True):
        write(painter, QRectF(where.x(), 74, where.width(), 26), word, SOFT, 19, False, LEFT)
    for row, (name, circuit) in enumerate(shown):
        line = QRectF(GAP, TOP + row * ROW, WIDTH, HEAD - GAP)
        write(painter, line, name, INK, 22, True, LEFT)
        state = worked(circuit)
        for cell, where in places(row):
            paint_cell(painter, where, state, cell)
            painter.setPen(QColor("#c4beb0"))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(where)
    painter.end()


def _smooth(painter: QPainter) -> None:
    painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing)


def _png(shown: Sequence[tuple[str, Circuit]]) -> bytes:
    image = QImage(*page_size(shown), QImage.Format.Format_RGB32)
    paint_page(image, shown)
    return _bytes(image)


def _pdf(shown: Sequence[tuple[str, Circuit]]) -> bytes:
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setResolution(72)
    writer.setTitle("Voltwalk, every example")
    writer.setPageSize(QPageSize(QSizeF(*page_size(shown)), QPageSize.Unit.Point))
    writer.setPageMargins(QMarginsF(0, 0, 0, 0))
    paint_page(writer, shown)
    return bytes(buffer.data().data())


def _html(shown: Sequence[tuple[str, Circuit]]) -> bytes:
    rows = "".join(_html_row(name, circuit) for name, circuit in shown)
    heads = "".join(f"<span>{html.escape(c)}</span>" for c in COLUMNS)
    widths = " ".join(f"{cell.size[0]}fr" for cell in CELLS)
    style = (
        "body{font-family:sans-serif;margin:24px;color:#22262b}"
        f".row{{display:grid;grid-template-columns:{widths};gap:16px;align-items:start}}"
        "img{width:100%;border:1px solid #c4beb0}h2{margin:20px 0 8px;font-size:18px}"
        ".row span{color:#6a6c6b}"
    )
    text = (
        '<!doctype html><html lang="en"><meta charset="utf-8"><title>Voltwalk, every example'
        f"</title><style>{style}</style><h1>Voltwalk · {len(shown)} examples at work</h1>"
        f'<div class="row">{heads}</div>{rows}</html>'
    )
    return text.encode()


def _html_row(name: str, circuit: Circuit) -> str:
    images, state = [], worked(circuit)
    for cell, word in zip(CELLS, COLUMNS, strict=True):
        data = base64.b64encode(_bytes(picture(state, cell))).decode()
        alt = html.escape(f"{name}: {word.lower()}")
        images.append(f'<img alt="{alt}" src="data:image/png;base64,{data}">')
    return f'<h2>{html.escape(name)}</h2><div class="row">{"".join(images)}</div>'


def _bytes(image: QImage) -> bytes:
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    QImageWriter(buffer, QByteArray(b"png")).write(image)
    return bytes(buffer.data().data())


WRITERS: dict[str, Callable[[Sequence[tuple[str, Circuit]]], bytes]] = {
    ".png": _png,
    ".pdf": _pdf,
    ".html": _html,
}


def write_page(path: Path, shown: Iterable[tuple[str, Circuit]] = ()) -> None:
    """Write the page of every example, or of these circuits.

    Raises
    ------
    ValueError
        The ending of the file is none of .png, .pdf and .html.
    OSError
        The file cannot be written.
    """
    if path.suffix.lower() not in WRITERS:
        raise ValueError(f"“{path.suffix}” cannot be written: use .png, .pdf or .html.")
    application = QApplication.instance() or QApplication(["voltwalk"])
    make = partial(WRITERS[path.suffix.lower()], list(shown) or examples())
    path.write_bytes(make())
    application.processEvents()


def main(argv: Sequence[str]) -> int:
    """Write the page to the file that `argv` names; 0 done, 2 wrong call, 3 not written."""
    if len(argv) != 1:
        sys.stderr.write("usage: python3 -m app.pictures.page OUT.png|OUT.pdf|OUT.html\n")
        return 2
    os.environ["QT_QPA_PLATFORM"] = "offscreen"
    try:
        write_page(Path(argv[0]))
    except ValueError as error:
        sys.stderr.write(f"{error}\n")
        return 2
    except OSError as error:
        sys.stderr.write(f"{error}\n")
        return 3
    return 0


if __name__ == "__main__":
    from app.start.launch import enter

    enter("run")
    sys.exit(main(sys.argv[1:]))
