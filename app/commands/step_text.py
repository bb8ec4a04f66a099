"""A step of `operate` as a table to read."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from model.units import show

SHOWN_A = 0.0005
"""Wires and parts with less current than this are left out of the table."""
HEADS = {
    "steady": "",
    "several": "a race: it depends on which relay is first",
    "none": "no steady state: it runs through these states for ever",
}
Data = dict[str, Any]


def step_text(count: int, step: Data) -> str:
    """Return one step as lines."""
    lines = [f"Step {count}: {_asked(step)}"]
    settled = step["settled"]
    if settled == "steady":
        return "\n".join([*lines, *_state(step, "  ")])
    lines.append(f"  {HEADS[settled]}")
    noun, key = ("outcome", "outcomes") if settled == "several" else ("state", "states")
    for number, state in enumerate(step[key], start=1):
        lines += ["", f"  {noun} {number}", *_state(state, "    ")]
    return "\n".join(lines)


def _asked(step: Data) -> str:
    """Return what was set and what is wrong."""
    moved = ", ".join(f"{name} {value}" for name, value in step["set"].items())
    wrong = ", ".join(step["faults"])
    said = moved or ("nothing moved" if wrong else "everything at rest")
    return f"{said} (faults: {wrong})" if wrong else said


def _state(state: Data, indent: str) -> Iterator[str]:
    """Yield the lines of one state."""
    yield f"{indent}engine {state['engine']}, supply {state['supply']}"
    for title, key in (("controls", "positions"), ("relays", "relays")):
        said = [f"{name} {value}" for name, value in state[key].items()]
        if said:
            yield f"{indent}{title:<9} {'   '.join(said)}"
    rows = [
        (name, load["state"], _volts(load["voltage_v"]), _amps(load["current_a"]))
        for name, load in state["loads"].items()
    ]
    yield from _table("loads", rows, indent)
    for title, key in (("wires", "wires"), ("through", "currents")):
        flows = [(n, _amps(a)) for n, a in state[key].items() if abs(a) >= SHOWN_A]
        yield from _columns(title, flows, indent)


def _table(title: str, rows: list[tuple[str, str, str, str]], indent: str) -> Iterator[str]:
    """Yield rows under one title, their columns aligned."""
    wide = max((len(r[0]) for r in rows), default=0)
    for index, (name, state, volts, amps) in enumerate(rows):
        head = title if index == 0 else ""
        yield f"{indent}{head:<9} {name:<{wide}}  {state:<4}  {volts:>10}  {amps:>10}"


def _columns(title: str, flows: list[tuple[str, str]], indent: str) -> Iterator[str]:
    """Yield names and currents, three a line."""
    wide = max((len(name) for name, _ in flows), default=0)
    for start in range(0, len(flows), 3):
        head = title if start == 0 else ""
        cells = [f"{name:<{wide}} {amps:>10}" for name, amps in flows[start : start + 3]]
        yield f"{indent}{head:<9} {'    '.join(cells)}".rstrip()


def _volts(value: float) -> str:
    return show(value, "voltage", digits=4)


def _amps(value: float) -> str:
    return show(value, "current", digits=4)
