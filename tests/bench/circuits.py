"""Circuits of any size for the benchmarks: cells of fuse, switch, relays and loads on one bus."""

from __future__ import annotations

from model.circuit import Circuit, End, Part, Wire
from model.wiresize import Size

WIRES_A_CELL = 8


def cells(wires: int, load: str = "heater") -> Circuit:
    """Return a circuit with at least this many wires.

    Each cell is a load behind a relay, its coil behind a switch, both behind fuses of their own;
    ten cells share a bus and a ground point.
    """
    count = max(1, round((wires - 1) / (WIRES_A_CELL + 0.3)))
    return _circuit(count, 1, load)


def banks(switches: int, relays: int, load: str = "lamp") -> Circuit:
    """Return a circuit in which each switch works several relays, each with its load and fuse."""
    return _circuit(switches, relays, load)


def _circuit(count: int, relays: int, load: str) -> Circuit:
    """Return a circuit of so many cells."""
    parts = {"G1": Part("G1", "battery", "G1"), "X0": Part("X0", "ground", "X0")}
    made: list[tuple[str, str, float, float]] = [("X0.g", "G1.-", 50.0, 0.3)]
    for i in range(count):
        group = i // 10
        if i % 10 == 0:
            bus, ground, main = f"B{group}", f"X{group + 1}", f"FM{group}"
            parts[bus] = Part(bus, "bus-bar", bus, ways=20)
            parts[ground] = Part(ground, "ground", ground)
            parts[main] = Part(main, "fuse-strip", main, ratings={"rating_a": 100.0})
            made += [("G1.+", f"{main}.1", 35.0, 0.15), (f"{main}.2", f"{bus}.1", 35.0, 0.5)]
        parts |= _cell_parts(i, relays, load)
        made += _cell_wires(i, relays, bus, ground)
    drawn = {
        f"W{n}": Wire(f"W{n}", f"W{n}", _end(a), _end(b), Size(mm2=mm2), metres, "RD")
        for n, (a, b, mm2, metres) in enumerate(made, 1)
    }
    return Circuit(parts=parts, wires=drawn)


def _end(text: str) -> End:
    """Return an end written as part.terminal."""
    part, terminal = text.split(".")
    return End(part, terminal)


def _names(i: int, relays: int) -> list[str]:
    """Return what tells the relays of a cell and what belongs to them apart."""
    return [str(i), *(f"{i}_{n}" for n in range(2, relays + 1))]


def _cell_parts(i: int, relays: int, load: str) -> dict[str, Part]:
    """Return the parts of one cell."""
    parts = [
        Part(f"FC{i}", "fuse-blade", f"FC{i}", ratings={"rating_a": 3.0}),
        Part(f"S{i}", "switch", f"S{i}"),
    ]
    for k in _names(i, relays):
        parts += [
            Part(f"F{k}", "fuse-blade", f"F{k}", ratings={"rating_a": 15.0}),
            Part(f"K{k}", "relay-resistor", f"K{k}"),
            Part(f"M{k}", load, f"M{k}", ratings={"current_a": 5.0 + i % 4}),
        ]
    return {part.id: part for part in parts}


def _cell_wires(i: int, relays: int, bus: str, ground: str) -> list[tuple[str, str, float, float]]:
    """Return the wires of one cell as (end, end, mm², metres)."""
    way = 2 + i % 10
    wires = [
        (f"{bus}.{way}", f"FC{i}.1", 0.75, 0.2),
        (f"FC{i}.2", f"S{i}.1", 0.75, 1.0),
    ]
    for k in _names(i, relays):
        wires += [
            (f"{bus}.{way}", f"F{k}.1", 2.5, 0.3),
            (f"F{k}.2", f"K{k}.30", 2.5, 0.4),
            (f"K{k}.87", f"M{k}.+", 2.5, 1.0 + 0.1 * (i % 7)),
            (f"M{k}.-", f"{ground}.g", 2.5, 0.5),
            (f"S{i}.2", f"K{k}.86", 0.75, 2.0),
            (f"K{k}.85", f"{ground}.g", 0.75, 0.4),
        ]
    return wires
