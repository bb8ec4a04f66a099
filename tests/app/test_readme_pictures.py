"""The pictures of the README are of the program as it is now."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from pytestqt.qtbot import QtBot

from app.pictures.readme import FOLDER, Picture, main, pictures, take
from tests import markdown

SMALL = (160, 100)
LEAST = 0.005
"""Share of black by which small pictures may differ: another font came to 0.004, measured."""


def seen(path: Path) -> np.ndarray:
    """Return how dark a picture is at 160 × 100, shape (100, 160)."""
    image = QImage(str(path))
    assert not image.isNull(), path
    ways = (Qt.AspectRatioMode.IgnoreAspectRatio, Qt.TransformationMode.SmoothTransformation)
    small = image.scaled(*SMALL, *ways).convertToFormat(QImage.Format.Format_Grayscale8)
    rows = np.frombuffer(small.constBits(), np.uint8).reshape(SMALL[1], small.bytesPerLine())
    return 1.0 - rows[:, : SMALL[0]].astype(float) / 255.0


def test_the_readme_shows_every_picture_and_no_other() -> None:
    shown = [
        Path(link) for link in markdown.links(markdown.page("README.md")) if link[-4:] == ".png"
    ]
    assert sorted(p.stem for p in shown) == sorted(p.name for p in pictures())
    assert {(markdown.ROOT / p).parent for p in shown} == {FOLDER}
    assert sorted(f.name for f in FOLDER.iterdir()) == sorted(p.name for p in shown)


@pytest.mark.parametrize("picture", pictures(), ids=lambda p: p.name)
def test_a_picture_kept_is_what_the_window_shows(
    picture: Picture, qtbot: QtBot, tmp_path: Path
) -> None:
    new, kept = take(picture, tmp_path), FOLDER / f"{picture.name}.png"
    image = QImage(str(kept))
    assert (image.width(), image.height()) == picture.size
    away = float(np.abs(seen(new) - seen(kept)).mean())
    assert away < LEAST, f"{away:.3f}: take it anew with python3 -m app.pictures.readme"


def test_pictures_are_told_apart() -> None:
    """The measure used above is fine enough to see one circuit in place of another."""
    names = [FOLDER / f"{p.name}.png" for p in pictures()]
    for a, b in ((a, b) for a in names for b in names if a < b):
        assert np.abs(seen(a) - seen(b)).mean() > LEAST, (a.name, b.name)


def test_the_command_takes_them_all(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "app.pictures.readme", str(tmp_path)],
        cwd=markdown.ROOT, capture_output=True, text=True, timeout=120,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert sorted(f.stem for f in tmp_path.iterdir()) == sorted(p.name for p in pictures())


def test_a_wrong_call_and_a_folder_that_is_not_there(qapp: object, tmp_path: Path) -> None:
    assert main(["a", "b"]) == 2
    assert main([str(tmp_path / "nowhere")]) == 3
