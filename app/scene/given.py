"""What the scene gives its items: spots in use, texts of labels, the lasting look of wires."""

from __future__ import annotations

from collections.abc import Container

from app.scene.paint_wire import WireLook, width_of
from app.scene.painted import PaintedWire
from app.scene.stroke import rounded, shifted
from model.circuit import Place, Wire
from model.layout.card import Card
from model.layout.geometry import Point


def used_spots(card: Card, place: Place, ends: Container[Point]) -> frozenset[Point]:
    """Return the spots of a card, from its middle, at which wires end."""
    spots = (s for port in card.ports.values() for s in port.spots)
    return frozenset((s.x, s.y) for s in spots if (place.x + s.x, place.y + s.y) in ends)


def texts_of(painted: PaintedWire, overlay: str, code: str = "") -> tuple[str, ...]:
    """Return what a label says, number first."""
    values = (code, painted.size, painted.reading if overlay == "state" else "")
    return (painted.number, *(v for v in values if v)) if painted.number else ()


def code_of(wire: Wire) -> str:
    """Return the code of a wire's colours: GN/YE."""
    return f"{wire.colour}/{wire.tracer}" if wire.tracer else wire.colour


def look_of(wire: Wire, points: tuple[tuple[float, float], ...]) -> WireLook:
    """Return what of a wire does not change with its state."""
    width = width_of(wire.size.area_mm2 if wire.size else None)
    stripe = rounded(shifted(points, width * 0.16), 10.0) if wire.tracer else None
    return WireLook(wire.colour, wire.tracer, width, stripe)
