"""What stands around the sheet besides the docks: gallery, first steps, recent files, drops."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QPointF, Qt
from PySide6.QtGui import QCursor, QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QVBoxLayout

from app import files
from app.ask import SUFFIX
from app.first_steps import FirstSteps
from app.gallery.page import Gallery
from app.gallery.templates import placed, template_of
from app.keeping import Keep
from app.owning.form import OwnForm
from app.recent import RecentMenu, note
from app.windowing.layout import toggle
from model.errors import ModelError

if TYPE_CHECKING:
    from app.window import Window

OWN_HEIGHT = 310
STEPS_CLOSED = "steps/closed"


class Around(QObject):
    """Makes these for one window and does what their actions ask for."""

    def __init__(self, window: Window, keep: Keep) -> None:
        super().__init__(window)
        self.window, self.keep = window, keep
        self.gallery = Gallery(files.EXAMPLES)
        self.gallery.hide()
        self.steps = FirstSteps(window.session)
        self.recent = RecentMenu(keep, window)
        self.own: OwnForm | None = None
        window.setAcceptDrops(True)
        window.view.setAcceptDrops(False)
        window.view.viewport().setAcceptDrops(False)

    def fill(self, layout: QVBoxLayout) -> None:
        """Put strip and gallery into the middle of the window, around the sheet."""
        layout.insertWidget(0, self.steps)
        layout.addWidget(self.gallery)

    def connect_all(self) -> None:
        """Hear what is chosen."""
        self.gallery.opened.connect(self._on_example)
        self.gallery.laid.connect(self._on_laid)
        self.gallery.closed.connect(self.leave_gallery)
        self.steps.closed.connect(self._on_steps_closed)
        self.recent.chosen.connect(self.open_here)
        self.window.tray.list.laid.connect(self._on_let_go)
        self.window.session.file_changed.connect(self._on_file)
        self.window.session.file_named.connect(self._on_named)
        self.window.session.looked.connect(self._on_looked)

    # Acts

    def do_gallery(self) -> None:
        """Show the gallery in place of the sheet, or the sheet again."""
        if self.gallery.isVisible():
            self.leave_gallery()
        else:
            self.window.view.hide()
            self.gallery.open(self.window.session.look.theme)

    def _on_looked(self) -> None:
        """Make the pictures anew where the theme has changed while they are seen."""
        if self.gallery.isVisible():
            self.gallery.follow(self.window.session.look.theme)

    def do_first_steps(self) -> None:
        """Show the first steps, none of them ticked."""
        self.steps.restart()
        self.steps.show()

    def do_star(self) -> None:
        """Make the part chosen in the Tray a favourite, or no longer."""
        self.window.tray.star()

    def do_dock_own(self) -> None:
        """Show the form for parts of one's own, made at the first time, or hide it."""
        dock = self.window.docks["own"]
        if self.own is None:
            self.own, empty = OwnForm(self.window.session), dock.widget()
            self.own.wanted.connect(self.window.edits.place)
            dock.setWidget(self.own)
            empty.deleteLater()
        toggle(self.window, "own")
        if not dock.isHidden():
            self.window.resizeDocks([dock], [OWN_HEIGHT], Qt.Orientation.Vertical)
            self.own.open_for_selection()

    def do_new_window(self) -> None:
        """Open another window."""
        self.window.another.emit(self.window, None)

    def leave_gallery(self) -> None:
        """Show the sheet again."""
        self.gallery.leave()
        self.window.view.show()
        self.window.view.setFocus()

    def offer_steps(self) -> None:
        """Show the first steps unless they were closed once."""
        self.steps.setVisible(not self.keep.read(STEPS_CLOSED))

    def open_here(self, path: Path) -> None:
        """Open a file in this window if its circuit may be left."""
        if self.window.files.may_leave():
            self.window.files.open_file(path)

    def lay(self, key: str, at: QPointF | None = None) -> None:
        """Drop a template on the sheet: at a point, else under the mouse, else in the middle."""
        session, template = self.window.session, template_of(key)
        if template is None:
            return
        if session.mode != "draw":
            session.noticed.emit("Go to Draw (F5) to place a template.")
            return
        point = at or self.under_mouse() or self.window.view.middle()
        shown = self.window.scene.geometry.sheet if session.circuit.parts else session.sheet
        try:
            edit = placed(session.circuit, template, shown, (point.x(), point.y()))
        except (ModelError, OSError) as error:
            session.noticed.emit(str(error))
            return
        if session.do(edit.change):
            session.select(edit.ids)
            self.window.view.ensureVisible(self.window.scene.area_of(edit.ids), 40, 40)
            session.noticed.emit(" ".join(edit.notes))

    def detach(self) -> None:
        """Hear no more."""
        self.gallery.leave()
        self.steps.detach()
        if self.own is not None:
            self.own.detach()

    def under_mouse(self) -> QPointF | None:
        """Return the point of the sheet under the mouse, None when that is elsewhere."""
        view = self.window.view
        at = view.viewport().mapFromGlobal(QCursor.pos())
        inside = view.viewport().rect().contains(at) and view.underMouse()
        return view.mapToScene(at) if inside else None

    # What happened

    def _on_example(self, path: Path) -> None:
        """Open an example as a circuit that has no file yet."""
        if not self.window.files.may_leave():
            return
        try:
            circuit = files.load(path).circuit
        except ModelError as error:
            self.window.tell(str(error))
            return
        self.window.files.show_circuit(circuit)

    def _on_laid(self, key: str) -> None:
        self.leave_gallery()
        self.lay(key)

    def _on_let_go(self, key: str, at: QPointF) -> None:
        """Drop a template that was carried over from the Tray."""
        view = self.window.view
        point = view.mapFromGlobal(at).toPoint()
        if view.isVisible() and view.rect().contains(point):
            self.lay(key, view.mapToScene(point))
            view.setFocus()

    def _on_steps_closed(self) -> None:
        self.steps.hide()
        self.keep.write(STEPS_CLOSED, "yes")

    def _on_file(self) -> None:
        """Note the file opened, and show it."""
        if self.gallery.isVisible():
            self.leave_gallery()
            self.window.sheets.sights.begin()
        self._on_named()

    def _on_named(self) -> None:
        if self.window.session.path is not None:
            note(self.keep, self.window.session.path)

    # Files dropped on the window

    def drag_entered(self, event: QDragEnterEvent) -> None:
        """Take what holds a circuit file."""
        if dropped_paths(event):
            event.acceptProposedAction()

    def dropped(self, event: QDropEvent) -> None:
        """Open the first file here where nothing is lost by it, the others in windows of their own.

        No question is asked: unsaved work stays open and the file gets another window.
        """
        paths = dropped_paths(event)
        if paths:
            event.acceptProposedAction()
        if paths and self.window.session.undo.isClean():
            self.window.files.open_file(paths.pop(0))
        for path in paths:
            self.window.another.emit(self.window, path)


def dropped_paths(event: QDropEvent) -> list[Path]:
    """Return the circuit files that a drag holds."""
    mime = event.mimeData()
    local = [Path(url.toLocalFile()) for url in mime.urls() if url.isLocalFile()]
    return [path for path in local if path.suffix.lower() == SUFFIX]
