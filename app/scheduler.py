"""When to solve and check again: once an event-loop turn, ten times a second while dragging.

Changes only mark what is stale. The state comes in the next turn, the findings in the one after,
so that the sheet answers first; a newer change drops whatever was not done yet.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer, Signal

from app.analysis import Analysis, Analyst
from model.circuit import Circuit
from model.states import Memory, Setting

DRAG_MS = 100
Asked = Callable[[], tuple[Circuit, Setting, Memory]]


class Scheduler(QObject):
    """Collects changed ids and brings the analysis up to date."""

    solved = Signal(object)
    checked = Signal(object)

    def __init__(self, asked: Asked, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._asked = asked
        self._analyst = Analyst()
        self._stale: set[tuple[str, str]] = set()
        self._latest: Analysis | None = None
        self._solve = self._timer(self._on_solve)
        self._check = self._timer(self._on_check)
        self.dragging = False

    def _timer(self, slot: Callable[[], None]) -> QTimer:
        timer = QTimer(self)
        timer.setSingleShot(True)
        timer.timeout.connect(slot)
        return timer

    @property
    def pending(self) -> bool:
        """Whether something is still to be solved or checked."""
        return bool(self._stale) or self._check.isActive()

    def touch(self, ids: frozenset[tuple[str, str]]) -> None:
        """Mark these as changed; the answer follows in the next turn."""
        self._stale |= ids or {("*", "")}
        self._check.stop()
        if not self._solve.isActive():
            self._solve.start(DRAG_MS if self.dragging else 0)

    def flush(self) -> None:
        """Solve and check now what is pending."""
        self.settle()
        if self._check.isActive():
            self._check.stop()
            self._on_check()

    def settle(self) -> None:
        """Solve now what is pending; the findings may wait."""
        if self._stale:
            self._solve.stop()
            self._on_solve()

    def stop(self) -> None:
        """Drop what is pending; nothing runs any more."""
        self._solve.stop()
        self._check.stop()
        self._stale.clear()

    def _on_solve(self) -> None:
        self._stale.clear()
        self._latest = self._analyst.solve(*self._asked())
        self._check.start(DRAG_MS if self.dragging else 0)
        self.solved.emit(self._latest)

    def _on_check(self) -> None:
        if self._latest is not None:
            self._latest = self._analyst.check(self._latest)
            self.checked.emit(self._latest)
