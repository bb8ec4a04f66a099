"""How a wire looks: insulation with its tracer, and over it one overlay of outlines and marks.

*Fed* a solid outline; *carrying* a double outline with dark-edged direction marks, the band the
wider the larger the current; *ground side* a dashed outline; *dead* none, and the wire pale;
*trouble* a dotted outline and a badge with one shape a severity.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import log2, log10

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QPolygonF

from app.pictures.loader import paint_picture
from app.scene.paint_role import paint_role
from app.scene.painted import PaintedWire
from app.scene.stroke import Mark, Stroke
from app.scene.type import is_vector
from app.theme import Theme, insulation

FLAT = Qt.PenCapStyle.FlatCap
ROUND = Qt.PenJoinStyle.RoundJoin
TINY = 0.2
"""Below this zoom a wire is one line."""
LINE = 1.5
HALO = 13.0
"""How much wider than a wire the band under one that is selected is."""
PATTERNS = {Qt.PenStyle.DashLine: (11.0, 6.0), Qt.PenStyle.DotLine: (3.2, 3.2)}
"""Lengths of the strokes of an outline and of the gaps between them."""
GAP = 2.2


@dataclass(frozen=True, slots=True)
class WireLook:
    """What of a wire does not change with its state: colours, copper, tracer path."""

    colour: str
    tracer: str
    width: float
    stripe: QPainterPath | None = None


def width_of(area_mm2: float | None) -> float:
    """Return the width of a wire on the sheet by its copper."""
    if area_mm2 is None:
        return 5.0
    return min(10.0, max(4.0, 5.0 + log2(area_mm2) * 0.8))


def band_of(current_a: float) -> float:
    """Return the extra width of the band for a current."""
    return min(4.0, max(0.0, 1.6 * log10(max(abs(current_a), 0.1) / 0.1)))


def paint_wire(
    painter: QPainter,
    stroke: Stroke,
    look: WireLook,
    wire: PaintedWire,
    overlay: str,
    theme: Theme,
    zoom: float,
) -> None:
    """Paint a wire with the overlay chosen ("state", "findings", "role" or "none")."""
    if zoom < TINY:
        _paint_tiny(painter, stroke, look, wire, overlay, theme)
        return
    width = look.width
    live = wire.side in ("fed", "both") or wire.carrying
    if least := theme.live_px if live else theme.idle_px:
        width = max(width, min(least / zoom, 12.0 if live else 8.0))
    trouble = wire.severity if overlay == "findings" or wire.severity in ("danger", "fault") else ""
    if overlay in ("none", "role"):
        trouble = ""
    if trouble:
        _outline(painter, stroke, width, theme.severity(trouble), Qt.PenStyle.DotLine, theme)
    elif overlay == "role":
        paint_role(painter, stroke.path, width, wire.role, theme)
    elif overlay == "state":
        _paint_state(painter, stroke, width, wire, theme)
    _paint_insulation(painter, stroke, look, width, theme, is_pale(wire, overlay))
    if overlay == "state" and wire.carrying and zoom >= 0.3:
        _paint_marks(painter, stroke.marks, width, wire.current_a, theme)
    if trouble:
        _paint_badge(painter, stroke.badge, trouble, theme)


def is_pale(wire: PaintedWire, overlay: str) -> bool:
    """Tell whether a wire is painted pale: it is dead."""
    return overlay == "state" and wire.solved and wire.side == "none" and not wire.carrying


def _paint_tiny(
    painter: QPainter, stroke: Stroke, look: WireLook, wire: PaintedWire, overlay: str, theme: Theme
) -> None:
    """Paint a wire seen from far away: its colour, and trouble as a band under it."""
    if (band := tiny_band(wire, overlay, theme)) is not None:
        pen = QPen(QColor.fromRgba(band[0]), band[1], Qt.PenStyle.DotLine, FLAT)
        painter.strokePath(stroke.path, pen)
    painter.strokePath(stroke.path, _pen(*tiny_line(look, wire, theme)))


def tiny_band(wire: PaintedWire, overlay: str, theme: Theme) -> tuple[int, float] | None:
    """Return colour and width of the dots that tell trouble from far away, None for none."""
    if wire.severity in ("danger", "fault") and overlay not in ("none", "role"):
        return theme.severity(wire.severity).rgba(), 22.0
    return None


def tiny_line(look: WireLook, wire: PaintedWire, theme: Theme) -> tuple[int, float]:
    """Return colour and width of a wire seen from far away."""
    rgba = _rgba(look.colour) if look.colour else theme.colour("ink_soft").rgba()
    return rgba, 12.0 if wire.carrying else 7.0


def _paint_state(
    painter: QPainter, stroke: Stroke, width: float, wire: PaintedWire, theme: Theme
) -> None:
    """Paint the outline that tells the state."""
    ground = wire.side == "ground"
    style = Qt.PenStyle.DashLine if ground else Qt.PenStyle.SolidLine
    colour = theme.colour("ground" if ground else "fed")
    if wire.carrying:
        band = width + 2 * (GAP + LINE) + band_of(wire.current_a)
        if not ground:
            _outline(painter, stroke, band, colour, style, theme)
            _outline(painter, stroke, width, colour, style, theme, gap=GAP * 0.6)
        else:
            _outline(painter, stroke, band - 2 * LINE, colour, style, theme)
    elif wire.side in ("fed", "both") or ground:
        _outline(painter, stroke, width, colour, style, theme)


def _outline(
    painter: QPainter,
    stroke: Stroke,
    width: float,
    colour: QColor,
    style: Qt.PenStyle,
    theme: Theme,
    gap: float = GAP,
) -> None:
    """Paint a line on both sides of a wire: a wide stroke with its middle painted over."""
    line = 2.2 if style == Qt.PenStyle.DotLine else LINE
    _run(painter, stroke, _pen(colour.rgba(), width + 2 * (gap + line), PATTERNS.get(style, ())))
    _run(painter, stroke, _pen(theme.colour("gap").rgba(), width + 2 * gap))


def _run(painter: QPainter, stroke: Stroke, pen: QPen) -> None:
    """Draw all along a wire, on a screen in its pieces; what shines through is drawn as one."""
    if painter.opacity() < 1.0 or is_vector(painter):
        painter.strokePath(stroke.path, pen)
        return
    painter.setPen(pen)
    painter.drawLines(stroke.lines)
    if not stroke.corners.isEmpty():
        painter.strokePath(stroke.corners, pen)


@lru_cache(maxsize=1024)
def _pen(rgba: int, width: float, lengths: tuple[float, ...] = ()) -> QPen:
    """Return a pen, shared by all wires, with dashes of these lengths; not to be changed."""
    pen = QPen(QColor.fromRgba(rgba), width, Qt.PenStyle.SolidLine, FLAT, ROUND)
    if lengths:
        pen.setDashPattern([length / width for length in lengths])
    return pen


@lru_cache(maxsize=64)
def _rgba(code: str) -> int:
    """Return the colour of an insulation."""
    return insulation(code).rgba()


def _paint_insulation(
    painter: QPainter, stroke: Stroke, look: WireLook, width: float, theme: Theme, pale: bool
) -> None:
    """Paint the wire itself: a thin casing, its colour, its tracer along one side."""
    before = painter.opacity()
    if pale:
        painter.setOpacity(before * theme.dead_alpha / 255)
    _run(painter, stroke, _pen(theme.colour("casing").rgba(), width))
    inner = width - 1.3
    unknown = () if look.colour else (2.0 * inner, 1.2 * inner)
    _run(painter, stroke, _pen(_rgba(look.colour), inner, unknown))
    if look.stripe is not None and look.tracer:
        painter.strokePath(look.stripe, _pen(_rgba(look.tracer), max(1.2, width * 0.24)))
    if pale:
        painter.setOpacity(before)


def _paint_marks(
    painter: QPainter, marks: tuple[Mark, ...], width: float, current_a: float, theme: Theme
) -> None:
    """Paint the marks that show which way the current runs."""
    painter.setPen(QPen(theme.colour("mark_edge"), 1.3, Qt.PenStyle.SolidLine, FLAT, ROUND))
    painter.setBrush(theme.colour("mark"))
    size = width * 0.75 + 2.6 + band_of(current_a) * 0.5
    way = 1.0 if current_a >= 0 else -1.0
    for mark in marks:
        painter.drawPolygon(_arrow(mark, size, way))


def _arrow(mark: Mark, size: float, way: float) -> QPolygonF:
    """Return a triangle that points along the wire."""
    dx, dy = mark.dx * way, mark.dy * way
    tip = QPointF(mark.x + dx * size, mark.y + dy * size)
    left = QPointF(mark.x - dx * size - dy * size, mark.y - dy * size + dx * size)
    right = QPointF(mark.x - dx * size + dy * size, mark.y - dy * size - dx * size)
    return QPolygonF([tip, left, right])


def _paint_badge(painter: QPainter, at: QPointF, severity: str, theme: Theme) -> None:
    """Paint the badge of a severity on the wire."""
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(theme.colour("sheet"))
    painter.drawEllipse(at, 12.5, 12.5)
    where = QRectF(at.x() - 11, at.y() - 11, 22, 22)
    paint_picture(painter, f"actions/{severity}", theme.severity(severity), where)


def paint_halo(painter: QPainter, stroke: Stroke, width: float, colour: QColor) -> None:
    """Paint a band under a wire that is selected or on the path shown."""
    pen = QPen(colour, width + HALO, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap, ROUND)
    painter.strokePath(stroke.path, pen)


def paint_handles(painter: QPainter, stroke: Stroke, theme: Theme) -> None:
    """Paint where the ends of a selected wire, and a branch off it, are taken hold of."""
    painter.setPen(QPen(theme.colour("chosen"), 2))
    painter.setBrush(theme.colour("card"))
    for handle in stroke.handles:
        painter.drawEllipse(handle, 5, 5)
    if at := stroke.branch:
        painter.drawEllipse(at, 7, 7)
        painter.drawLine(at - QPointF(4, 0), at + QPointF(4, 0))
        painter.drawLine(at - QPointF(0, 4), at + QPointF(0, 4))
