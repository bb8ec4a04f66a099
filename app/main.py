"""The window as a program: starts Qt, opens what was asked for, leaves in order."""

from __future__ import annotations

import logging
import sys
from pathlib import Path
from types import TracebackType
from typing import Protocol

from PySide6.QtCore import QLocale, QSettings
from PySide6.QtGui import QIcon
from PySide6.QtWidgets import QApplication

from app import files
from app.desk import Desk
from app.keeping import SettingsKeep
from app.pictures.loader import icon
from app.theme import LIGHT
from app.window import Window
from app.wording.speaking import speak

log = logging.getLogger(__name__)


def run_window(path: Path | None = None) -> int:
    """Open the window and stay until it is closed.

    Parameters
    ----------
    path
        A circuit file. Without one the first start shows the demo circuit and later ones a blank
        sheet.

    Returns
    -------
    int
        0 when the window was closed as it should be.
    """
    app = QApplication.instance() or QApplication(["voltwalk"])
    assert isinstance(app, QApplication)
    _dress(app)
    speak(app, QLocale())
    desk = Desk(SettingsKeep())
    window = desk.open()
    sys.excepthook = Report(desk)
    _open_first(window, path)
    window.show()
    window.around.offer_steps()
    window.view.setFocus()
    code = app.exec()
    sys.excepthook = sys.__excepthook__
    desk.clear()
    app.processEvents()
    return code


def _dress(app: QApplication) -> None:
    app.setApplicationName("Voltwalk")
    app.setOrganizationName("Voltwalk")
    app.setStyle("Fusion")
    app.setWindowIcon(emblem())


def emblem() -> QIcon:
    """Return the program's emblem."""
    return icon("app", LIGHT.colour("ink"), 256)


def _open_first(window: Window, path: Path | None) -> None:
    """Show the file asked for, the demo on the first start, else the blank sheet."""
    settings = QSettings()
    if path is not None:
        window.files.open_file(path)
    elif not settings.value("started", False, type=bool):
        window.files.show_circuit(files.demo())
    settings.setValue("started", True)


class Teller(Protocol):
    """Something that tells a sentence, and that can be closed: a window, or all of them."""

    def tell(self, text: str) -> None:
        """Tell a sentence."""

    def close(self) -> object:
        """Close it."""


class Report:
    """The excepthook: logs what went wrong and says so in the window, which stays open."""

    def __init__(self, window: Teller) -> None:
        self._window = window

    def __call__(
        self, kind: type[BaseException], error: BaseException, trace: TracebackType | None
    ) -> None:
        """Log the error with its traceback and tell it in one sentence."""
        log.critical("unexpected error", exc_info=(kind, error, trace))
        if issubclass(kind, KeyboardInterrupt):
            self._window.close()
            return
        self._window.tell(
            f"Something went wrong inside the program ({kind.__name__}: {error}). Save under "
            "another name; the circuit is as it was before the last act."
        )
