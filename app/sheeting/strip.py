"""The strip under the sheet: the tabs and a button for one sheet more; away with a single sheet."""

from __future__ import annotations

from collections import Counter

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QToolButton

from app.session import Session
from app.sheeting.tabs import SheetTabs, names_of
from app.tr import tr
from app.whereabouts import parts_of, shown_on
from checks.finding import SEVERITIES


class SheetStrip(QFrame):
    """Tabs and button. The tabs of sheets with findings say how many where the mouse rests."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.setObjectName("strip")
        self._session = session
        self.tabs = SheetTabs()
        self.add = QToolButton()
        self.add.setText("+")
        self.add.setToolTip(tr("Add a sheet"))
        self.add.setAccessibleName(tr("Add a sheet"))
        row = QHBoxLayout(self)
        row.setContentsMargins(6, 0, 6, 0)
        row.setSpacing(4)
        row.addWidget(self.tabs, 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(self.add)
        row.addStretch(1)
        self.hide()

    def show_sheets(self, always: bool = False) -> None:
        """Show the sheets as they are; `always` also a single one, so that it can be named."""
        circuit = self._session.circuit
        names = names_of(circuit)
        self.setVisible(len(names) > 1 or (always and bool(names)) or self.tabs.edit.isVisible())
        if not self.isHidden():
            self.tabs.show_sheets(names, self._session.sheet.id, self._told(names))

    def _told(self, names: dict[str, str]) -> dict[str, str]:
        """Return by sheet how much is on it: "Rear: 4 parts; 1 fault; 2 advice"."""
        circuit, told = self._session.circuit, {}
        found = [f for f in self._session.analysis.findings if not f.accepted]
        for key, name in names.items():
            here = shown_on(circuit, key)
            many = Counter(f.severity for f in found if parts_of(circuit, f.ids) & here)
            said = "".join(f"; {many[s]} {tr(s)}" for s in SEVERITIES if many[s])
            parts = tr("1 part") if len(here) == 1 else tr("{count} parts", count=len(here))
            told[key] = f"{name}: {parts}{said}"
        return told
