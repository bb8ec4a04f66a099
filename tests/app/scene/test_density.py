"""High-density screens: the same picture at scale 1, 1.25 and 2, finer and not smaller."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

pytest.importorskip("PySide6")

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QImage, QPainter
from pytestqt.qtbot import QtBot

from app.scene.sheet_scene import SheetScene
from app.theme import THEMES, Look
from model.circuit import Sheet
from model.file import load

ROOT = Path(__file__).parents[3]
EXAMPLE = ROOT / "assets" / "examples" / "fuel-pump.voltwalk"
SCALES = (1.25, 2.0)


def painted(theme: str, scale: float, zoom: float) -> QImage:
    """Return the example painted as a screen of this scale does."""
    circuit = load(EXAMPLE).circuit
    scene = SheetScene(Look(THEMES[theme]))
    scene.show_circuit(circuit, Sheet("s1"))
    area = QRectF(scene.contents().toAlignedRect())
    width, height = round(area.width() * zoom), round(area.height() * zoom)
    image = QImage(round(width * scale), round(height * scale), QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(scale)
    painter = QPainter(image)
    painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing)
    scene.render(painter, QRectF(0, 0, width, height), area)
    painter.end()
    scene.detach()
    return image


def grey(image: QImage, like: QImage | None = None) -> np.ndarray:
    """Return how light an image is, as large as another one."""
    if like is not None:
        ways = (Qt.AspectRatioMode.IgnoreAspectRatio, Qt.TransformationMode.SmoothTransformation)
        image = image.scaled(like.size(), *ways)
    flat = image.convertToFormat(QImage.Format.Format_Grayscale8)
    rows = np.frombuffer(flat.constBits(), np.uint8)
    return rows.reshape(flat.height(), flat.bytesPerLine())[:, : flat.width()].astype(float)


def blurred(image: QImage) -> np.ndarray:
    """Return how light an image is, in squares so large that dots of edges do not count."""
    size = (QSize(160, 60), Qt.AspectRatioMode.IgnoreAspectRatio)
    return grey(image.scaled(*size, Qt.TransformationMode.SmoothTransformation))


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("scale", SCALES)
@pytest.mark.parametrize("zoom", [0.45, 0.6, 1.0])
def test_a_finer_screen_shows_the_same_at_every_zoom(
    qtbot: QtBot, theme: str, scale: float, zoom: float
) -> None:
    """What is left out and how large texts are goes by the size seen, not by dots."""
    plain, fine = painted(theme, 1.0, zoom), painted(theme, scale, zoom)
    assert fine.width() == round(plain.width() * scale)
    away = np.abs(blurred(plain) - blurred(fine))
    assert away.mean() < 2.0  # measured: 0.1 to 1.6


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_a_sheet_far_away_is_as_bare_on_a_finer_screen(qtbot: QtBot, theme: str) -> None:
    """At 45 % numbers and names are left out; the same dots at 90 % of a plain screen have them."""
    plain, fine = painted(theme, 1.0, 0.45), painted(theme, 2.0, 0.45)
    near = painted(theme, 1.0, 0.9)
    assert near.size() == fine.size()
    away = np.abs(grey(plain, plain) - grey(fine, plain)).mean()
    assert away < 0.6 * np.abs(grey(plain, plain) - grey(near, plain)).mean()


SHOT = """
import sys
from pathlib import Path
from PySide6.QtWidgets import QApplication
app = QApplication(["t"])
app.setStyle("Fusion")
from app.session import Session
from app.window import Window
from model.file import load
window = Window(Session(load(Path(sys.argv[1])).circuit))
window.session.look_at(theme=sys.argv[2])
window.resize(1000, 640)
window.show()
app.processEvents()
window.session.schedule.flush()
window.view.fit()
app.processEvents()
window.grab().toImage().save(sys.argv[3])
window.shut()
"""


def window_at(scale: float, theme: str, out: Path) -> QImage:
    """Return a picture of the whole window on a screen of this scale."""
    subprocess.run(
        [sys.executable, "-c", SHOT, str(EXAMPLE), theme, str(out)],
        env={**os.environ, "QT_SCALE_FACTOR": str(scale), "QT_QPA_PLATFORM": "offscreen"},
        cwd=ROOT, check=True, capture_output=True, timeout=60,
    )  # fmt: skip
    return QImage(str(out))


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_the_window_is_the_same_at_every_scale(qtbot: QtBot, tmp_path: Path, theme: str) -> None:
    plain = window_at(1.0, theme, tmp_path / "1.png")
    assert (plain.width(), plain.height()) == (1000, 640)
    for scale in SCALES:
        fine = window_at(scale, theme, tmp_path / "x.png")
        assert (fine.width(), fine.height()) == (round(1000 * scale), round(640 * scale))
        assert np.abs(grey(plain) - grey(fine, plain)).mean() < 5
