"""What can be done with the finding shown: cure it, accept it, read up on its rule."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QScrollArea,
    QSizePolicy,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.accepting import accepted, taken_back
from app.analysis import Shown
from app.docks.rule_help import help_of
from app.session import Session
from app.tr import tr
from model.circuit import Circuit
from model.errors import ModelError
from model.lookup import label, wire_label

KEEPS, GROWS = QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Preferred
STALE = "The circuit has changed since: wait for the check, then do it again."
NO_CURE = "There is no one certain cure for this finding: its rule says what to look at (F1)."


class ReasonLine(QLineEdit):
    """The line in which the reason is typed; Esc gives up."""

    left = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Give up with Esc."""
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)


class FindingBox(QFrame):
    """Evidence of the finding shown, its cure, its acceptance, and its rule's help."""

    done = Signal()
    """The reason was given or given up: the list takes the keys again."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.evidence = QLabel()
        self.evidence.setObjectName("soft")
        self.evidence.setWordWrap(True)
        self.evidence.setTextFormat(Qt.TextFormat.PlainText)
        self.cure = _button("Cure", "Apply the cure of this finding")
        self.take = _button("Accept …", "Accept this finding with a reason")
        self.ask = _button("The rule", "Read what the rule looks for and how to fix it")
        self.ask.setCheckable(True)
        self.reason = ReasonLine()
        self.reason.setPlaceholderText(tr("Why this may stay, then Enter"))
        self.reason.setAccessibleName(tr("Reason for accepting"))
        self.help, self.page = QLabel(), QScrollArea()
        self._fill()
        self.cure.clicked.connect(self.apply)
        self.take.clicked.connect(self.accept)
        self.ask.toggled.connect(self._on_help)
        self.reason.returnPressed.connect(self._on_reason)
        self.reason.left.connect(self._on_left)
        self._rule = ""
        self.refresh()

    def _fill(self) -> None:
        self.help.setWordWrap(True)
        self.help.setTextFormat(Qt.TextFormat.RichText)
        self.help.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.page.setWidget(self.help)
        self.page.setWidgetResizable(True)
        self.page.setFrameShape(QFrame.Shape.NoFrame)
        self.page.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.page.setMinimumHeight(130)
        self.page.setAccessibleName(tr("Help on the rule"))
        row = QHBoxLayout()
        row.setSpacing(4)
        for button in (self.take, self.ask):
            row.addWidget(button)
        row.addStretch(1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(12, 6, 12, 8)
        layout.setSpacing(5)
        layout.addWidget(self.evidence)
        layout.addWidget(self.cure)
        layout.addLayout(row)
        layout.addWidget(self.reason)
        layout.addWidget(self.page, 1)
        self.reason.hide()
        self._on_help(False)

    def refresh(self) -> None:
        """Show what holds of the finding shown; without one the box is not there."""
        finding = self.session.finding
        self.setVisible(finding is not None)
        if finding is None:
            self._put_away()
            return
        self.evidence.setText(evidence_of(self.session.circuit, finding))
        self.evidence.setVisible(bool(self.evidence.text()))
        self.cure.setText(tr(finding.remedy))
        self.cure.setVisible(bool(finding.remedy) and not finding.accepted)
        self.take.setText(tr("Take back" if finding.accepted else "Accept …"))
        if finding.rule != self._rule:
            self._rule = finding.rule
            self.help.setText(help_of(finding.rule))
            self._put_away()

    def apply(self) -> None:
        """Apply the cure of the finding shown, as one step of undo."""
        finding = self.session.finding
        if finding is None or finding.change is None:
            self.session.noticed.emit(NO_CURE if finding else "Select a finding first (F4).")
            return
        try:
            finding.change.apply(self.session.circuit)
        except ModelError:
            self.session.noticed.emit(STALE)
            return
        self.session.do(finding.change)

    def accept(self) -> None:
        """Ask for the reason in a line below, or take an acceptance back."""
        finding = self.session.finding
        if finding is None:
            self.session.noticed.emit("Select a finding first (F4).")
        elif finding.accepted:
            self.session.do(taken_back(self.session.circuit, finding))
        else:
            self.reason.show()
            self.reason.setFocus()

    def show_help(self) -> None:
        """Show or put away the help on the rule."""
        self.ask.setChecked(not self.ask.isChecked())

    def _put_away(self) -> None:
        self.reason.clear()
        self.reason.hide()

    def _on_help(self, on: bool) -> None:
        self.page.setVisible(on)
        policy = self.sizePolicy()
        policy.setVerticalPolicy(KEEPS if not on else GROWS)
        self.setSizePolicy(policy)

    def _on_reason(self) -> None:
        """Accept the finding shown with the reason typed."""
        finding, reason = self.session.finding, self.reason.text().strip()
        if not reason:
            self.session.noticed.emit("Say in a few words why this finding may stay.")
            return
        self._put_away()
        if finding is not None:
            self.session.do(accepted(self.session.circuit, finding, reason, date.today()))
        self.done.emit()

    def _on_left(self) -> None:
        self._put_away()
        self.done.emit()


def evidence_of(circuit: Circuit, finding: Shown) -> str:
    """Return the path that shows a finding, and the positions in which it was seen."""
    lines = []
    if names := [n for key in finding.path if (n := _name(circuit, key))]:
        lines.append(tr("Path: {names}", names=" → ".join(names)))
    if finding.seen:
        lines.append(tr("Seen with {positions}", positions=tr(finding.seen)))
    if finding.accepted:
        lines.append(tr("Accepted: {reason}", reason=finding.accepted))
    return "\n".join(lines)


def _name(circuit: Circuit, key: str) -> str:
    if key in circuit.parts:
        return label(circuit.parts[key])
    return wire_label(circuit.wires[key]) if key in circuit.wires else ""


def _button(text: str, tip: str) -> QToolButton:
    button = QToolButton()
    button.setObjectName("act")
    button.setText(tr(text))
    button.setToolTip(tr(tip))
    button.setAccessibleName(tr(tip))
    button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    return button
