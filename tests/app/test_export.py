"""Drawings: what stands on the sheet stands in the file, whatever the theme of the window."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

pytest.importorskip("PySide6")

from pypdf import PdfReader
from PySide6.QtGui import QColor, QImage
from pytestqt.qtbot import QtBot

from app.export import export
from app.theme import LIGHT
from model.circuit import Circuit
from model.file import load

CIRCUITS = Path(__file__).parents[1] / "circuits"


@pytest.fixture(scope="module")
def pump() -> Circuit:
    """Return the pump circuit."""
    return load(CIRCUITS / "C01.voltwalk").circuit


def _said(circuit: Circuit) -> set[str]:
    references = {p.reference for p in circuit.parts.values()}
    return references | {w.number for w in circuit.wires.values()} | {"30", "85", "86", "87", "NC"}


def test_an_svg_holds_every_reference_and_wire_number(
    qtbot: QtBot, pump: Circuit, tmp_path: Path
) -> None:
    export(pump, tmp_path / "x.svg")
    text = (tmp_path / "x.svg").read_text(encoding="utf-8")
    written = set(re.findall(r">([^<>]+)</text>", text))
    words = {w.strip() for t in written for w in (t, *t.split())}
    assert _said(pump) <= words
    assert "<title>" in text


def test_a_pdf_is_one_page_with_text_to_search(qtbot: QtBot, pump: Circuit, tmp_path: Path) -> None:
    export(pump, tmp_path / "x.pdf", paper="A3")
    (page,) = PdfReader(tmp_path / "x.pdf").pages
    text = " ".join(page.extract_text().split())
    assert all(word in text for word in ("K1", "S2", "M1", "W08", "crash switch", "floor"))


def test_a_png_is_light_and_not_empty(qtbot: QtBot, pump: Circuit, tmp_path: Path) -> None:
    export(pump, tmp_path / "x.png")
    image = QImage(str(tmp_path / "x.png"))
    assert image.pixelColor(3, 3) == QColor(LIGHT.sheet)
    colours = {image.pixel(x, y) for x in range(0, image.width(), 7)
               for y in range(0, image.height(), 7)}  # fmt: skip
    assert len(colours) > 20


def test_the_same_circuit_gives_the_same_drawing(
    qtbot: QtBot, pump: Circuit, tmp_path: Path
) -> None:
    for name in ("a.svg", "b.svg"):
        export(pump, tmp_path / name)
    assert (tmp_path / "a.svg").read_bytes() == (tmp_path / "b.svg").read_bytes()


def test_an_empty_circuit_and_an_unknown_ending(qtbot: QtBot, tmp_path: Path) -> None:
    export(Circuit(), tmp_path / "x.svg")
    assert (tmp_path / "x.svg").stat().st_size > 0
    with pytest.raises(ValueError, match="cannot be drawn"):
        export(Circuit(), tmp_path / "x.bmp")
    with pytest.raises(OSError, match="No such file"):
        export(Circuit(), tmp_path / "none" / "x.svg")
