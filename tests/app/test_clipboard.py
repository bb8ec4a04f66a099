"""The clipboard: our own form beside plain text, and a program that still ends in order."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from PySide6.QtGui import QGuiApplication
from pytestqt.qtbot import QtBot

from app import clipboard


def test_our_form_is_read_before_the_text_beside_it(qtbot: QtBot) -> None:
    clipboard.put("as it was")
    data = QGuiApplication.clipboard().mimeData()
    assert (data.text(), clipboard.held()) == ("as it was", "as it was")
    assert sorted(data.formats()) == sorted([clipboard.MIME, "text/plain"])


def test_any_other_text_is_read_as_it_is(qtbot: QtBot) -> None:
    QGuiApplication.clipboard().setText("Grüße")
    assert clipboard.held() == "Grüße"
    QGuiApplication.clipboard().clear()
    assert clipboard.held() == ""


def test_the_program_ends_in_order_with_a_full_clipboard() -> None:
    """Data that the binding made crashes the program when it ends: the clipboard outlives it."""
    program = (
        "from PySide6.QtWidgets import QApplication\n"
        "app = QApplication([])\n"
        "from app import clipboard\n"
        "clipboard.put('kept')\n"
        "assert clipboard.held() == 'kept'\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=False,
        cwd=Path(__file__).parents[2], env={**os.environ, "QT_QPA_PLATFORM": "offscreen"},
        timeout=120,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
