"""The menu that asks which other sheet parts go to."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu, QWidget

from app.session import Session
from app.sheeting.tabs import names_of
from app.tr import tr

NEW = "A &new sheet"


class Whither(QMenu):
    """Lists the other sheets and a new one; made anew each time."""

    wanted = Signal(str)
    """The id of the sheet chosen, "" for a new one."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._window = parent
        self.setAccessibleName(tr("Other sheets"))
        self.triggered.connect(self._on_triggered)

    def ask(self, session: Session, title: str) -> None:
        """Ask beside the middle of the window; where there is no other sheet, take a new one."""
        others = {k: n for k, n in names_of(session.circuit).items() if k != session.sheet.id}
        if not others:
            self.wanted.emit("")
            return
        self.clear()
        self.addSection(title)
        for number, (key, name) in enumerate(others.items(), 1):
            mark = f"&{number}  " if number < 10 else ""
            self.addAction(mark + name.replace("&", "&&")).setData(key)
        self.addSeparator()
        self.addAction(NEW).setData("")
        self.popup(self._window.mapToGlobal(self._window.rect().center()))
        self.setActiveAction(self.actions()[1])

    def _on_triggered(self, action: QAction) -> None:
        self.wanted.emit(str(action.data()))
