"""A window on a blank sheet, driven by keys and mouse like a person's, with answers ready.

Where PySide6 is not installed the tests of the window are left out; those of the command line,
which live beside them, still run.
"""

from __future__ import annotations

from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from tests.app.hands import Hands


def _has_qt() -> bool:
    """Tell whether PySide6 is installed and not barred."""
    try:
        return find_spec("PySide6") is not None
    except ModuleNotFoundError:
        return False


if not _has_qt():
    collect_ignore_glob = [
        "test_*.py",
        *("access/*", "commanding/*", "gestures/*", "scene/*", "sheeting/*"),
        "wording/*",
        *("entry/test_line.py", "owning/test_form.py"),
    ]


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path) -> Iterator[Hands]:
    """Return hands on a window with a blank sheet; it is closed and gone afterwards."""
    from app import acts
    from app.session import Session
    from app.window import Window
    from tests.app.hands import Answers, Hands

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
