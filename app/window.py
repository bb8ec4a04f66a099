"""The main window: the sheet with its docks, and the acts that menus and keys call."""

from __future__ import annotations

from PySide6.QtCore import QObject, QPoint, Qt, Signal
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import (
    QDockWidget,
    QLabel,
    QMainWindow,
    QMenu,
)

from app.actions import ACTIONS, ON_SELECTION, Actions
from app.actions.offered import offered
from app.around import Around
from app.ask import Ask
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
from app.doing.load_acts import LoadActs
from app.doing.look_acts import LookActs
from app.doing.pane_acts import PaneActs
from app.doing.sheet_acts import SheetActs
from app.doing.size_acts import SizeActs
from app.doing.table_acts import TableActs
from app.keeping import Keep
from app.legend import Legend
from app.presenter import Presenter
from app.scene.sheet_scene import SheetScene
from app.session import Session
from app.sheet_view import SheetView
from app.tr import tr
from app.typed import Typed
from app.windowing.hearing import Hearing
from app.windowing.layout import fill, notice_line


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
        self.notice = notice_line()
        self.status = QLabel()
        self.keep = keep or Keep()
        self.tray, self.details = Tray(session, self.keep), Details(session)
        self.findings, self.schedule = Findings(session), Schedule(session, self.keep)
        self.edits, self.files, self.looks = EditActs(self), FileActs(self), LookActs(self)
        self.finds, self.around = FindingActs(self), Around(self, self.keep)
        self.clips, self.arranges = ClipActs(self), ArrangeActs(self)
        self.chooses, self.commands = ChooseActs(self), CommandActs(self)
        self.sheets, self.typed = SheetActs(self), Typed(self)
        self.panes, self.tables, self.sizes = PaneActs(self), TableActs(self), SizeActs(self)
        self.loads = LoadActs(self)
        self.actions_ = Actions(self, self._doers(), ACTIONS)
        self.docks: dict[str, QDockWidget] = {}
        self.menus: dict[str, QMenu] = {}
        self.hears = Hearing(self)
        fill(self)
        self.hears.connect_all()
        self.hears.on_looked()
        self.hears.on_file()
        self.resize(1280, 800)

    def _doers(self) -> tuple[QObject, ...]:
        """Return all who do actions."""
        own = (self.edits, self.files, self.looks, self.finds, self.around, self.clips)
        more = (self.arranges, self.chooses, self.commands, self.sheets, self.typed)
        return (*own, *more, self.panes, self.tables, self.sizes, self.loads)

    def edit(self, key: str) -> None:
        """Put the cursor where the reference or number of something is changed."""
        self.docks["details"].show()
        self.details.focus_on("reference" if key in self.session.circuit.parts else "number")

    def offer(self, at: QPoint) -> None:
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
        self.sizes.stop()
        self.loads.stop()
        self.hears.detach()
        self.session.close()
        self.presenter.detach()
        self.scene.detach()
