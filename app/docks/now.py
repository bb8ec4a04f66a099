"""What the state says of the selected part or wire, and what the checks found there, as lines."""

from __future__ import annotations

from app.analysis import Analysis, by_severity
from app.docks.warmest import warmest_lines
from app.scene.painted import RUNNING_A, amperes
from model.circuit import Circuit, Part, Wire
from model.kinds.body import Coil, LoadPath
from model.lookup import body_of, end_label, marking
from model.state import State
from model.units import show

SIDES = {
    "fed": "fed",
    "ground": "ground side",
    "both": "joined to both plus and minus",
    "none": "dead",
}


def now_lines(analysis: Analysis, record: Part | Wire) -> list[str]:
    """Return what holds now: volts at terminals, amperes through, relays in or out."""
    state, circuit = analysis.state, analysis.circuit
    if state is None or record.id not in {**circuit.parts, **circuit.wires}:
        return []
    if isinstance(record, Wire):
        return [*_wire_lines(circuit, record, state), *warmest_lines(analysis, record)]
    return [*_coils(circuit, record, state), *_loads(circuit, record, state),
            _volts(circuit, record, state)]  # fmt: skip


def found_lines(analysis: Analysis, key: str) -> list[str]:
    """Return the sentences of the findings that name a part or wire, the worst first."""
    named = [f for f in by_severity(analysis.findings) if key in (*f.parts, *f.wires)]
    return [f"{f.severity.capitalize()}: {f.sentence}" for f in named if not f.accepted]


def _wire_lines(circuit: Circuit, wire: Wire, state: State) -> list[str]:
    """Return a wire's side, its current and which way it runs, and the volts lost in it."""
    current = state.current(wire.id)
    lines = [f"{SIDES[state.wire_side(wire.id)].capitalize()}."]
    if abs(current) < RUNNING_A:
        return lines
    first, second = end_label(circuit, wire.first), end_label(circuit, wire.second)
    ends = (first, second) if current > 0 else (second, first)
    lines.append(f"{amperes(current)} from {ends[0]} to {ends[1]}.")
    a, b = state.volt_at(wire.first), state.volt_at(wire.second)
    if a is not None and b is not None:
        lines.append(f"{show(abs(a - b), 'voltage')} lost in it.")
    return lines


def _coils(circuit: Circuit, part: Part, state: State) -> list[str]:
    """Return whether each coil has its armature in."""
    lines = []
    for coil in (e for e in body_of(circuit, part).elements if isinstance(e, Coil)):
        word = "in" if (part.id, coil.moves) in state.pulled else "out"
        current = state.current(part.id, coil.name)
        through = f", {amperes(current)} through it" if abs(current) >= RUNNING_A else ""
        lines.append(f"{coil.name.capitalize()}: armature {word}{through}.")
    return lines


def _loads(circuit: Circuit, part: Part, state: State) -> list[str]:
    lines = []
    for load in (e for e in body_of(circuit, part).elements if isinstance(e, LoadPath)):
        current = state.current(part.id, load.name)
        across = abs(state.across(part.id, load.name))
        name = load.name.capitalize()
        running = f"{show(across, 'voltage')}, {amperes(current)}"
        lines.append(f"{name}: {running if abs(current) >= RUNNING_A else 'off'}.")
    return lines


def _volts(circuit: Circuit, part: Part, state: State) -> str:
    """Return the volts at every terminal, against the reference battery's minus."""
    readings = []
    for terminal in body_of(circuit, part).terminals:
        volt = state.volt(part.id, terminal.node)
        text = "floating" if volt is None else f"{volt:.2f} V".replace("-0.00", "0.00")
        name = marking(part, terminal.key) + (f"/{terminal.face}" if terminal.face else "")
        readings.append(f"{name} {text}")
    return ", ".join(readings)
