"""Sheets on paper: sizes of the standards, the light look on white, everything within the frame.

A4 and A3 are 210 × 297 mm and 297 × 420 mm (ISO 216); Letter is 8.5 × 11 inches (ASME Y14.1).
"""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader
from PySide6.QtCore import QRectF
from PySide6.QtGui import QImage, QPagedPaintDevice, QPainter, QPdfWriter
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from app.analysis import Analysis, Analyst
from app.ask import Painted
from app.export import export
from app.paper import PRINT, READABLE, Paper, print_sheets, set_up, tiles_of, usual_paper
from app.scene.given import code_of
from app.scene.paint_page import BLOCK_H, BLOCK_W, INSET, OVERLAP, UNITS
from app.session import at_rest
from app.words import CAUTIONS
from model.circuit import Chosen, Circuit, Sheet
from model.file import load
from model.states import Memory
from tests.app.hands import Answers, Hands
from tests.bench.circuits import cells

EXAMPLES = sorted((Path(__file__).parents[2] / "assets" / "examples").glob("*.voltwalk"))
POINTS = {"A4": (297 / 25.4 * 72, 210 / 25.4 * 72), "A3": (420 / 25.4 * 72, 297 / 25.4 * 72),
          "Letter": (11 * 72, 8.5 * 72)}  # fmt: skip


def horn() -> Circuit:
    """Return an example."""
    return load(next(f for f in EXAMPLES if f.stem == "horn")).circuit


def solved(circuit: Circuit) -> Analysis:
    """Return the circuit at rest."""
    return Analyst().solve(circuit, at_rest(circuit), Memory())


def text_of(page: object) -> str:
    """Return the words of a page of a PDF."""
    return " ".join(page.extract_text().split())  # type: ignore[attr-defined]


@pytest.mark.parametrize("paper", POINTS)
def test_a_pdf_is_a_level_page_of_the_paper_asked_for(
    qtbot: QtBot, tmp_path: Path, paper: str
) -> None:
    export(horn(), tmp_path / "x.pdf", paper=paper)
    (page,) = PdfReader(tmp_path / "x.pdf").pages
    box = (float(page.mediabox.width), float(page.mediabox.height))
    assert box == pytest.approx(POINTS[paper], abs=1.0)
    assert all(word in text_of(page) for word in ("Horn with its button", "Light van", "1 / 1"))


def test_a_paper_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="no paper “B7”: use A4, A3, Letter"):
        export(horn(), tmp_path / "x.pdf", paper="B7")
    assert usual_paper() in POINTS


def grey_page(circuit: Circuit, width: int, height: int) -> np.ndarray:
    """Return a page painted at 96 dots an inch, without colour, (rows, columns)."""
    image = QImage(width, height, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    sheet = next(iter(circuit.sheets.values()), Sheet("s1", "Sheet 1"))
    paper = Paper(circuit, solved(circuit), sheet, QRectF(0, 0, width, height))
    try:
        paper.paint(painter, 0, f"1 / {paper.count}")
    finally:
        paper.scene.detach()
        painter.end()
    grey = image.convertToFormat(QImage.Format.Format_Grayscale8)
    rows = np.frombuffer(grey.constBits(), np.uint8)
    return rows.reshape(height, grey.bytesPerLine())[:, :width].astype(int)


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda f: f.stem)
def test_every_example_lies_within_the_frame_clear_of_the_block(
    qtbot: QtBot, example: Path
) -> None:
    width, height = 1062, 733  # A4 between its margins
    page = grey_page(load(example).circuit, width, height)
    inside = page[4:-4, 4:-4]
    for strip in (inside[:4], inside[:, :4], inside[: -int(BLOCK_H) - 6, -4:]):
        assert strip.min() == 255
    above = page[-int(BLOCK_H) - 8 : -int(BLOCK_H) - 4, -int(BLOCK_W) :]
    assert above[:, :-4].min() == 255
    drawn = page[20 : -int(BLOCK_H) - 10, 20:-20]
    assert (drawn < 128).mean() > 0.005
    used = np.flatnonzero((drawn < 200).any(axis=0))
    tall = np.flatnonzero((drawn < 200).any(axis=1))
    assert used[-1] - used[0] > 0.85 * width or tall[-1] - tall[0] > 0.8 * height


def test_print_is_white_with_ink_that_a_printer_holds() -> None:
    """Text stands out 4.5:1 at least, as the W3C's guidelines 2.2 ask in 1.4.3."""

    def light(role: str) -> float:
        share = PRINT.colour(role).lightnessF()
        return float(((share + 0.055) / 1.055) ** 2.4)

    assert PRINT.colour("sheet").name() == PRINT.colour("card").name() == "#ffffff"
    for role in ("ink", "ink_soft", "tag_ink"):
        assert 1.05 / (light(role) + 0.05) >= 4.5


def test_every_sheet_has_its_page_on_a_real_printer_object(qtbot: QtBot, tmp_path: Path) -> None:
    circuit = replace(
        horn(), sheets={"a": Sheet("a", "Front"), "b": Sheet("b", "Rear"), "c": Sheet("c", "Cab")}
    )
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "x.pdf"))
    set_up(printer, "A3")
    print_sheets(printer, circuit, solved(circuit))
    texts = [text_of(p) for p in PdfReader(tmp_path / "x.pdf").pages]
    for number, (text, name) in enumerate(zip(texts, ("Front", "Rear", "Cab"), strict=True), 1):
        assert text.count(name) == 1 and f"{number} / 3" in text
    assert "K1" in texts[0]


def test_every_page_has_the_cautions_and_says_how_large_it_is_drawn(
    qtbot: QtBot, tmp_path: Path
) -> None:
    export(cells(100), tmp_path / "x.pdf", paper="A4")
    for page in PdfReader(tmp_path / "x.pdf").pages:
        text = text_of(page)
        assert all(sentence in text for sentence in CAUTIONS)
        assert re.search(r"50 mm when printed at full size · drawn at \d+%", text)


def test_a_sheet_too_large_for_a_page_is_tiled_after_its_overview(
    qtbot: QtBot, tmp_path: Path
) -> None:
    circuit = cells(100)
    counts = {}
    for paper in ("A4", "A3"):
        export(circuit, tmp_path / "x.pdf", paper=paper)
        texts = [text_of(p) for p in PdfReader(tmp_path / "x.pdf").pages]
        counts[paper] = len(texts)
        assert all(f"{i} / {len(texts)}" in t for i, t in enumerate(texts, 1))
        names = [re.findall(r"Sheet 1 · ([A-Z]\d)", t) for t in texts]
        assert names[:2] == [[], ["A1"]] and all(len(n) == 1 for n in names[1:])
        shown = " ".join(texts[1:]).split()
        assert {p.reference for p in circuit.parts.values()} <= set(shown)
    assert counts["A4"] > counts["A3"] > 2


@given(st.floats(50, 30000), st.floats(50, 30000))
def test_tiles_cover_the_drawing_at_a_scale_that_reads(wide: float, high: float) -> None:
    """Each has with the next one the overlap on the paper, and the whole is within their union."""
    room, drawn = QRectF(0, 0, 1038, 647), QRectF(-70, 40, wide, high)
    tiles = tiles_of(drawn, room)
    if not tiles:
        assert min(room.width() / wide, room.height() / high) >= READABLE
        return
    scale = room.width() / tiles[0].area.width()
    assert scale >= READABLE - 1e-9 or max(t.column for t in tiles) == 25 or tiles[-1].row == 25
    union = QRectF()
    for tile in tiles:
        union = union.united(tile.area)
    assert union.adjusted(-0.01, -0.01, 0.01, 0.01).contains(drawn)
    for one, other in pairwise(tiles):
        if one.row == other.row:
            assert (one.area.right() - other.area.left()) * scale == pytest.approx(OVERLAP)


def test_pages_laid_together_at_their_marks_show_the_same(qtbot: QtBot) -> None:
    """What one page has right of the middle of the overlap is what the next has left of it."""
    width, height = 1062, 733
    paper = Paper(cells(100), solved(cells(100)), Sheet("s1"), QRectF(0, 0, width, height))
    pages = []
    for index in (1, 2):
        image = QImage(width, height, QImage.Format.Format_Grayscale8)
        painter = QPainter(image)
        paper.paint(painter, index, "1 / 1")
        painter.end()
        pages.append(np.frombuffer(image.constBits(), np.uint8).reshape(height, -1).astype(int))
    paper.scene.detach()
    rows = slice(40, height - int(BLOCK_H) - 40)
    left = pages[0][rows, int(width - INSET - OVERLAP) + 4 : int(width - INSET) - 4]
    right = pages[1][rows, int(INSET) + 4 : int(INSET + OVERLAP) - 4]
    assert left.min() < 100
    assert np.abs(left - right).mean() < 6


def test_the_bar_is_as_long_as_it_says(qtbot: QtBot) -> None:
    page = grey_page(horn(), 1062, 733)
    row = page[733 - 12, 8:206]
    assert np.flatnonzero(row < 128).size == pytest.approx(50 / 25.4 * UNITS, abs=3)


def test_a_label_on_paper_has_the_code_of_the_colour(qtbot: QtBot, tmp_path: Path) -> None:
    """A print without colour still tells which wire it is; codes are those of IEC 60757."""
    export(horn(), tmp_path / "x.pdf", paper="A3")
    (page,) = PdfReader(tmp_path / "x.pdf").pages
    codes = {w.colour for w in horn().wires.values()}
    found = codes & set(text_of(page).split())
    assert len(found) >= len(codes) - 1


@pytest.mark.parametrize("name", ["trailer-lamps", "six-terminal-master", "fuse-board"])
@pytest.mark.parametrize("paper", POINTS)
def test_a_small_scale_keeps_the_code_beside_the_number(
    qtbot: QtBot, tmp_path: Path, name: str, paper: str
) -> None:
    circuit = load(next(f for f in EXAMPLES if f.stem == name)).circuit
    export(circuit, tmp_path / "x.pdf", paper=paper)
    pages = PdfReader(tmp_path / "x.pdf").pages
    text = " ".join(text_of(p).replace("·", " ") for p in pages)
    words = " ".join(text.split())
    told = [w for w in circuit.wires.values() if f"{w.number} {code_of(w)}" in words]
    assert len(told) >= 0.85 * len(circuit.wires)


def test_the_longest_title_stays_within_its_block(qtbot: QtBot) -> None:
    circuit = load(next(f for f in EXAMPLES if f.stem == "fuse-board")).circuit
    known = replace(
        circuit.settings, title="A title longer than that of any example there is, by far"
    )
    wide = grey_page(replace(circuit, settings=known), 1062, 733)
    top = 733 - round(BLOCK_H)
    row = wide[top + 6 : top + 22, 1062 - round(BLOCK_W) + 4 : 1062 - 4]
    assert (row < 128).any()
    assert not (row[:, -3:] < 128).any()


@pytest.mark.qt_log_ignore(r"QPainter::begin\(\): Returned false", extend=True)
def test_a_page_that_cannot_be_painted_is_told(qtbot: QtBot, tmp_path: Path) -> None:
    writer = QPdfWriter(str(tmp_path / "none" / "x.pdf"))
    with pytest.raises(OSError, match="cannot be painted"):
        print_sheets(writer, horn(), solved(horn()))


class PrintAnswers(Answers):
    """Prints to a file in place of showing the preview."""

    def print_out(self, parent: QWidget, name: str, paint: Painted) -> str:
        """Paint the pages into a file."""
        self.asked.append(name)
        device: QPagedPaintDevice = QPdfWriter(str(self.path))
        set_up(device, "A4")
        paint(device)
        return ""


def test_printing_shows_the_state_and_never_the_dark_look(hands: Hands, tmp_path: Path) -> None:
    hands.window.ask = answers = PrintAnswers()
    hands.window.files.show_circuit(horn())
    hands.settle()
    sizes = []
    for theme in ("dark", "light"):
        hands.window.session.look_at(theme=theme)
        answers.path = tmp_path / f"{theme}.pdf"
        hands.window.actions_["print"].trigger()
        (page,) = PdfReader(answers.path).pages
        data = page.get_contents().get_data()  # type: ignore[union-attr]
        sizes.append(data)
    assert answers.asked == ["Horn with its button in the ground side"] * 2
    assert sizes[0] == sizes[1]


def test_every_page_says_what_is_assumed_and_which_table_is_to_be_confirmed(
    qtbot: QtBot, tmp_path: Path
) -> None:
    """A length nobody measured, and a table from memory; without either nothing is said."""
    circuit = horn()
    export(circuit, tmp_path / "known.pdf", paper="A4")
    key = next(iter(circuit.wires))
    wire = replace(circuit.wires[key], length_m=None)
    chosen = Chosen(ampacity="iso-10133-70")
    settings = replace(circuit.settings, chosen=chosen)
    shaky = replace(circuit, wires={**circuit.wires, key: wire}, settings=settings)
    export(shaky, tmp_path / "shaky.pdf", paper="A4")
    known, said = (
        text_of(PdfReader(tmp_path / name).pages[0]) for name in ("known.pdf", "shaky.pdf")
    )
    assert f"Assumed: size or length of {wire.number}." in said
    assert "Tables to be confirmed: ampacity iso-10133-70 (from memory)." in said
    assert all(sentence in said for sentence in CAUTIONS)
    assert "Assumed" not in known and "confirmed" not in known
