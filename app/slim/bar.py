"""A slim bar: what it is for, a line to type in, what it comes to, and a way out."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QSizePolicy,
    QToolButton,
    QWidget,
)

from app.tr import tr

WIDTH = 260
"""Of the line typed in; what is said takes the rest and never more."""
STEPS = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}


class SlimEdit(QLineEdit):
    """A line that gives up with Escape and steps through hits with Up and Down."""

    stepped = Signal(int)
    escaped = Signal()

    def event(self, event: QEvent) -> bool:
        """Take Escape and the arrows before the window does."""
        if isinstance(event, QKeyEvent) and event.key() in (Qt.Key.Key_Escape, *STEPS):
            if event.type() == QEvent.Type.ShortcutOverride:
                event.accept()
                return True
            if event.type() == QEvent.Type.KeyPress:
                self._press(Qt.Key(event.key()))
                return True
        return super().event(event)

    def _press(self, key: Qt.Key) -> None:
        if key == Qt.Key.Key_Escape:
            self.escaped.emit()
        else:
            self.stepped.emit(STEPS[key])


class SlimBar(QFrame):
    """One line above the sheet. Enter does it, Escape leaves; it takes no room while hidden."""

    typed = Signal(str)
    entered = Signal(str)
    stepped = Signal(int)
    left = Signal()

    def __init__(self, title: str, prompt: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        title, prompt = tr(title), tr(prompt)
        self.title, self.edit, self.said = QLabel(title), SlimEdit(), QLabel()
        self.extra = QToolButton()
        self.close_button = QToolButton()
        self.setObjectName("slim")
        self.setAccessibleName(title)
        self.edit.setPlaceholderText(prompt)
        self.edit.setAccessibleName(title)
        self.edit.setAccessibleDescription(
            tr("{prompt}. Enter does it, Escape leaves", prompt=prompt)
        )
        self.edit.setClearButtonEnabled(True)
        self.edit.setFixedWidth(WIDTH)
        self.said.setObjectName("soft")
        self.said.setWordWrap(True)
        self.said.setTextFormat(Qt.TextFormat.PlainText)
        self.said.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.said.setAccessibleName(tr("What it comes to"))
        self._lay_out()
        self.edit.textEdited.connect(self.typed)
        self.edit.returnPressed.connect(self._on_return)
        self.edit.stepped.connect(self.stepped)
        self.edit.escaped.connect(self.leave)
        self.close_button.clicked.connect(self.leave)
        self.hide()

    def open(self, text: str = "") -> None:
        """Show the bar with a text, selected, and take the keys."""
        self.edit.setText(text)
        self.show()
        self.edit.setFocus()
        self.edit.selectAll()
        self.typed.emit(text)

    def say(self, text: str, wrong: bool = False) -> None:
        """Say what the line comes to, or why it cannot be done."""
        self.said.setText(tr(text))
        if self.said.property("wrong") != wrong:
            self.said.setProperty("wrong", wrong)
            self.said.style().unpolish(self.said)
            self.said.style().polish(self.said)

    def leave(self) -> None:
        """Hide the bar and tell so."""
        self.hide()
        self.left.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Let no key that the line has used up go on to what lies below."""
        event.accept()

    def _lay_out(self) -> None:
        row = QHBoxLayout(self)
        row.setContentsMargins(14, 6, 10, 6)
        row.setSpacing(10)
        self.title.setObjectName("slim_title")
        self.extra.setObjectName("act")
        self.extra.hide()
        self.close_button.setText(tr("Close"))
        self.close_button.setObjectName("act")
        self.close_button.setAccessibleName(tr("Close: {title}", title=self.title.text()))
        for widget in (self.title, self.edit):
            row.addWidget(widget)
        row.addWidget(self.said, 1)
        row.addWidget(self.extra)
        row.addWidget(self.close_button)

    def _on_return(self) -> None:
        self.entered.emit(self.edit.text())
