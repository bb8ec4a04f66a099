"""The page of every example: three themes and black and white at half size, in three formats."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import pytest
from pypdf import PdfReader
from PySide6.QtGui import QColor, QImage
from pytestqt.qtbot import QtBot

from app.pictures import page
from app.pictures.page import CELLS, COLUMNS, examples, main, page_size, places, write_page
from model.circuit import Circuit


@pytest.fixture(scope="module")
def two() -> list[tuple[str, Circuit]]:
    """Return two examples."""
    return [e for e in examples() if e[0].startswith(("Horn", "Fuel pump with"))]


def grey_of(image: QImage) -> np.ndarray:
    """Return how light an image is, (rows, columns)."""
    grey = image.convertToFormat(QImage.Format.Format_Grayscale8)
    rows = np.frombuffer(grey.constBits(), np.uint8)
    return rows.reshape(grey.height(), grey.bytesPerLine())[:, : grey.width()].astype(int)


def test_every_example_file_is_on_the_page() -> None:
    shown = examples()
    assert len(shown) == len(list(page.EXAMPLES.glob("*.voltwalk"))) >= 17
    assert len({name for name, _ in shown}) == len(shown)


def test_the_picture_has_four_cells_a_row_each_in_its_own_look(
    qtbot: QtBot, tmp_path: Path, two: list[tuple[str, Circuit]]
) -> None:
    write_page(tmp_path / "page.png", two)
    image = QImage(str(tmp_path / "page.png"))
    assert (image.width(), image.height()) == page_size(two)
    for row in range(2):
        for cell, where in places(row):
            piece = image.copy(where.toRect())
            assert (piece.width(), piece.height()) == cell.size
            assert grey_of(piece).std() > 8  # something is drawn
            paper = QColor(piece.pixel(6, 6))
            wanted = cell.theme.colour("sheet")
            if cell.grey:
                assert paper.red() == paper.green() == paper.blue()
            else:
                assert paper == wanted
    grey = image.copy(list(places(0))[3][1].toRect())
    assert all(QColor(grey.pixel(x, 140)).saturation() == 0 for x in range(2, 478))


def test_the_half_picture_is_the_ordinary_one_without_colour(
    qtbot: QtBot, two: list[tuple[str, Circuit]]
) -> None:
    light, _, _, grey = CELLS
    large, small = (grey_of(page.picture(two[0][1], c)) for c in (light, grey))
    halved = large.reshape(280, 2, 480, 2).mean(axis=(1, 3))
    assert np.abs(halved - small).mean() < 3


def test_the_pdf_has_every_title_as_text(
    qtbot: QtBot, tmp_path: Path, two: list[tuple[str, Circuit]]
) -> None:
    write_page(tmp_path / "page.pdf", two)
    reader = PdfReader(tmp_path / "page.pdf")
    text = " ".join(reader.pages[0].extract_text().split())
    assert len(reader.pages) == 1
    assert all(name in text for name, _ in two)
    assert all(word in text for word in COLUMNS)


def test_the_html_has_a_picture_with_words_for_each_cell(
    qtbot: QtBot, tmp_path: Path, two: list[tuple[str, Circuit]]
) -> None:
    write_page(tmp_path / "page.html", two)
    text = (tmp_path / "page.html").read_text(encoding="utf-8")
    alts = re.findall(r'<img alt="([^"]+)" src="data:image/png;base64,[A-Za-z0-9+/=]{1000,}"', text)
    assert alts == [f"{name}: {word.lower()}" for name, _ in two for word in COLUMNS]


def test_the_command_writes_and_says_what_is_wrong(
    qtbot: QtBot,
    tmp_path: Path,
    two: list[tuple[str, Circuit]],
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.setattr(page, "examples", lambda: two[:1])
    assert main([str(tmp_path / "a.png")]) == 0
    assert (tmp_path / "a.png").stat().st_size > 20_000
    assert main([]) == 2
    assert main([str(tmp_path / "a.bmp")]) == 2
    assert main([str(tmp_path / "nowhere" / "a.png")]) == 3
    assert "use .png, .pdf or .html" in capsys.readouterr().err
