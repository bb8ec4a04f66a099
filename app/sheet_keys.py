"""The keys of the sheet that are no actions, and the cursor at which a person types and places.

The view hands every key press here first. A letter begins the typed line; the arrows move what is
selected, else the cursor; Space operates the control that is selected.
"""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPen

from app.scene.geometry import GRID

ARROWS = {
    Qt.Key.Key_Left: (-GRID, 0.0),
    Qt.Key.Key_Right: (GRID, 0.0),
    Qt.Key.Key_Up: (0.0, -GRID),
    Qt.Key.Key_Down: (0.0, GRID),
}
FAR = 5.0
"""Times as far with Shift."""
CURSOR_STEP = 2.0
"""Grid steps that an arrow moves the cursor."""
ARM = 13.0
GAP = 4.0
_OTHERS = (
    Qt.KeyboardModifier.ControlModifier
    | Qt.KeyboardModifier.AltModifier
    | Qt.KeyboardModifier.MetaModifier
)


@dataclass
class SheetCursor:
    """Where a person wants the next part: `at` is the cross, None until it was put somewhere.

    `mouse` is where the mouse moved last over the sheet, None once the arrows moved the cross
    since. `typing` is true while the typed line is open: it has the keys then.
    """

    at: QPointF | None = None
    mouse: QPointF | None = None
    typing: bool = False

    def moved(self, start: QPointF, dx: float, dy: float, far: bool) -> QPointF:
        """Move the cursor by an arrow, from a start where it had no place yet; return the place."""
        here, self.mouse = start if self.at is None else self.at, None
        by = CURSOR_STEP * (FAR if far else 1.0)
        self.at = on_grid(QPointF(here.x() + dx * by, here.y() + dy * by))
        return self.at


def on_grid(at: QPointF) -> QPointF:
    """Return the nearest point of the grid."""
    return QPointF(round(at.x() / GRID) * GRID, round(at.y() / GRID) * GRID)


def begins_line(event: QKeyEvent) -> str | None:
    """Return the first letter of a line that a key begins, "" for Return, None for other keys."""
    if event.modifiers() & _OTHERS or event.isAutoRepeat():
        return None
    if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
        return ""
    text = event.text()
    return text if len(text) == 1 and text.isalpha() else None


def paint_cursor(painter: QPainter, at: QPointF, colour: QColor, zoom: float) -> None:
    """Paint the cursor as a cross with an open middle, of one size on the screen."""
    arm, gap = ARM / zoom, GAP / zoom
    painter.setPen(QPen(colour, 2.0 / zoom, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
    for dx, dy in ((1, 0), (-1, 0), (0, 1), (0, -1)):
        start = QPointF(at.x() + dx * gap, at.y() + dy * gap)
        painter.drawLine(start, QPointF(at.x() + dx * arm, at.y() + dy * arm))


def cursor_area(at: QPointF, zoom: float) -> QRectF:
    """Return the area of the sheet that the cursor takes."""
    reach = (ARM + 2.0) / zoom
    return QRectF(at.x() - reach, at.y() - reach, 2 * reach, 2 * reach)
