"""How a click or a key moves a control from position to position."""

from __future__ import annotations

from model.circuit import Circuit
from model.kinds.body import Position
from model.lookup import body_of


class Stepper:
    """Steps controls through their positions and remembers how far round each one is.

    A key that springs from START back to ON goes on to OFF with the next step, not to START
    again; so the place in the round is kept, and not only the position.
    """

    def __init__(self) -> None:
        self._round: dict[str, int] = {}

    def step(self, circuit: Circuit, part_id: str, now: str, by: int = 1) -> str:
        """Return the position after `now` (before it for by = -1)."""
        positions = positions_of(circuit, part_id)
        if not positions:
            return ""
        names = [p.name for p in positions]
        at = self._round.get(part_id, -1)
        known = 0 <= at < len(positions) and now in (names[at], positions[at].springs_to)
        here = at if known else (names.index(now) if now in names else 0)
        self._round[part_id] = (here + by) % len(names)
        after = positions[self._round[part_id]]
        if after.name == now and len(names) > 1:
            return self.step(circuit, part_id, now, by)
        return after.name

    def let_go(self, circuit: Circuit, part_id: str, now: str) -> str:
        """Return the position a control springs to when let go, "" where it stays."""
        found = next((p for p in positions_of(circuit, part_id) if p.name == now), None)
        return found.springs_to if found else ""


def positions_of(circuit: Circuit, part_id: str) -> tuple[Position, ...]:
    """Return the positions of a control, none for any other part."""
    part = circuit.parts.get(part_id)
    return body_of(circuit, part).positions if part else ()


def position_now(circuit: Circuit, part_id: str, asked: str) -> str:
    """Return the position a control stands in when this one was asked for ("": its rest)."""
    part = circuit.parts.get(part_id)
    return asked or (body_of(circuit, part).rest if part else "")
