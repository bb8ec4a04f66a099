"""When to solve and check again: once an event-loop turn, ten times a second while dragging.

Changes only mark what is stale. The state comes in the next turn, the findings of a quick look in
the one after, so that the sheet answers first; where that look leaves something open a thorough
one follows beside the window. A newer change drops whatever was not done yet.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer, Signal

from app.analysis import Analysis, Analyst, Looked, look
from app.background import Background, Seen
from model.circuit import Circuit
from model.states import Memory, Setting

DRAG_MS = 100
AT_ONCE_WIRES = 250
"""Wires up to which a quick look fits in a few frames."""
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
        self._beside = Background(self)
        self._beside.found.connect(self._on_seen)
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
        return bool(self._stale) or self._check.isActive() or self._beside.busy

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
        while self._beside.busy:
            self._beside.wait()

    def settle(self) -> None:
        """Solve now what is pending; the findings may wait."""
        if self._stale:
            self._solve.stop()
            self._on_solve()

    def stop(self) -> None:
        """Drop what is pending; nothing runs any more, and no thread is left."""
        self._beside.stop()
        self._solve.stop()
        self._check.stop()
        self._stale.clear()

    def _on_solve(self) -> None:
        self._stale.clear()
        self._latest = self._analyst.solve(*self._asked())
        self._check.start(DRAG_MS if self.dragging else 0)
        self.solved.emit(self._latest)

    def _on_check(self) -> None:
        """Take a quick look, and ask for the thorough one where that left something open.

        A quick look at a large circuit takes more than a frame: then it is taken beside the
        window too.
        """
        latest, judged = self._latest, self._judged
        if latest is None:
            return
        if judged is not None and judged.circuit is latest.circuit:
            kept = Looked(judged.findings, judged.thorough, frozenset())
            self._judge(kept.onto(latest, None))
        elif len(latest.circuit.wires) > AT_ONCE_WIRES:
            self._beside.ask(latest.circuit, quick=True)
        else:
            self._beside.drop()
            self._on_found(latest.circuit, look(latest.circuit, quick=True))

    def _on_seen(self, seen: Seen) -> None:
        self._on_found(*seen)

    def _on_found(self, circuit: Circuit, looked: Looked) -> None:
        """Take what a look gave, if the circuit is still the one shown; look on if need be."""
        if self._latest is None or self._latest.circuit is not circuit:
            return
        self._judge(looked.onto(self._latest, self._judged))
        if not looked.thorough:
            self._beside.ask(circuit)

    def _judge(self, analysis: Analysis) -> None:
        self._latest = self._judged = analysis
        self.checked.emit(analysis)
