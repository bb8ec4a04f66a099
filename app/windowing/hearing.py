"""What the window does when something happened in its session or in one of its parts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtGui import QIcon

from app.actions import ACTIONS
from app.pictures.loader import icon
from app.styles import style_of
from app.theme import palette_of
from app.tr import tr
from app.words import status_of

if TYPE_CHECKING:
    from app.window import Window


class Hearing(QObject):
    """Hears the session and lets every part of the window follow."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self.window, self.session = window, window.session

    def connect_all(self) -> None:
        """Hear the session, the Tray, the sheet and what stands around it."""
        session = self.session
        session.changed.connect(self._on_changed)
        session.analysed.connect(self._on_analysed)
        session.selected.connect(self._on_selected)
        session.looked.connect(self.on_looked)
        session.noticed.connect(self.window.tell)
        session.file_changed.connect(self.on_file)
        session.file_named.connect(self._on_clean)
        session.undo.cleanChanged.connect(self._on_clean)
        session.undo.canUndoChanged.connect(self._on_undo)
        session.undo.canRedoChanged.connect(self._on_undo)
        self.window.tray.list.carried.connect(self.window.view.carry)
        self.window.tray.list.dropped.connect(self.window.view.drop)
        self.window.tray.list.given_up.connect(self.window.view.cancel)
        self.window.tray.list.chosen.connect(self.window.edits.place)
        self.window.tray.list.chosen.connect(self.window.around.lay)
        self.window.around.connect_all()
        self.window.keys_changed.connect(self.window.commands.take_keys)
        self.window.commands.take_keys()
        self.window.view.edit_asked.connect(self.window.edit)
        self.window.view.menu_asked.connect(self.window.offer)

    def detach(self) -> None:
        """Hear no more: stack and docks still tell of themselves while the window goes."""
        session = self.session
        session.undo.cleanChanged.disconnect(self._on_clean)
        session.undo.canUndoChanged.disconnect(self._on_undo)
        session.undo.canRedoChanged.disconnect(self._on_undo)
        for dock in self.window.docks.values():
            dock.visibilityChanged.disconnect(self.on_docks)

    def _on_changed(self, happened: object) -> None:
        self.window.details.refresh()
        self.window.schedule.refresh()
        self.window.tell("")
        self.window.view.pieces.refresh()

    def _on_analysed(self, analysis: object) -> None:
        self.window.findings.refresh()
        self.window.schedule.refresh()
        self.window.details.refresh_now()
        self.window.status.setText(status_of(self.session))

    def _on_selected(self) -> None:
        self.window.details.refresh()
        self.window.schedule.follow()
        self.window.findings.refresh()
        self.window.status.setText(status_of(self.session))

    def on_looked(self) -> None:
        """Take mode, overlay and theme."""
        session, theme = self.session, self.session.look.theme
        self.window.view.cancel()
        self.window.legend.on_looked()
        for key in (f"mode_{session.mode}", f"overlay_{session.overlay}", f"theme_{theme.name}"):
            self.window.actions_.check(key)
        if self.window.property("theme") != theme.name:
            self.window.setProperty("theme", theme.name)
            self.window.setPalette(palette_of(theme))
            self.window.setStyleSheet(style_of(theme))
            self._icons()
            self._on_sizes()
        if session.finding is not None:
            self.window.view.ensureVisible(self.window.scene.area_of(session.finding.ids), 40, 40)
        self.window.tray.on_looked()
        self.window.findings.refresh()
        self.window.status.setText(status_of(session))
        self._on_undo()

    def _on_sizes(self) -> None:
        """Show the sheet whole where the theme's cards are of other sizes than those before."""
        sizes = self.session.look.theme.sizes
        if self.window.property("sizes") != (sizes.name if sizes else None):
            self.window.setProperty("sizes", sizes.name if sizes else None)
            self.window.sheets.sights.begin()

    def _icons(self) -> None:
        """Draw the icons of the actions in the theme's ink, those in force in its card's colour."""
        theme = self.session.look.theme
        for spec in ACTIONS:
            if spec.icon:
                made = icon(f"actions/{spec.icon}", theme.colour("ink"))
                chosen = icon(f"actions/{spec.icon}", theme.colour("card")).pixmap(64, 64)
                made.addPixmap(chosen, QIcon.Mode.Normal, QIcon.State.On)
                self.window.actions_[spec.key].setIcon(made)

    def on_file(self) -> None:
        """Show another circuit from its beginning."""
        self._on_clean()
        self.window.details.refresh()
        self.window.schedule.refresh()
        self.window.tray.refresh()
        setting = self.session.setting
        self.window.actions_.check(f"engine_{setting.engine}")
        self.window.actions_.check(f"supply_{setting.supply}")
        self.window.sheets.sights.begin()

    def _on_clean(self) -> None:
        path = self.session.path
        name = path.name if path else tr("Untitled")
        self.window.setWindowTitle(f"{name}[*] · Voltwalk")
        self.window.setWindowModified(not self.session.undo.isClean())

    def _on_undo(self) -> None:
        undo = self.session.undo
        for key, can, text in (
            ("undo", undo.canUndo(), undo.undoText()),
            ("redo", undo.canRedo(), undo.redoText()),
        ):
            self.window.actions_[key].setEnabled(can)
            word = tr(key.capitalize())
            self.window.actions_[key].setToolTip(f"{word}: {tr(text)}" if text else word)

    def on_docks(self) -> None:
        """Tell in the menu which docks are shown."""
        for key, dock in self.window.docks.items():
            self.window.actions_.check(f"dock_{key}", not dock.isHidden())
