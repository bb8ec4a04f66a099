"""Acts on files: new, open, save, draw, leave."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtGui import QPagedPaintDevice
from PySide6.QtWidgets import QApplication

from app import acts, files
from app.ask import LEAVE, SAVE, SUFFIX
from app.paper import print_sheets
from app.words import safety
from model.circuit import Circuit
from model.file import FileError

if TYPE_CHECKING:
    from app.window import Window


class FileActs(QObject):
    """Opening and saving, as menus and keys ask for it."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self.window = window
        self.session = window.session

    def do_new(self) -> None:
        """Start a blank sheet."""
        if self.may_leave():
            self.session.open(acts.blank(), None)

    def do_open(self) -> None:
        """Open a file the person chooses."""
        folder = str(self.session.path.parent) if self.session.path else ""
        if self.may_leave() and (path := self.window.ask.open_path(self.window, folder)):
            self.open_file(path)

    def open_file(self, path: Path) -> bool:
        """Open a file; one that cannot be read leaves the open circuit untouched."""
        try:
            loaded = files.load(path)
        except FileError as error:
            self.window.tell(str(error))
            return False
        self.session.open(loaded.circuit, path, loaded.read_only)
        self.window.tell(" ".join((*loaded.warnings, *self._twice(path))))
        return True

    def _twice(self, path: Path) -> tuple[str, ...]:
        """Return a sentence on a file that another window has open, none where there is none."""
        windows = (w for w in QApplication.topLevelWidgets() if isinstance(w, type(self.window)))
        paths = (w.session.path for w in windows if w is not self.window and w.isVisible())
        if not any(p is not None and p.resolve() == path.resolve() for p in paths):
            return ()
        return (f"{path.name} is open in another window too: what is saved last is kept.",)

    def do_demo(self) -> None:
        """Open the demo circuit as a new one."""
        if self.may_leave():
            self.show_circuit(files.demo())

    def show_circuit(self, circuit: Circuit) -> None:
        """Show a circuit that has no file yet."""
        self.session.open(circuit, None)

    def do_save(self) -> bool:
        """Save to the circuit's file, asking where if it has none."""
        return self._save(self.session.path) if self.session.path else self.do_save_as()

    def do_save_as(self) -> bool:
        """Save to a file the person chooses."""
        start = str(self.session.path or f"untitled{SUFFIX}")
        path = self.window.ask.save_path(self.window, start)
        return self._save(path) if path else False

    def _save(self, path: Path) -> bool:
        if self.session.read_only:
            self.window.tell("This file was made by a later version: save it under another name.")
            return False
        try:
            files.save(self._as_seen(), path)
        except FileError as error:
            self.window.tell(str(error))
            return False
        self.session.saved(path)
        self.window.tell(" ".join(self._twice(path)))
        return True

    def may_leave(self) -> bool:
        """Return whether the open circuit may be left: saved, or the person says so."""
        if self.session.undo.isClean():
            return True
        answer = self.window.ask.unsaved(
            self.window, self.session.path.name if self.session.path else "Untitled"
        )
        return self.do_save() if answer == SAVE else answer == LEAVE

    def do_export(self) -> None:
        """Draw the sheet to a file."""
        start = Path(self.session.path or "sheet").with_suffix(".pdf")
        path = self.window.ask.draw_path(self.window, str(start))
        if path is not None:
            self.window.tell(files.draw(self.session, path, self._as_seen()))

    def do_print(self) -> None:
        """Show the sheets as they will be on paper, to be printed or not."""
        name = self.session.circuit.settings.title or "Circuit"
        self.window.tell(self.window.ask.print_out(self.window, name, self._on_pages))

    def _on_pages(self, device: QPagedPaintDevice) -> None:
        """Paint every sheet onto the pages of a printer or of its preview."""
        print_sheets(device, self._as_seen(), self.session.analysis)

    def _as_seen(self) -> Circuit:
        """Return the circuit as it goes out: parts that no one placed stand where they are seen."""
        return acts.as_seen(self.session.circuit, self.window.presenter.seen())

    def do_quit(self) -> None:
        """Close the window."""
        self.window.close()

    def do_about(self) -> None:
        """Show what the program is and the usual cautions."""
        self.window.ask.tell(self.window, "Voltwalk", safety())
