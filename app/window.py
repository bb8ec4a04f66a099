"""The main window: the sheet with its docks, and the acts that menus and keys call."""

from __future__ import annotations

from PySide6.QtCore import QObject, QPoint, Qt, Signal
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent, QIcon
from PySide6.QtWidgets import (
    QDockWidget,
    QLabel,
    QMainWindow,
    QMenu,
    QVBoxLayout,
    QWidget,
)

from app.actions import ACTIONS, ON_SELECTION, Actions
from app.actions.offered import offered
from app.around import Around
from app.ask import Ask
from app.bar import add_bar
from app.docks.details import Details
from app.docks.findings import Findings
from app.docks.schedule import Schedule
from app.docks.tray import Tray
from app.doing.arrange_acts import ArrangeActs
from app.doing.choose_acts import ChooseActs
from app.doing.clip_acts import ClipActs
from app.doing.command_acts import CommandActs
from app.doing.edit_acts import EditActs
from app.doing.file_acts import FileActs
from app.doing.finding_acts import FindingActs
from app.doing.look_acts import LookActs
from app.doing.pane_acts import PaneActs
from app.doing.sheet_acts import SheetActs
from app.doing.table_acts import TableActs
from app.keeping import Keep
from app.legend import Legend
from app.pictures.loader import icon
from app.presenter import Presenter
from app.scene.sheet_scene import SheetScene
from app.session import Session
from app.sheet_view import SheetView
from app.styles import dock_widths, is_text_large, style_of
from app.theme import palette_of
from app.tr import tr
from app.typed import Typed
from app.words import status_of

LEFT, RIGHT, BOTTOM = (
    Qt.DockWidgetArea.LeftDockWidgetArea,
    Qt.DockWidgetArea.RightDockWidgetArea,
    Qt.DockWidgetArea.BottomDockWidgetArea,
)


class Window(QMainWindow):
    """One window on one session."""

    another = Signal(object, object)
    """Another window is wanted: this one, and the file to open there or None."""
    gone = Signal(object)
    keys_changed = Signal()
    """A person gave a command other keys: all windows take them."""

    def __init__(self, session: Session, ask: Ask | None = None, keep: Keep | None = None) -> None:
        super().__init__()
        self.session = session
        self._gone = False
        session.setParent(self)
        self.ask = ask or Ask()
        self.scene = SheetScene(session.look)
        self.view = SheetView(session, self.scene)
        self.presenter = Presenter(session, self.scene, self)
        self.legend = Legend(session, self.view)
        self.notice = _notice()
        self.status = QLabel()
        self.keep = keep or Keep()
        self.tray, self.details = Tray(session, self.keep), Details(session)
        self.findings, self.schedule = Findings(session), Schedule(session, self.keep)
        self.edits, self.files, self.looks = EditActs(self), FileActs(self), LookActs(self)
        self.finds, self.around = FindingActs(self), Around(self, self.keep)
        self.clips, self.arranges = ClipActs(self), ArrangeActs(self)
        self.chooses, self.commands = ChooseActs(self), CommandActs(self)
        self.sheets, self.typed = SheetActs(self), Typed(self)
        self.panes, self.tables = PaneActs(self), TableActs(self)
        self.actions_ = Actions(self, self._doers(), ACTIONS)
        self.docks: dict[str, QDockWidget] = {}
        self.menus: dict[str, QMenu] = {}
        self._fill()
        self._connect()
        self._on_looked()
        self._on_file()
        self.resize(1280, 800)

    # Building

    def _doers(self) -> tuple[QObject, ...]:
        """Return all who do actions."""
        own = (self.edits, self.files, self.looks, self.finds, self.around, self.clips)
        return (
            *own,
            self.arranges,
            self.chooses,
            self.commands,
            self.sheets,
            self.typed,
            self.panes,
            self.tables,
        )

    def _fill(self) -> None:
        """Put bars, sheet and docks into the window."""
        middle = QWidget()
        layout = QVBoxLayout(middle)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(self.notice)
        layout.addWidget(self.view)
        self.around.fill(layout)
        self.clips.fill(layout)
        self.chooses.fill(layout)
        self.sheets.fill(layout)
        self.typed.fill(layout)
        self.setCentralWidget(middle)
        self._dock("tray", "Tray", self.tray, LEFT)
        self._dock("details", "Details", self.details, RIGHT)
        self._dock("findings", "Findings", self.findings, RIGHT)
        self._dock("schedule", "Schedule", self.schedule, BOTTOM).hide()
        self._dock("own", "Parts of your own", QWidget(), BOTTOM).hide()
        self._dock("keys", "Keys", QWidget(), BOTTOM).hide()
        self._dock("tables", "Tables", QWidget(), BOTTOM).hide()
        if not is_text_large():
            self.setCorner(Qt.Corner.BottomLeftCorner, LEFT)
            self.setCorner(Qt.Corner.BottomRightCorner, RIGHT)
        sides = [self.docks["tray"], self.docks["details"]]
        self.resizeDocks(sides, dock_widths(), Qt.Orientation.Horizontal)
        right = [self.docks["details"], self.docks["findings"]]
        self.resizeDocks(right, [480, 320], Qt.Orientation.Vertical)
        self.statusBar().addWidget(self.status, 1)
        self.statusBar().setSizeGripEnabled(False)
        self._menus()
        add_bar(self, self.actions_)

    def _dock(self, key: str, title: str, widget: QWidget, area: Qt.DockWidgetArea) -> QDockWidget:
        dock = QDockWidget(tr(title), self)
        dock.setObjectName(key)
        dock.setWidget(widget)
        self.addDockWidget(area, dock)
        self.docks[key] = dock
        dock.visibilityChanged.connect(self._on_docks)
        return dock

    def _menus(self) -> None:
        for spec in ACTIONS:
            menu = self.menus.get(spec.menu) or self.menuBar().addMenu(tr(spec.menu))
            self.menus[spec.menu] = menu
            if spec.gap:
                menu.addSeparator()
            menu.addAction(self.actions_[spec.key])
            if spec.key == "open":
                menu.addMenu(self.around.recent)

    def _connect(self) -> None:
        session = self.session
        session.changed.connect(self._on_changed)
        session.analysed.connect(self._on_analysed)
        session.selected.connect(self._on_selected)
        session.looked.connect(self._on_looked)
        session.noticed.connect(self.tell)
        session.file_changed.connect(self._on_file)
        session.file_named.connect(self._on_clean)
        session.undo.cleanChanged.connect(self._on_clean)
        session.undo.canUndoChanged.connect(self._on_undo)
        session.undo.canRedoChanged.connect(self._on_undo)
        self.tray.list.carried.connect(self.view.carry)
        self.tray.list.dropped.connect(self.view.drop)
        self.tray.list.given_up.connect(self.view.cancel)
        self.tray.list.chosen.connect(self.edits.place)
        self.tray.list.chosen.connect(self.around.lay)
        self.around.connect_all()
        self.keys_changed.connect(self.commands.take_keys)
        self.commands.take_keys()
        self.view.edit_asked.connect(self.edit)
        self.view.menu_asked.connect(self._on_menu)

    # What happened

    def _on_changed(self, happened: object) -> None:
        self.details.refresh()
        self.schedule.refresh()
        self.tell("")

    def _on_analysed(self, analysis: object) -> None:
        self.findings.refresh()
        self.schedule.refresh()
        self.details.refresh_now()
        self.status.setText(status_of(self.session))

    def _on_selected(self) -> None:
        self.details.refresh()
        self.schedule.follow()
        self.findings.refresh()
        self.status.setText(status_of(self.session))

    def _on_looked(self) -> None:
        """Take mode, overlay and theme."""
        session, theme = self.session, self.session.look.theme
        self.view.cancel()
        self.legend.on_looked()
        for key in (f"mode_{session.mode}", f"overlay_{session.overlay}", f"theme_{theme.name}"):
            self.actions_.check(key)
        if self.property("theme") != theme.name:
            self.setProperty("theme", theme.name)
            self.setPalette(palette_of(theme))
            self.setStyleSheet(style_of(theme))
            self._icons()
            self._on_sizes()
        if session.finding is not None:
            self.view.ensureVisible(self.scene.area_of(session.finding.ids), 40, 40)
        self.tray.on_looked()
        self.findings.refresh()
        self.status.setText(status_of(session))
        self._on_undo()

    def _on_sizes(self) -> None:
        """Show the sheet whole where the theme's cards are of other sizes than those before."""
        sizes = self.session.look.theme.sizes
        if self.property("sizes") != (sizes.name if sizes else None):
            self.setProperty("sizes", sizes.name if sizes else None)
            self.sheets.sights.begin()

    def _icons(self) -> None:
        """Draw the icons of the actions in the theme's ink, those in force in its card's colour."""
        theme = self.session.look.theme
        for spec in ACTIONS:
            if spec.icon:
                made = icon(f"actions/{spec.icon}", theme.colour("ink"))
                chosen = icon(f"actions/{spec.icon}", theme.colour("card")).pixmap(64, 64)
                made.addPixmap(chosen, QIcon.Mode.Normal, QIcon.State.On)
                self.actions_[spec.key].setIcon(made)

    def _on_file(self) -> None:
        self._on_clean()
        self.details.refresh()
        self.schedule.refresh()
        self.tray.refresh()
        setting = self.session.setting
        self.actions_.check(f"engine_{setting.engine}")
        self.actions_.check(f"supply_{setting.supply}")
        self.sheets.sights.begin()

    def _on_clean(self) -> None:
        path = self.session.path
        name = path.name if path else tr("Untitled")
        self.setWindowTitle(f"{name}[*] · Voltwalk")
        self.setWindowModified(not self.session.undo.isClean())

    def _on_undo(self) -> None:
        undo = self.session.undo
        for key, can, text in (
            ("undo", undo.canUndo(), undo.undoText()),
            ("redo", undo.canRedo(), undo.redoText()),
        ):
            self.actions_[key].setEnabled(can)
            word = tr(key.capitalize())
            self.actions_[key].setToolTip(f"{word}: {tr(text)}" if text else word)

    def _on_docks(self) -> None:
        for key, dock in self.docks.items():
            self.actions_.check(f"dock_{key}", not dock.isHidden())

    def edit(self, key: str) -> None:
        """Put the cursor where the reference or number of something is changed."""
        self.docks["details"].show()
        self.details.focus_on("reference" if key in self.session.circuit.parts else "number")

    def _on_menu(self, at: QPoint) -> None:
        """Offer the acts on the selection where the mouse is."""
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        for key in offered(self.session.circuit, self.session.selection, ON_SELECTION):
            if not key:
                menu.addSeparator()
            elif key in self.menus:
                menu.addAction(self.menus[key].menuAction())
            else:
                menu.addAction(self.actions_[key])
        menu.popup(at)

    def tell(self, text: str) -> None:
        """Show a sentence above the sheet, or take it away."""
        self.notice.setText(tr(text))
        self.notice.setVisible(bool(text))

    def closeEvent(self, event: QCloseEvent) -> None:
        """Close when the work is saved or may be left; then stop everything in order."""
        if not self.files.may_leave():
            event.ignore()
            return
        self.shut()
        event.accept()
        self.gone.emit(self)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take circuit files that are dragged over the window."""
        self.around.drag_entered(event)

    def dropEvent(self, event: QDropEvent) -> None:
        """Open circuit files dropped on the window."""
        self.around.dropped(event)

    def shut(self) -> None:
        """Stop what is pending, detach from the session, let the items go; once is enough."""
        if self._gone:
            return
        self._gone = True
        self.view.cancel()
        self.around.detach()
        self.clips.detach()
        self.chooses.detach()
        self.sheets.detach()
        self.typed.detach()
        self.tables.stop()
        self.session.close()
        self.presenter.detach()
        self.scene.detach()


def _notice() -> QLabel:
    notice = QLabel()
    notice.setObjectName("notice")
    notice.setWordWrap(True)
    notice.setAccessibleName(tr("Notice"))
    notice.hide()
    return notice
