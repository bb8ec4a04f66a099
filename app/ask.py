"""Questions put to the person, behind one seam, so that tests answer them without a dialog."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtGui import QPagedPaintDevice
from PySide6.QtWidgets import QFileDialog, QMessageBox, QWidget

from app.paper import set_up
from app.tr import tr

Painted = Callable[[QPagedPaintDevice], None]
"""Paints all pages onto a printer, or what stands for one."""
SUFFIX = ".voltwalk"
FILTER = f"Circuits (*{SUFFIX});;All files (*)"
TABLES = "Tables (*.csv *.txt);;All files (*)"
DRAWINGS = "Drawings (*.pdf *.svg *.png)"
SAVE, LEAVE, STAY = "save", "leave", "stay"


class Ask:
    """Asks with the system's dialogs; each is opened only by an act of the person."""

    def unsaved(self, parent: QWidget, name: str) -> str:
        """Ask what to do with work not saved: "save", "leave" it unsaved, or "stay"."""
        buttons = QMessageBox.StandardButton
        box = QMessageBox(parent)
        box.setIcon(QMessageBox.Icon.Question)
        box.setText(tr("{name} has changes that are not saved.", name=name))
        box.setStandardButtons(buttons.Save | buttons.Discard | buttons.Cancel)
        answers = {buttons.Save: SAVE, buttons.Discard: LEAVE}
        return answers.get(QMessageBox.StandardButton(box.exec()), STAY)

    def open_path(self, parent: QWidget, folder: str) -> Path | None:
        """Ask which file to open."""
        text, _ = QFileDialog.getOpenFileName(parent, tr("Open a circuit"), folder, FILTER)
        return Path(text) if text else None

    def table_path(self, parent: QWidget, folder: str) -> Path | None:
        """Ask which table of the person's own to load."""
        text, _ = QFileDialog.getOpenFileName(parent, tr("Load a table"), folder, TABLES)
        return Path(text) if text else None

    def save_path(self, parent: QWidget, start: str) -> Path | None:
        """Ask where to save."""
        text, _ = QFileDialog.getSaveFileName(parent, tr("Save the circuit"), start, FILTER)
        return _with_suffix(Path(text)) if text else None

    def draw_path(self, parent: QWidget, start: str) -> Path | None:
        """Ask where to draw to."""
        text, _ = QFileDialog.getSaveFileName(parent, tr("Draw to a file"), start, DRAWINGS)
        return Path(text) if text else None

    def print_out(self, parent: QWidget, name: str, paint: Painted) -> str:
        """Show the pages as they will be printed; return why it cannot be done, "" when it can."""
        try:
            from PySide6.QtPrintSupport import QPrinter, QPrintPreviewDialog
        except ImportError as error:
            said = "This system cannot print ({error}): draw to a PDF file and print that."
            return tr(said, error=error)
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        printer.setDocName(name)
        set_up(printer)
        dialog = QPrintPreviewDialog(printer, parent)
        dialog.paintRequested.connect(paint)
        dialog.exec()
        dialog.deleteLater()
        return ""

    def tell(self, parent: QWidget, title: str, text: str) -> None:
        """Show a text that the person asked for."""
        QMessageBox.about(parent, title, text)


def _with_suffix(path: Path) -> Path:
    return path if path.suffix else path.with_suffix(SUFFIX)
