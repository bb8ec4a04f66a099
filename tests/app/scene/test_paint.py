"""What is painted tells the states apart without colour, at every zoom and in every theme."""

from __future__ import annotations

from itertools import combinations
from pathlib import Path

import numpy as np
import pytest

pytest.importorskip("PySide6")

from numpy.typing import NDArray
from PySide6.QtCore import QRectF
from PySide6.QtGui import QImage, QPainter
from pytestqt.qtbot import QtBot

from app.analysis import Analyst
from app.presenter import states_of
from app.scene.paint_wire import WireLook, paint_wire
from app.scene.painted import PaintedWire
from app.scene.sheet_scene import SheetScene
from app.scene.stroke import stroke_of
from app.session import at_rest
from app.theme import THEMES, Look, Theme
from model.circuit import Sheet
from model.file import load
from model.states import Memory

CIRCUITS = Path(__file__).parents[2] / "circuits"
STATES = {
    "fed": PaintedWire("fed", solved=True),
    "carrying": PaintedWire("fed", 8.0, solved=True),
    "returning": PaintedWire("ground", 8.0, solved=True),
    "ground": PaintedWire("ground", solved=True),
    "dead": PaintedWire("none", solved=True),
    "fault": PaintedWire("fed", solved=True, severity="fault"),
    "danger": PaintedWire("fed", solved=True, severity="danger"),
}
Grey = NDArray[np.int16]


def _grey(image: QImage) -> Grey:
    grey = image.convertToFormat(QImage.Format.Format_Grayscale8)
    rows = np.frombuffer(grey.constBits(), np.uint8).reshape(grey.height(), grey.bytesPerLine())
    return rows[:, : grey.width()].astype(np.int16)


def _wire(state: PaintedWire, colour: str, theme: Theme, scale: float = 1.0) -> Grey:
    """Paint one straight wire and return it without colour."""
    image = QImage(round(240 * scale), round(60 * scale), QImage.Format.Format_RGB32)
    image.fill(theme.colour("sheet"))
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(scale, scale)
    stroke = stroke_of(((10.0, 30.0), (230.0, 30.0)))
    paint_wire(painter, stroke, WireLook(colour, "", 6.0), state, "state", theme, scale)
    painter.end()
    return _grey(image)


@pytest.mark.parametrize("theme", THEMES.values(), ids=lambda t: t.name)
@pytest.mark.parametrize("colour", ["RD", "BK", "BU", "YE", "OG", "WH"])
def test_the_states_differ_without_colour_at_half_size(
    qtbot: QtBot, theme: Theme, colour: str
) -> None:
    """A share of the picture differs by at least a sixth of black to white."""
    seen = {name: _wire(state, colour, theme, 0.5) for name, state in STATES.items()}
    for a, b in combinations(seen, 2):
        differing = np.abs(seen[a] - seen[b]) > 42
        assert differing.mean() > 0.003, (a, b)


def test_a_larger_current_has_a_wider_band(qtbot: QtBot) -> None:
    theme = THEMES["light"]
    widths = []
    for current in (0.15, 1.5, 15.0, 150.0):
        column = _wire(PaintedWire("fed", current, solved=True), "RD", theme)[:, 25]
        dark = np.flatnonzero(column < 120)
        widths.append(int(dark[-1] - dark[0]))
    assert widths == sorted(widths)
    assert widths[-1] > widths[0]


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("zoom", [0.1, 0.3, 0.5, 1.0, 2.5])
def test_a_whole_sheet_is_painted_at_any_zoom(qtbot: QtBot, theme: str, zoom: float) -> None:
    circuit = load(CIRCUITS / "C10.voltwalk").circuit
    scene = SheetScene(Look(THEMES[theme]))
    scene.show_circuit(circuit, Sheet("s1"))
    solved = Analyst().solve(circuit, at_rest(circuit), Memory())
    for overlay in ("state", "findings", "none"):
        scene.show_state(*states_of(solved, circuit), overlay)
        area = scene.contents()
        image = QImage(round(area.width() * zoom), round(area.height() * zoom),
                       QImage.Format.Format_RGB32)  # fmt: skip
        painter = QPainter(image)
        scene.render(painter, QRectF(image.rect()), area)
        painter.end()
        assert _grey(image).std() > 3  # something stands on the paper
    scene.detach()
