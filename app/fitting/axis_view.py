"""Load, fuse, wire and dead short of one load, below each other on one axis of current.

Signs and patterns tell the marks apart, not colours; what the drawing says stands in words too,
as its accessible description.
"""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QFontMetricsF, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.theme import Look
from app.tr import tr
from checks.sizing.axis import Axis, Mark
from model.units import show

LANES = ("load", "fuse", "wire", "short")
TITLES = {"load": "Load", "fuse": "Fuse", "wire": "Wire", "short": "Dead short"}
PATTERNS = {
    "band": Qt.BrushStyle.Dense4Pattern,
    "carries": Qt.BrushStyle.BDiagPattern,
    "short": Qt.BrushStyle.DiagCrossPattern,
}
GAP = 6.0
"""Pixels between texts, and around the drawing."""


class AxisView(QWidget):
    """Draws one axis."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._axis: Axis | None = None
        self.setAccessibleName(tr("Load, fuse, wire and dead short on one axis of current"))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)

    def show_axis(self, axis: Axis | None) -> None:
        """Draw another axis, or none."""
        self._axis = axis
        self.setAccessibleDescription(axis.text if axis else "")
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """Return room for every lane and the steps below them."""
        line = self.fontMetrics().height()
        return QSize(30 * line, round(len(LANES) * 2.1 * line + 2 * line + 2 * GAP))

    def minimumSizeHint(self) -> QSize:
        """Return the same height; the axis may be shorter."""
        return QSize(14 * self.fontMetrics().height(), self.sizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the lanes, their marks and the steps."""
        if self._axis is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(self.font())
        metrics = QFontMetricsF(self.font())
        left = max(metrics.horizontalAdvance(tr(t)) for t in TITLES.values()) + 3 * GAP
        area = QRectF(left, GAP, self.width() - left - 4 * GAP, self.height() - 2 * GAP)
        steps_y = area.bottom() - 1.4 * metrics.height()
        self._steps(painter, area, steps_y)
        height = (steps_y - area.top()) / len(LANES)
        for row, lane in enumerate(LANES):
            top = area.top() + row * height
            self._lane(painter, lane, QRectF(area.left(), top, area.width(), height))
        painter.end()

    def _x(self, area: QRectF, amps: float) -> float:
        assert self._axis is not None
        return area.left() + self._axis.share(amps) * area.width()

    def _steps(self, painter: QPainter, area: QRectF, y: float) -> None:
        """Draw the axis with its 1-2-5 steps; numbers that would touch are left out."""
        assert self._axis is not None
        theme, metrics = self._look.theme, QFontMetricsF(painter.font())
        painter.setPen(QPen(theme.colour("ink_soft"), 1.0))
        painter.drawLine(QPointF(area.left(), y), QPointF(area.right(), y))
        free = area.left() - 4 * GAP
        for amps in self._axis.ticks:
            x, text = self._x(area, amps), f"{amps:g}"
            width = metrics.horizontalAdvance(text)
            painter.setPen(QPen(theme.colour("dots"), 1.0))
            painter.drawLine(QPointF(x, area.top()), QPointF(x, y))
            if x - width / 2 > free:
                painter.setPen(theme.colour("ink_soft"))
                painter.drawText(QPointF(x - width / 2, y + metrics.ascent() + 3), text)
                free = x + width / 2 + GAP
        painter.setPen(theme.colour("ink_soft"))
        painter.drawText(QPointF(GAP, y + metrics.ascent() + 3), "A")

    def _lane(self, painter: QPainter, lane: str, area: QRectF) -> None:
        """Draw one lane: its title, its marks, and their values below them."""
        assert self._axis is not None
        metrics, theme = QFontMetricsF(painter.font()), self._look.theme
        middle = area.top() + (area.height() - metrics.height()) / 2
        painter.setPen(theme.colour("ink"))
        painter.drawText(QPointF(GAP, middle + metrics.ascent() / 2), tr(TITLES[lane]))
        marks = sorted(
            (m for m in self._axis.marks if m.lane == lane), key=lambda m: (m.high_a, m.what)
        )
        for mark in sorted(marks, key=lambda m: m.low_a == m.high_a):
            self._mark(painter, mark, area, middle)
        free = area.left() - 2 * GAP
        for mark in marks:
            text = _value(mark)
            width = metrics.horizontalAdvance(text)
            x = max(free, self._x(area, mark.high_a) - width / 2)
            x = min(x, self.width() - width - GAP)
            painter.setPen(theme.colour("ink"))
            painter.drawText(QPointF(x, area.bottom() - metrics.descent()), text)
            free = x + width + 2 * GAP

    def _mark(self, painter: QPainter, mark: Mark, area: QRectF, y: float) -> None:
        """Draw one mark about the middle line of its lane."""
        ink = self._look.theme.colour("ink")
        low, high = self._x(area, mark.low_a), self._x(area, mark.high_a)
        painter.setPen(QPen(ink, 1.5))
        painter.setBrush(ink)
        half = painter.fontMetrics().height() * 0.36
        if mark.what in PATTERNS:
            painter.setBrush(QBrush(ink, PATTERNS[mark.what]))
            painter.drawRect(QRectF(low, y - half * 0.8, max(high - low, 2.0), half * 1.6))
        elif mark.what == "running":
            painter.drawEllipse(QPointF(high, y), half, half)
        elif mark.what == "start":
            painter.drawPolygon(_diamond(high, y, half * 1.2))
        elif mark.what == "holds":
            painter.drawPolygon(_arrow(high, y, half * 1.1))
        else:
            painter.setPen(QPen(ink, 4.0))
            painter.drawLine(QPointF(high, y - half * 1.3), QPointF(high, y + half * 1.3))


def _value(mark: Mark) -> str:
    """Return what is written below a mark."""
    if mark.what == "band":
        return f"{show(mark.low_a, 'current')} – {show(mark.high_a, 'current')}"
    if mark.what == "short":
        return f"{show(mark.low_a, 'current')} – {show(mark.high_a, 'current')}"
    return show(mark.high_a, "current")


def _diamond(x: float, y: float, half: float) -> QPolygonF:
    corners = ((x, y - half), (x + half, y), (x, y + half), (x - half, y))
    return QPolygonF([QPointF(*c) for c in corners])


def _arrow(x: float, y: float, half: float) -> QPolygonF:
    corners = ((x - half, y - half), (x + half, y), (x - half, y + half))
    return QPolygonF([QPointF(*c) for c in corners])
