"""Findings: grouped by severity, each a sentence with its source; one selected shows its path."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QListWidget,
    QListWidgetItem,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.analysis import Shown, by_severity
from app.docks.finding_box import FindingBox
from app.docks.wrapped import WholeLabel, Wrapped
from app.pictures.loader import icon
from app.session import Session
from app.tr import tr
from checks.finding import SEVERITIES

WORDS = {
    "danger": "Danger",
    "fault": "Fault",
    "advice": "Advice",
    "unknown": "Unknown",
    "accepted": "Accepted",
}
FINDING = Qt.ItemDataRole.UserRole
ROW = 30
"""The least height of a row."""


class FindingList(QListWidget):
    """The list itself; Enter goes on to what can be done with a finding."""

    def __init__(self) -> None:
        super().__init__()
        self.box: FindingBox | None = None
        self.setAccessibleName(tr("Findings"))
        self.setWordWrap(True)
        self.setIconSize(QSize(20, 20))
        self.setFrameShape(QListWidget.Shape.NoFrame)
        self.setSpacing(2)
        self.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setItemDelegate(Wrapped(self, FINDING, ROW))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Apply the cure of the current finding with Enter."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.box is not None:
            self.box.apply()
        else:
            super().keyPressEvent(event)


class Findings(QWidget):
    """The list of what the checks found, and what can be done with the one shown."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.count = WholeLabel()
        self.count.setObjectName("soft")
        self.only = QToolButton()
        self.only.setObjectName("act")
        self.only.setText(tr("Selected only"))
        self.only.setAccessibleName(tr("List only the findings of what is selected"))
        self.only.setToolTip(tr("List only the findings of what is selected"))
        self.only.setCheckable(True)
        self.only.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.list, self.box = FindingList(), FindingBox(session)
        self.list.box = self.box
        self._fill()
        self.only.toggled.connect(self.refresh)
        self.box.done.connect(self._on_done)
        self.list.currentItemChanged.connect(self._on_current)
        self._shown: tuple[object, ...] = ()

    def _fill(self) -> None:
        head = QHBoxLayout()
        head.setContentsMargins(12, 4, 8, 2)
        head.addWidget(self.count, 1)
        head.addWidget(self.only)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addLayout(head)
        layout.addWidget(self.list, 3)
        layout.addWidget(self.box, 2)

    def refresh(self) -> None:
        """List the findings of the latest analysis; the same ones are not listed anew."""
        analysis = self.session.analysis
        wanted = self._wanted(by_severity(analysis.findings))
        chosen = self.session.selection if self.only.isChecked() else None
        shown = (wanted, chosen, analysis.checked, analysis.trouble, self._theme())
        self.list.blockSignals(True)
        if shown != self._shown:
            self._shown = shown
            self._list(wanted)
        self._select(self.session.finding)
        self.list.blockSignals(False)
        self.box.refresh()

    def select(self, row: int) -> None:
        """Select the finding of this number, from 0, as a click on it would."""
        self.list.setCurrentRow(self._rows()[row])

    def step(self, by: int) -> None:
        """Select the next finding, or the one before; past the end comes the first."""
        rows = self._rows()
        if rows:
            here = self.list.currentRow()
            at = rows.index(here) + by if here in rows else (0 if by > 0 else -1)
            self.list.setCurrentRow(rows[at % len(rows)])

    def _rows(self) -> list[int]:
        return [i for i in range(self.list.count()) if self.list.item(i).data(FINDING)]

    def _theme(self) -> str:
        return self.session.look.theme.name

    def _wanted(self, findings: list[Shown]) -> list[Shown]:
        """Return the findings to list: all, or those that name something selected."""
        if not self.only.isChecked():
            return findings
        chosen = self.session.selection
        return [f for f in findings if chosen & {*f.parts, *f.wires}]

    def _list(self, findings: list[Shown]) -> None:
        """Fill the list and keep the place where it was scrolled to."""
        at = self.list.verticalScrollBar().value()
        self.list.clear()
        groups: dict[str, list[Shown]] = {}
        for finding in findings:
            severity = "accepted" if finding.accepted else finding.severity
            groups.setdefault(severity, []).append(finding)
        for severity, group in groups.items():
            self._heading(severity, len(group))
            for finding in group:
                self._row(severity, finding)
        self.list.verticalScrollBar().setValue(at)
        self.count.setText(self._summary(groups))

    def _heading(self, severity: str, count: int) -> None:
        item = QListWidgetItem(f"{tr(WORDS[severity]).upper()}  {count}", self.list)
        font = item.font()
        font.setBold(True)
        font.setPointSizeF(font.pointSizeF() * 0.8)
        item.setFont(font)
        item.setForeground(self.session.look.theme.severity(severity))
        item.setFlags(Qt.ItemFlag.NoItemFlags)
        item.setSizeHint(QSize(0, 26))

    def _row(self, severity: str, finding: Shown) -> None:
        theme = self.session.look.theme
        sign = icon(f"actions/{severity}", theme.severity(severity))
        below = _source(finding)
        item = QListWidgetItem(sign, f"{finding.sentence}\n{below}", self.list)
        item.setData(FINDING, finding)
        item.setToolTip(finding.rule)
        item.setData(
            Qt.ItemDataRole.AccessibleTextRole, f"{tr(WORDS[severity])}: {finding.sentence}"
        )
        if finding.accepted:
            item.setForeground(theme.colour("ink_soft"))

    def _select(self, finding: Shown | None) -> None:
        """Mark the row of the finding shown, and no row when none is."""
        current = self.list.currentItem()
        if (current.data(FINDING) if current else None) == finding:
            return
        rows = (i for i in self._rows() if self.list.item(i).data(FINDING) == finding)
        self.list.setCurrentRow(next(rows, -1))

    def _summary(self, groups: dict[str, list[Shown]]) -> str:
        """Return one line that says how the circuit stands."""
        analysis = self.session.analysis
        if analysis.trouble:
            return tr(analysis.trouble)
        if not analysis.checked:
            return tr("Checking …")
        severities = (*SEVERITIES, "accepted")
        counts = ", ".join(f"{len(groups[s])} {tr(s)}" for s in severities if s in groups)
        if self.only.isChecked():
            return tr("Of what is selected: {counts}.", counts=counts or tr("nothing"))
        return counts or tr("Nothing found.")

    def _on_current(self, item: QListWidgetItem | None, before: QListWidgetItem | None) -> None:
        self.session.show_finding(item.data(FINDING) if item else None)

    def _on_done(self) -> None:
        self.list.setFocus()


def _source(finding: Shown) -> str:
    """Return the line below a finding: why it is accepted, else where it is from."""
    if finding.accepted:
        return tr("Accepted: {reason}", reason=finding.accepted)
    return tr("Source: {source}", source=tr(finding.source))
