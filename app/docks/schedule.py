"""The Schedule: every wire a row, every part a row; the sheet's equal for who does not see it."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QAction, QKeyEvent, QShowEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QMenu,
    QStackedWidget,
    QTabBar,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.keeping import Keep
from app.schedule.about import rows_about
from app.schedule.keys import TableKeys
from app.schedule.order import words_of
from app.schedule.part_columns import PARTS
from app.schedule.view import TableScreen
from app.schedule.wire_columns import WIRES
from app.session import Session
from app.tr import tr

TABLES = (WIRES, PARTS)


class Schedule(QWidget):
    """The tables with their filter, their count and their columns."""

    def __init__(
        self, session: Session, keep: Keep | None = None, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.session, self.keep = session, keep or Keep()
        self._stale = True
        self.stack, self.keys = QStackedWidget(), TableKeys()
        self.screens = [TableScreen(session, t, self.keep, self.keys, self.stack) for t in TABLES]
        self.wires, self.parts = self.screens
        self._filters = ["" for _ in TABLES]
        self.tabs, self.filter, self.only = QTabBar(), FilterLine(), QToolButton()
        self.count, self.columns = QLabel(), QToolButton()
        self._dress()
        self._lay_out()
        self._connect()
        self.refresh()

    # What the window asks

    @property
    def now(self) -> TableScreen:
        """The table that is shown."""
        return self.screens[self.stack.currentIndex()]

    def refresh(self) -> None:
        """Show the circuit as it is now; nothing is done while hidden."""
        if not self.isVisible():
            self._stale = True
            return
        self._take_only()
        self.now.refresh(rearranged=self._stale)
        self._stale = False

    def follow(self) -> None:
        """Select the rows of what is selected on the sheet."""
        if not self.isVisible():
            return
        if self.only.isChecked() and not self.now.is_worked_in():
            self._take_only()
            self.now.arrange()
        self.now.follow()

    def edit_last(self, key: str) -> None:
        """Open the cell of the last wire in a column for typing."""
        self.tabs.setCurrentIndex(0)
        self.filter.clear()
        self.only.setChecked(False)
        self.refresh()
        table = self.wires.table
        last = next(reversed([*self.session.circuit.wires]), "")
        if last not in table.ids:
            return
        cell = table.index(table.ids.index(last), table.place[key])
        self.wires.setFocus()
        self.wires.setCurrentIndex(cell)
        self.wires.walk.forget()
        self.wires.edit_cell(cell)

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with what happened while hidden."""
        super().showEvent(event)
        self.refresh()

    # Building

    def _dress(self) -> None:
        self.setAccessibleName(tr("Schedule"))
        self.tabs.setAccessibleName(tr("Tables"))
        self.tabs.setDrawBase(False)
        self.tabs.setExpanding(False)
        for tabled in TABLES:
            self.tabs.addTab(tr(tabled.title))
        self.filter.setPlaceholderText(tr("Filter"))
        self.filter.setAccessibleName(tr("Filter the rows"))
        self.filter.setClearButtonEnabled(True)
        self.filter.setMinimumWidth(90)
        self.filter.setMaximumWidth(260)
        self.only.setText(tr("Only selected"))
        self.only.setCheckable(True)
        self.only.setAccessibleName(tr("Only what is selected on the sheet"))
        self.only.setToolTip(tr("Show only the rows of what is selected on the sheet"))
        self.count.setObjectName("soft")
        self.count.setAccessibleName(tr("Rows shown"))
        self.columns.setText(tr("Columns ▾"))
        self.columns.setStyleSheet("QToolButton::menu-indicator { image: none; }")
        self.columns.setAccessibleName(tr("Columns of the table"))
        self.columns.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.columns.setMenu(QMenu(self.columns))
        for button in (self.only, self.columns):
            button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
            button.setObjectName("act")

    def _lay_out(self) -> None:
        bar = QHBoxLayout()
        bar.setContentsMargins(8, 2, 8, 4)
        bar.setSpacing(8)
        bar.addWidget(self.tabs)
        bar.addWidget(self.filter, 1)
        bar.addWidget(self.only)
        bar.addWidget(self.count)
        bar.addStretch(1)
        bar.addWidget(self.columns)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addLayout(bar)
        layout.addWidget(self.stack)
        for screen in self.screens:
            self.stack.addWidget(screen)
        self.setFocusProxy(self.wires)

    def _connect(self) -> None:
        self.tabs.currentChanged.connect(self._on_tab)
        self.filter.textChanged.connect(self._on_filter)
        self.filter.left.connect(self._on_filter_left)
        self.only.toggled.connect(self._on_only)
        self.columns.menu().aboutToShow.connect(self._on_columns)
        self.columns.menu().triggered.connect(self._on_column_chosen)
        for screen in self.screens:
            screen.filter_asked.connect(self._on_filter_asked)
            screen.counted.connect(self._on_counted)

    # What happens

    def _on_tab(self, at: int) -> None:
        self.stack.setCurrentIndex(at)
        self.setFocusProxy(self.now)
        self.filter.setText(self._filters[at])
        self._stale = True
        self.refresh()
        self.now.go_to_selected()

    def _on_filter(self, text: str) -> None:
        self._filters[self.stack.currentIndex()] = text
        table = self.now.table
        table.wanted = replace(table.wanted, words=words_of(text))
        self.now.arrange()

    def _on_only(self, on: bool) -> None:
        self._take_only()
        self.now.arrange()

    def _take_only(self) -> None:
        """Take what is selected on the sheet as what is shown, unless it was selected here."""
        table = self.now.table
        ids = None
        if self.only.isChecked():
            known = table.wanted.only is not None and self.now.is_worked_in()
            about = rows_about(self.session.circuit, self.now.tabled.key, self.session.selection)
            ids = table.wanted.only if known else about
        table.wanted = replace(table.wanted, only=ids)

    def _on_counted(self) -> None:
        screen = self.now
        shown, total = len(screen.table.ids), screen.table.total
        name = screen.tabled.one if total == 1 else screen.tabled.many
        many = "{total} {name}" if shown == total else "{shown} of {total} {name}"
        text = tr(many, shown=shown, total=total, name=tr(name))
        selected = len(screen.selected_rows())
        if selected > 1:
            text = tr("{shown}, {count} selected", shown=text, count=selected)
        self.count.setText(text)

    def _on_columns(self) -> None:
        menu = self.columns.menu()
        menu.clear()
        self.now.heads.fill_menu(menu)

    def _on_column_chosen(self, action: QAction) -> None:
        self.now.heads.on_chosen(action)

    def _on_filter_asked(self) -> None:
        self.filter.setFocus()
        self.filter.selectAll()

    def _on_filter_left(self) -> None:
        self.now.setFocus()


class FilterLine(QLineEdit):
    """A line of words; Enter and Down go to the rows, Escape takes the words away."""

    left = Signal()

    def event(self, event: QEvent) -> bool:
        """Take its keys before the window does."""
        keys = (Qt.Key.Key_Escape, Qt.Key.Key_Down, Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if isinstance(event, QKeyEvent) and event.key() in keys and not event.modifiers():
            if event.type() == QEvent.Type.ShortcutOverride:
                event.accept()
                return True
            if event.type() == QEvent.Type.KeyPress:
                self._press(event)
                return True
        return super().event(event)

    def _press(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self.text():
            self.clear()
        else:
            self.left.emit()
