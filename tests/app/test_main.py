"""The window as a program: first start, a file, an error inside, leaving in order."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings, QTimer
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app import files
from app.main import Report, run_window
from app.window import Window

STARTS = int(os.environ.get("VOLTWALK_STARTS", "2"))
"""How often the program is started and left; twenty times before a release."""

CIRCUITS = Path(__file__).parents[1] / "circuits"


@pytest.fixture
def settings(tmp_path: Path) -> Iterator[None]:
    """Keep the program's settings of a test in its own folder."""
    form, scope = QSettings.Format.NativeFormat, QSettings.Scope.UserScope
    QSettings.setPath(form, scope, str(tmp_path / "settings"))
    yield
    QSettings.setPath(form, scope, "")


class Visitor:
    """Looks at the window once it is open, then closes it."""

    def __init__(self) -> None:
        self.title, self.parts, self.told = "", 0, ""

    def visit(self) -> None:
        """Note what the window shows and close it."""
        (window,) = (w for w in QApplication.topLevelWidgets() if isinstance(w, Window))
        self.title = window.windowTitle()
        self.parts = len(window.session.circuit.parts)
        self.told = window.notice.text()
        window.close()


def _run(path: Path | None) -> tuple[int, Visitor]:
    visitor = Visitor()
    QTimer.singleShot(50, visitor.visit)
    return run_window(path), visitor


def test_the_first_start_shows_the_demo_and_later_ones_a_blank_sheet(
    qtbot: QtBot, settings: None
) -> None:
    code, first = _run(None)
    assert (code, first.parts) == (0, len(files.demo().parts))
    assert first.parts > 5
    code, second = _run(None)
    assert (code, second.parts) == (0, 0)


def test_a_file_is_opened(qtbot: QtBot, settings: None) -> None:
    code, seen = _run(CIRCUITS / "C07.voltwalk")
    assert (code, seen.parts, seen.title) == (0, 9, "C07.voltwalk[*] · Voltwalk")


def test_a_file_that_does_not_open_is_told_and_the_window_stays(
    qtbot: QtBot, settings: None, tmp_path: Path
) -> None:
    bad = tmp_path / "bad.voltwalk"
    bad.write_text("{")
    code, seen = _run(bad)
    assert (code, seen.parts) == (0, 0)
    assert "bad.voltwalk" in seen.told


@pytest.mark.logs
def test_an_error_inside_is_told_and_logged(
    qtbot: QtBot, settings: None, caplog: pytest.LogCaptureFixture
) -> None:
    from app import acts
    from app.session import Session

    window = Window(Session(acts.blank()))
    error = ZeroDivisionError("by nothing")
    Report(window)(type(error), error, None)
    assert "by nothing" in window.notice.text()
    assert "unexpected error" in caplog.text
    window.close()
    window.deleteLater()


@pytest.mark.parametrize("_time", range(STARTS))
def test_the_program_started_and_left_in_a_process_of_its_own_ends_with_zero(
    _time: int, tmp_path: Path
) -> None:
    script = (
        "from PySide6.QtCore import QTimer\n"
        "from PySide6.QtWidgets import QApplication\n"
        "app = QApplication(['voltwalk'])\n"
        "from app.main import run_window\n"
        "QTimer.singleShot(200, app.closeAllWindows)\n"
        "raise SystemExit(run_window(None))\n"
    )
    env = {"HOME": str(tmp_path), "QT_QPA_PLATFORM": "offscreen", "PATH": "/usr/bin"}
    done = subprocess.run([sys.executable, "-c", script], env=env, capture_output=True, text=True,
                          cwd=Path(__file__).parents[2], timeout=120)  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert "Traceback" not in done.stderr


def test_the_demo_is_the_fuel_pump() -> None:
    assert (files.EXAMPLES / files.DEMO).is_file()
    assert {p.reference for p in files.demo().parts.values()} >= {"G1", "F1", "K1", "M1", "S2"}
