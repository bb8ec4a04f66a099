"""The role overlay: what each wire is for, as a pattern beside it that reads without colour.

*Permanent feed* a solid line on both sides; *switched feed* long dashes with a dot; *relay output*
two lines on both sides; *control* round dots; *return* short dashes far apart. The colours are of
the Okabe-Ito set.
"""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen

from app.scene.type import LEFT, write
from app.theme import Theme
from app.tr import tr
from model.roles import ROLES

WORDS = {
    "permanent": "Permanent feed",
    "switched": "Switched feed",
    "output": "Relay output",
    "control": "Control",
    "return": "Return",
}
GAP = 2.0
LINE = 2.6
PATTERNS: dict[str, tuple[float, ...]] = {
    "switched": (15.0, 4.5, 3.0, 4.5),
    "control": (0.1, 6.0),
    "return": (6.0, 8.0),
}
"""Lengths of strokes and of the gaps between them, in scene units; a role not named is solid."""
ROW, SAMPLE = 24.0, 64.0
WIDTH = 210.0


def paint_role(
    painter: QPainter, path: QPainterPath, width: float, role: str, theme: Theme
) -> None:
    """Paint the pattern of a role beside a wire; the wire itself is painted over it."""
    if role not in WORDS:
        return
    if role == "output":
        _beside(painter, path, width + 2 * (GAP + LINE), "", role, theme)
        _beside(painter, path, width, "", role, theme)
        return
    _beside(painter, path, width, role, role, theme)


def _beside(
    painter: QPainter, path: QPainterPath, width: float, pattern: str, role: str, theme: Theme
) -> None:
    """Paint a line on both sides: a wide stroke with its middle painted over."""
    full = width + 2 * (GAP + LINE)
    pen = QPen(theme.colour(f"role_{role}"), full)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    if lengths := PATTERNS.get(pattern):
        least = 3.0 if pattern == "control" else 0.0
        pen.setDashPattern([max(length, least) / full for length in lengths])
    painter.strokePath(path, pen)
    pen = QPen(theme.colour("gap"), width + 2 * GAP)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    painter.strokePath(path, pen)


def legend_size() -> tuple[float, float]:
    """Return width and height of the legend."""
    return WIDTH, ROW * len(ROLES) + 16


def paint_legend(painter: QPainter, at: QPointF, theme: Theme) -> None:
    """Paint what the patterns mean, on a card of its own."""
    width, height = legend_size()
    painter.setPen(QPen(theme.colour("label_edge"), 1))
    painter.setBrush(theme.colour("label"))
    painter.drawRoundedRect(QRectF(at.x(), at.y(), width - 1, height - 1), 8, 8)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for i, role in enumerate(ROLES):
        y = at.y() + 8 + ROW * (i + 0.5)
        path = QPainterPath(QPointF(at.x() + 12, y))
        path.lineTo(at.x() + 12 + SAMPLE, y)
        paint_role(painter, path, 4.0, role, theme)
        painter.strokePath(path, QPen(theme.colour("ink_soft"), 4.0))
        where = QRectF(at.x() + SAMPLE + 24, y - ROW / 2, width - SAMPLE - 30, ROW)
        write(painter, where, tr(WORDS[role]), theme.colour("ink"), 13, align=LEFT)
