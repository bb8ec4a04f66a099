"""Findings: grouped by severity, each a sentence with its source; one selected shows its path."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QVBoxLayout,
    QWidget,
)

from app.analysis import Shown, by_severity
from app.pictures.loader import icon
from app.session import Session
from checks.finding import SEVERITIES

WORDS = {
    "danger": "Danger",
    "fault": "Fault",
    "advice": "Advice",
    "unknown": "Unknown",
    "accepted": "Accepted",
}
FINDING = Qt.ItemDataRole.UserRole


class Findings(QWidget):
    """The list of what the checks found."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.count = QLabel()
        self.count.setObjectName("soft")
        self.count.setContentsMargins(12, 8, 12, 4)
        self.list = QListWidget()
        self.list.setAccessibleName("Findings")
        self.list.setWordWrap(True)
        self.list.setIconSize(QSize(20, 20))
        self.list.setFrameShape(QListWidget.Shape.NoFrame)
        self.list.setSpacing(2)
        self.list.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.list.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.currentItemChanged.connect(self._on_current)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(self.count)
        layout.addWidget(self.list)
        self._shown: tuple[object, ...] = ()

    def refresh(self) -> None:
        """List the findings of the latest analysis; nothing is done when they are the same."""
        analysis = self.session.analysis
        shown = (analysis.findings, analysis.checked, analysis.trouble, self._theme())
        if shown == self._shown:
            return
        self._shown = shown
        self.list.blockSignals(True)
        self.list.clear()
        groups = self._groups(by_severity(analysis.findings))
        for severity, findings in groups.items():
            self._heading(severity, len(findings))
            for finding in findings:
                self._row(severity, finding)
        self._select(self.session.finding)
        self.list.blockSignals(False)
        self.count.setText(self._summary(groups))

    def select(self, row: int) -> None:
        """Select the finding of this number, from 0, as a click on it would."""
        rows = [i for i in range(self.list.count()) if self.list.item(i).data(FINDING)]
        self.list.setCurrentRow(rows[row])

    def _theme(self) -> str:
        return self.session.look.theme.name

    def _groups(self, findings: list[Shown]) -> dict[str, list[Shown]]:
        groups: dict[str, list[Shown]] = {}
        for finding in findings:
            groups.setdefault("accepted" if finding.accepted else finding.severity, []).append(
                finding
            )
        return groups

    def _heading(self, severity: str, count: int) -> None:
        item = QListWidgetItem(f"{WORDS[severity].upper()}  {count}", self.list)
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
        text = f"{finding.sentence}\nSource: {finding.source}"
        item = QListWidgetItem(sign, text, self.list)
        item.setData(FINDING, finding)
        item.setToolTip(finding.rule)
        item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{WORDS[severity]}: {finding.sentence}")

    def _select(self, finding: Shown | None) -> None:
        for i in range(self.list.count()):
            if finding is not None and self.list.item(i).data(FINDING) == finding:
                self.list.setCurrentRow(i)

    def _summary(self, groups: dict[str, list[Shown]]) -> str:
        """Return one line that says how the circuit stands."""
        analysis = self.session.analysis
        if analysis.trouble:
            return analysis.trouble
        if not analysis.checked:
            return "Checking …"
        counts = [f"{len(groups[s])} {s}" for s in SEVERITIES if s in groups]
        return ", ".join(counts) or "Nothing found."

    def _on_current(self, item: QListWidgetItem | None, before: QListWidgetItem | None) -> None:
        finding = item.data(FINDING) if item else None
        self.session.show_finding(finding)
