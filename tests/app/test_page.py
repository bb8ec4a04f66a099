"""The page of every example: three themes and black and white at half size, in three formats."""

from __future__ import annotations

import base64
import html
import re
from pathlib import Path

import numpy as np
import pytest
from pypdf import PdfReader
from PySide6.QtGui import QColor, QImage
from pytestqt.qtbot import QtBot

from app.pictures import page
from app.pictures.page import (
    CELLS,
    COLUMNS,
    at_work,
    examples,
    main,
    page_size,
    picture,
    places,
    worked,
    write_page,
)
from app.presenter import states_of
from model.circuit import Circuit
from model.lookup import kind_of


@pytest.fixture(scope="module")
def two() -> list[tuple[str, Circuit]]:
    """Return two examples."""
    return [e for e in examples() if e[0].startswith(("Horn", "Fuel pump with"))]


def grey_of(image: QImage) -> np.ndarray:
    """Return how light an image is, (rows, columns)."""
    grey = image.convertToFormat(QImage.Format.Format_Grayscale8)
    rows = np.frombuffer(grey.constBits(), np.uint8)
    return rows.reshape(grey.height(), grey.bytesPerLine())[:, : grey.width()].astype(int)


def hues(image: QImage) -> np.ndarray:
    """Return how far from grey each pixel is within the frame, 0 to 255."""
    image = image.copy(2, 2, image.width() - 4, image.height() - 4)
    image = image.convertToFormat(QImage.Format.Format_RGB32)
    rows = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), -1, 4)
    rgb = rows[:, : image.width(), :3].astype(int)
    return np.asarray(rgb.max(axis=2) - rgb.min(axis=2))


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
            assert (hues(piece).max() == 0) == cell.grey


def test_the_half_picture_is_the_ordinary_one_without_colour(
    qtbot: QtBot, two: list[tuple[str, Circuit]]
) -> None:
    light, _, _, grey = CELLS
    large, small = (grey_of(picture(worked(two[0][1]), c)) for c in (light, grey))
    halved = large.reshape(350, 2, 600, 2).mean(axis=(1, 3))
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


def test_one_command_makes_every_picture_of_every_example(qtbot: QtBot, tmp_path: Path) -> None:
    """Each is drawn, of the size told, fills a good part of it, and the grey one has no hue."""
    out = tmp_path / "page.html"
    assert main([str(out)]) == 0
    found = re.findall(
        r'<img alt="([^"]+)" src="data:image/png;base64,([^"]+)"', out.read_text("utf-8")
    )
    shown = examples()
    wanted = [f"{name}: {word.lower()}" for name, _ in shown for word in COLUMNS]
    assert [html.unescape(alt) for alt, _ in found] == wanted
    for i, (alt, data) in enumerate(found):
        image, cell = QImage.fromData(base64.b64decode(data)), CELLS[i % len(CELLS)]
        assert (image.width(), image.height()) == cell.size == ((600, 350) if cell.grey else
                                                                (1200, 700)), alt  # fmt: skip
        assert (hues(image).max() == 0) == cell.grey, alt
        drawn = np.abs(grey_of(image) - grey_of(image)[3, 3]) > 40
        rows, columns = drawn.any(axis=1).nonzero()[0], drawn.any(axis=0).nonzero()[0]
        reach = max(np.ptp(rows) / image.height(), np.ptp(columns) / image.width())
        assert drawn.mean() > 0.02, alt
        assert 0.8 < reach < 1.0, alt  # as large as it goes in, and nothing cut at the edge


def test_an_example_is_shown_in_the_state_in_which_most_loads_run(
    two: list[tuple[str, Circuit]],
) -> None:
    for name, circuit in examples():
        loads = [p for p in circuit.parts.values() if kind_of(circuit, p).family == "load"]
        state, _ = states_of(worked(circuit), circuit)
        assert any(state[p.id].running for p in loads), name
    pump = dict(two)["Fuel pump with relay and crash switch"]
    (switch,) = (p.id for p in pump.parts.values() if p.reference == "S1")
    assert at_work(pump).positions == {switch: "ON"}  # the crash switch stays as it rests
