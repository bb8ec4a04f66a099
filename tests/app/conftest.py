"""A window on a blank sheet, driven by keys and mouse like a person's, with answers ready."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

pytest.importorskip("PySide6")

from pytestqt.qtbot import QtBot

from tests.app.hands import Answers, Hands


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path) -> Iterator[Hands]:
    """Return hands on a window with a blank sheet; it is closed and gone afterwards."""
    from app import acts
    from app.session import Session
    from app.window import Window

    answers = Answers()
    window = Window(Session(acts.blank()), answers)
    window.resize(1400, 900)
    window.show()
    qtbot.waitExposed(window)
    window.activateWindow()
    window.view.setFocus()
    made = Hands(qtbot, window, answers, tmp_path)
    made.settle()
    yield made
    answers.unsaved_answer = "leave"
    window.close()
    window.deleteLater()
    made.flush()
