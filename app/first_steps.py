"""The first-start strip: five gestures, each ticked off once it was really done."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QToolButton, QWidget

from app.session import Session
from app.tr import tr
from model.document import Happened
from model.lookup import rest_of

STEPS = {
    "place": ("Place", "Drag a part from the Tray onto the sheet, or type its name: battery."),
    "wire": ("Wire", "Drag from one terminal to another, or type both ends: G1.+ F1.1."),
    "value": ("Set a value", "Select it and type into Details, such as 10 A, or type F1 10 A."),
    "operate": ("Operate", "F6, then click a switch; F5 goes back to Draw."),
    "undo": ("Undo", "Ctrl+Z takes the last act back."),
}
DONE = "That is all it takes. Help → First steps shows this again."


class FirstSteps(QFrame):
    """Listens to the session and ticks; it asks for nothing and stops nothing."""

    closed = Signal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.done: set[str] = set()
        self.labels = {key: QLabel() for key in STEPS}
        self.hint, self.close_button = QLabel(), QToolButton()
        self.hint.setObjectName("soft")
        self.hint.setWordWrap(True)
        self.setObjectName("steps")
        self.setAccessibleName(tr("First steps"))
        self._steps = 0
        self._fill()
        self._connect()
        self.restart()
        self.hide()

    def _fill(self) -> None:
        row = QHBoxLayout(self)
        row.setContentsMargins(14, 6, 10, 6)
        row.setSpacing(16)
        for label in self.labels.values():
            label.setTextFormat(Qt.TextFormat.PlainText)
            row.addWidget(label)
        row.addWidget(self.hint, 1)
        close = self.close_button
        close.setText(tr("Close"))
        close.setObjectName("act")
        close.setAccessibleName(tr("Close the first steps"))
        close.clicked.connect(self.closed)
        row.addWidget(close)

    def _connect(self) -> None:
        self.session.changed.connect(self._on_changed)
        self.session.analysed.connect(self._on_analysed)
        self.session.undo.indexChanged.connect(self._on_index)

    def detach(self) -> None:
        """Hear no more; a stack that goes would still tell of its steps."""
        self.session.changed.disconnect(self._on_changed)
        self.session.analysed.disconnect(self._on_analysed)
        self.session.undo.indexChanged.disconnect(self._on_index)

    def restart(self) -> None:
        """Take all ticks off."""
        self.done = set()
        self._steps = self.session.undo.index()
        self._show()

    def _tick(self, key: str) -> None:
        if self.isVisible() and key not in self.done:
            self.done.add(key)
            self._show()

    def _show(self) -> None:
        """Write the steps, those done with a tick, and how to do the first that is open."""
        for number, (key, label) in enumerate(self.labels.items(), 1):
            mark = "✓" if key in self.done else f"{number}"
            label.setText(f"{mark} {tr(STEPS[key][0])}")
            label.setObjectName("soft" if key in self.done else "step")
            label.setAccessibleDescription(tr("done" if key in self.done else "to do"))
            label.style().unpolish(label)
            label.style().polish(label)
        open_ones = [key for key in STEPS if key not in self.done]
        self.hint.setText(tr(STEPS[open_ones[0]][1] if open_ones else DONE))

    def _on_changed(self, happened: Happened) -> None:
        """Tell a part placed, a wire drawn and a value set from one another."""
        if ("*", "") in happened.touched:
            return
        before, after = happened.before, happened.after
        if len(after.parts.keys() - before.parts.keys()) > 1:
            return  # a template or what was pasted: none of these gestures
        for table, key in happened.touched:
            if table == "parts" and key in after.parts:
                old, new = before.parts.get(key), after.parts[key]
                if old is None:
                    self._tick("place")
                elif old.ratings != new.ratings or old.duty != new.duty:
                    self._tick("value")
            elif table == "wires" and key in after.wires:
                was, now = before.wires.get(key), after.wires[key]
                if was is None and now.first and now.second:
                    self._tick("wire")
                elif was and (was.size, was.length_m) != (now.size, now.length_m):
                    self._tick("value")

    def _on_analysed(self, analysis: object) -> None:
        """Tell that a control was moved."""
        circuit, positions = self.session.circuit, self.session.setting.positions
        rests = {k: rest_of(circuit, p) for k, p in circuit.parts.items() if k in positions}
        if any(positions[k] not in ("", rest) for k, rest in rests.items()):
            self._tick("operate")

    def _on_index(self, index: int) -> None:
        """Tell a step taken back."""
        if index < self._steps and self.session.undo.canRedo():
            self._tick("undo")
        self._steps = index
