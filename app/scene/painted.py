"""What is painted on a part and on a wire, worked out from the analysis before anything paints."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from app.analysis import Analysis
from app.controls import position_now
from app.scene.guests import Guest
from assets.icons import arm_geometry, icon_of_kind
from model.circuit import Circuit, Part, Wire
from model.kinds.body import Body, Coil, Contact, LoadPath
from model.lookup import body_of, kind_of, rating
from model.state import State

RUNNING_A = 1e-3
"""Below this a wire or load is shown as carrying nothing."""


@dataclass(frozen=True, slots=True)
class PaintedPart:
    """A part as it stands: position word, moved arms, running load, trouble."""

    picture: str = "own"
    position: str = ""
    control: bool = False
    moved: float = 0.0
    throw: int = -1
    energised: bool = False
    running: bool = False
    reading: str = ""
    severity: str = ""
    value: str = ""
    away: bool = False
    markings: tuple[tuple[str, str], ...] = ()
    guests: tuple[Guest, ...] = ()


Painted = Mapping[str, PaintedPart]


@dataclass(frozen=True, slots=True)
class PaintedWire:
    """A wire as it stands: side ("fed", "ground", "both", "none"), amperes, trouble, label."""

    side: str = "none"
    current_a: float = 0.0
    solved: bool = False
    severity: str = ""
    number: str = ""
    size: str = ""
    reading: str = ""
    role: str = ""

    @property
    def carrying(self) -> bool:
        """Whether a current worth showing flows."""
        return abs(self.current_a) >= RUNNING_A


def painted_part(analysis: Analysis, part: Part, severity: str) -> PaintedPart:
    """Return how a part is to be painted."""
    circuit, state = analysis.circuit, analysis.state
    body = body_of(circuit, part)
    picture = icon_of_kind(kind_of(circuit, part).picture)
    asked = state.position(part.id) if state else analysis.setting.positions.get(part.id, "")
    position = position_now(circuit, part.id, asked) if body.positions else ""
    return PaintedPart(
        picture=picture,
        position=position,
        control=bool(body.positions),
        moved=float(_is_moved(picture, body, part, position, state)),
        throw=_throw(body, position),
        energised=_energised(body, part, state),
        running=_running(body, part, state),
        reading=_reading(body, part, state),
        severity=severity,
        value=value_of(circuit, part),
        away=bool(body.positions) and position != body.rest,
        markings=part.markings,
    )


def with_guests(host: PaintedPart, guests: tuple[Guest, ...], parts: Painted) -> PaintedPart:
    """Return a host with what sits in it; a socket shows its relay at work."""
    alone = next((parts[g.id] for g in guests if g.alone and g.id in parts), None)
    if alone is None:
        return replace(host, guests=guests)
    return replace(
        host,
        picture=alone.picture,
        moved=alone.moved,
        energised=alone.energised,
        severity=host.severity or alone.severity,
        guests=guests,
    )


def painted_wire(analysis: Analysis, wire: Wire, severity: str) -> PaintedWire:
    """Return how a wire is to be painted."""
    state = analysis.state
    size = wire.size.text() if wire.size else ""
    base = PaintedWire(severity=severity, number=wire.number, size=size)
    if state is None:
        return base
    current = state.current(wire.id)
    reading = amperes(current) if abs(current) >= RUNNING_A else ""
    side = state.wire_side(wire.id)
    return PaintedWire(side, current, True, severity, wire.number, size, reading)


def amperes(current_a: float) -> str:
    """Return a current as it is read at a glance: 8.3 A, 0.15 A."""
    amount = abs(current_a)
    digits = 0 if amount >= 100 else 1 if amount >= 1 else 2 if amount >= 0.1 else 3
    return f"{amount:.{digits}f} A"


def volts(volt: float) -> str:
    """Return a voltage as it is read at a glance."""
    return f"{volt:.2f} V"


def value_of(circuit: Circuit, part: Part) -> str:
    """Return the one value people want on the card: a fuse's amperes."""
    kind = kind_of(circuit, part)
    if kind.family == "protection":
        amount = rating(circuit, part, "rating_a").number
        return f"{amount:g} A" if amount is not None else ""
    if kind.key == "resistor":
        ohm = rating(circuit, part, "resistance_ohm").number
        return f"{ohm:g} Ω" if ohm is not None else ""
    return ""


def _is_moved(picture: str, body: Body, part: Part, position: str, state: State | None) -> bool:
    """Return whether the arm stands elsewhere than where the pictogram's file draws it."""
    first = next((e for e in body.elements if isinstance(e, Contact)), None)
    geometry = arm_geometry(picture)
    if first is None or geometry is None:
        return False
    pulled = state is not None and (part.id, first.by) in state.pulled
    stands = ("in" if pulled else "out") if first.by else position
    return (stands in first.closed) != (geometry.rest == "closed")


def _throw(body: Body, position: str) -> int:
    names = [p.name for p in body.positions]
    return names.index(position) if position in names else -1


def _energised(body: Body, part: Part, state: State | None) -> bool:
    if state is None:
        return False
    coils = [e for e in body.elements if isinstance(e, Coil)]
    return any(abs(state.current(part.id, c.name)) >= RUNNING_A for c in coils)


def _loads(body: Body) -> list[LoadPath]:
    return [e for e in body.elements if isinstance(e, LoadPath)]


def _running(body: Body, part: Part, state: State | None) -> bool:
    if state is None:
        return False
    return any(abs(state.current(part.id, e.name)) >= RUNNING_A for e in _loads(body))


def _reading(body: Body, part: Part, state: State | None) -> str:
    """Return the amperes of a running load."""
    if state is None:
        return ""
    total = sum(abs(state.current(part.id, e.name)) for e in _loads(body))
    return amperes(total) if total >= RUNNING_A else ""
