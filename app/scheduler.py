"""When to solve and check again: once an event-loop turn, ten times a second while dragging.

Changes only mark what is stale. The state comes in the next turn, the findings of a quick look in
the one after, so that the sheet answers first; where that look leaves something open a thorough
one follows beside the window. A newer change drops whatever was not done yet.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QObject, QTimer, Signal

from app.analysis import Analysis, Analyst, Shown
from app.background import Background
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
        self._thorough = Background(self)
        self._thorough.found.connect(self._on_found)
        self._judged: Analysis | None = None
        self.dragging = False

    def _timer(self, slot: Callable[[], None]) -> QTimer:
        timer = QTimer(self)
        timer.setSingleShot(True)
        timer.timeout.connect(slot)
        return timer

    @property
    def pending(self) -> bool:
        """Whether something is still to be solved or checked."""
        return bool(self._stale) or self._check.isActive() or self._thorough.busy

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
        self._thorough.wait()

    def settle(self) -> None:
        """Solve now what is pending; the findings may wait."""
        if self._stale:
            self._solve.stop()
            self._on_solve()

    def stop(self) -> None:
        """Drop what is pending; nothing runs any more, and no thread is left."""
        self._thorough.stop()
        self._solve.stop()
        self._check.stop()
        self._stale.clear()

    def _on_solve(self) -> None:
        self._stale.clear()
        self._latest = self._analyst.solve(*self._asked())
        self._check.start(DRAG_MS if self.dragging else 0)
        self.solved.emit(self._latest)

    def _on_check(self) -> None:
        """Take a quick look, and ask for the thorough one where that left something open."""
        latest, judged = self._latest, self._judged
        if latest is None:
            return
        if judged is not None and judged.circuit is latest.circuit:
            self._judge(replace(latest, findings=judged.findings, checked=True,
                                thorough=judged.thorough))  # fmt: skip
            return
        self._thorough.drop()
        self._judge(self._analyst.glance(latest, judged))
        if self._judged is not None and not self._judged.thorough:
            self._thorough.ask(latest.circuit)

    def _on_found(self, circuit: Circuit, findings: tuple[Shown, ...]) -> None:
        """Take the answer of the thorough look, if the circuit is still the one shown."""
        if self._latest is not None and self._latest.circuit is circuit:
            self._judge(replace(self._latest, findings=findings, checked=True, thorough=True))

    def _judge(self, analysis: Analysis) -> None:
        self._latest = self._judged = analysis
        self.checked.emit(analysis)
