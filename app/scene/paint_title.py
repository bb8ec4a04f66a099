"""The title of a drawing: what the circuit is, of which vehicle, by whom."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter

from app.scene.type import LEFT, write
from app.theme import Theme
from model.circuit import Circuit

TITLE_HEIGHT = 64.0


def paint_title(painter: QPainter, where: QRectF, circuit: Circuit, theme: Theme) -> None:
    """Write the title and, under it, vehicle, revision, date and author."""
    settings = circuit.settings
    line = QRectF(where.x(), where.y(), where.width(), 30)
    write(painter, line, settings.title or "Circuit", theme.colour("ink"), 22, True, LEFT)
    known = (settings.vehicle, settings.revision, settings.date, settings.author)
    words = [*(w for w in known if w), f"{settings.nominal_v:g} V"]
    below = QRectF(where.x(), where.y() + 30, where.width(), 20)
    write(painter, below, " · ".join(words), theme.colour("ink_soft"), 12.5, False, LEFT)
