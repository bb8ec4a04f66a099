"""Sheets on paper: sizes of the standards, the light look on white, everything within the frame.

A4 and A3 are 210 × 297 mm and 297 × 420 mm (ISO 216); Letter is 8.5 × 11 inches (ASME Y14.1).
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from pypdf import PdfReader
from PySide6.QtCore import QRectF
from PySide6.QtGui import QImage, QPagedPaintDevice, QPainter, QPdfWriter
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from app.analysis import Analysis, Analyst
from app.ask import Painted
from app.export import export
from app.paper import BLOCK_H, BLOCK_W, PRINT, paint_page, print_sheets, set_up, usual_paper
from app.session import at_rest
from model.circuit import Circuit, Sheet
from model.file import load
from model.states import Memory
from tests.app.hands import Answers, Hands

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
    paint_page(painter, QRectF(0, 0, width, height), circuit, solved(circuit), sheet)
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
    assert [t.count(n) for t, n in zip(texts, ("Front · 1 / 3", "Rear · 2 / 3", "Cab · 3 / 3"),
                                       strict=True)] == [1, 1, 1]  # fmt: skip
    assert "K1" in texts[0]


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
