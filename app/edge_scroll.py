"""The sheet moves on by itself while something is held near the edge of the view."""

from __future__ import annotations

from PySide6.QtCore import QObject, QPointF, QTimer, Signal
from PySide6.QtWidgets import QGraphicsView

EDGE, EVERY_MS, STEP = 26, 30, 14.0
"""Pixels from the edge at which it begins, how often it moves, how far each time."""


class EdgeScroll(QObject):
    """Watches where the mouse is held and scrolls a view while that is near its edge."""

    scrolled = Signal(QPointF)
    """The view has moved; the pixel at which the mouse is held."""

    def __init__(self, view: QGraphicsView) -> None:
        super().__init__(view)
        self._view = view
        self._at = self._from = QPointF()
        self._timer = QTimer(self)
        self._timer.setInterval(EVERY_MS)
        self._timer.timeout.connect(self._on_time)

    def begin(self, at: QPointF) -> None:
        """Take note of where something was taken hold of: only farther out does the sheet move."""
        self._from = at

    def hold(self, at: QPointF) -> None:
        """Take note of where the mouse is while something is held."""
        self._at = at
        if self._push() == QPointF():
            self._timer.stop()
        elif not self._timer.isActive():
            self._timer.start()

    def stop(self) -> None:
        """Nothing is held any more."""
        self._timer.stop()

    def _push(self) -> QPointF:
        """Return how far the sheet moves, nothing away from the edges."""
        at, start, port = self._at, self._from, self._view.viewport().rect()
        left, top = min(EDGE, start.x()), min(EDGE, start.y())
        right = max(port.width() - EDGE, start.x())
        bottom = max(port.height() - EDGE, start.y())
        across = (at.x() < left) - (at.x() > right)
        down = (at.y() < top) - (at.y() > bottom)
        return QPointF(across * STEP, down * STEP)

    def _on_time(self) -> None:
        push, view = self._push(), self._view
        across, down = view.horizontalScrollBar(), view.verticalScrollBar()
        across.setValue(across.value() - round(push.x()))
        down.setValue(down.value() - round(push.y()))
        self.scrolled.emit(self._at)
