"""Acts on findings: go through them, cure, accept, read up, list those of what is selected."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

if TYPE_CHECKING:
    from app.window import Window


class FindingActs(QObject):
    """What menus and keys do with findings."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self.window = window

    def do_finding_next(self) -> None:
        """Show the next finding."""
        self._step(1)

    def do_finding_before(self) -> None:
        """Show the finding before."""
        self._step(-1)

    def do_finding_cure(self) -> None:
        """Apply the cure of the finding shown."""
        self.window.findings.box.apply()

    def do_finding_accept(self) -> None:
        """Accept the finding shown with a reason, or take that back."""
        self.window.docks["findings"].show()
        self.window.findings.box.accept()

    def do_finding_rule(self) -> None:
        """Read what the rule of the finding shown looks for."""
        self.window.docks["findings"].show()
        self.window.findings.box.show_help()

    def do_finding_only(self) -> None:
        """List only the findings of what is selected, or all again."""
        only = self.window.findings.only
        only.setChecked(not only.isChecked())

    def _step(self, by: int) -> None:
        self.window.docks["findings"].show()
        self.window.findings.step(by)
