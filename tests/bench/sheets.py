"""A circuit of 1,000 wires and 500 parts for the benchmarks of the sheet."""

from __future__ import annotations

from model.circuit import Circuit, End, Part, Sheet, Wire
from model.wiresize import Size

CELLS = 9
"""Cells of a group: a relay with its fuse, switch, control fuse and load."""
WAYS = 20
SMALL, LARGE = Size(mm2=0.75), Size(mm2=2.5)


def board(groups: int = 10) -> Circuit:
    """Return a circuit of so many groups, 100 wires and 50 parts each, all on one sheet.

    Every group has a fuse and a bus-bar of its own, a ground point, and a connector of 20 ways at
    which all its switches, relays and loads are measured: the part with 20 wires.
    """
    return _Board().make(groups)


def busiest(circuit: Circuit) -> str:
    """Return the connector of the middle group."""
    found = [p.id for p in circuit.parts.values() if p.kind == "connector"]
    return found[len(found) // 2]


class _Board:
    """Adds parts and wires."""

    def __init__(self) -> None:
        self.parts: dict[str, Part] = {}
        self.wires: dict[str, Wire] = {}

    def make(self, groups: int) -> Circuit:
        """Return the circuit."""
        self.part("G1", "battery")
        self.part("X0", "ground")
        self.wire("G1.-", "X0.g", LARGE)
        for group in range(1, groups + 1):
            self.group(group)
        return Circuit(parts=self.parts, wires=self.wires, sheets={"s1": Sheet("s1", "Sheet 1")})

    def group(self, group: int) -> None:
        """Add a group."""
        self.part(f"FM{group}", "fuse-strip")
        self.part(f"B{group}", "bus-bar", WAYS)
        self.part(f"X{group}", "ground")
        self.part(f"J{group}", "connector", WAYS)
        self.wire("G1.+", f"FM{group}.1", LARGE)
        self.wire(f"FM{group}.2", f"B{group}.1", LARGE)
        for cell in range(CELLS):
            self.cell(group, cell)
        self.wire(f"B{group}.{WAYS}", f"J{group}.{WAYS}/a", SMALL)
        self.wire(f"J{group}.{WAYS - 1}/a", f"X{group}.g", SMALL)

    def cell(self, group: int, cell: int) -> None:
        """Add a cell, measured at two ways of the group's connector."""
        n, way = f"{group}{cell}", 2 * cell + 1
        for name, kind in (
            ("FC", "fuse-blade"), ("S", "switch"), ("F", "fuse-blade"), ("K", "relay-resistor"),
            ("M", "heater"),
        ):  # fmt: skip
            self.part(f"{name}{n}", kind)
        bus, ground, plug = f"B{group}.{cell + 2}", f"X{group}.g", f"J{group}"
        for first, second, size in (
            (bus, f"FC{n}.1", SMALL), (f"FC{n}.2", f"S{n}.1", SMALL), (bus, f"F{n}.1", LARGE),
            (f"F{n}.2", f"K{n}.30", LARGE), (f"K{n}.87", f"M{n}.+", LARGE),
            (f"M{n}.-", ground, LARGE), (f"S{n}.2", f"K{n}.86", SMALL), (f"K{n}.85", ground, SMALL),
            (f"S{n}.2", f"{plug}.{way}/a", SMALL), (f"K{n}.87", f"{plug}.{way + 1}/a", SMALL),
        ):  # fmt: skip
            self.wire(first, second, size)

    def part(self, key: str, kind: str, ways: int = 0) -> None:
        """Add a part."""
        self.parts[key] = Part(key, kind, key, ways=ways)

    def wire(self, first: str, second: str, size: Size) -> None:
        """Add a wire between two ends written as part.terminal/face."""
        key = f"w{len(self.wires) + 1}"
        self.wires[key] = Wire(key, f"{len(self.wires) + 1}", _end(first), _end(second), size, 1.0)


def _end(text: str) -> End:
    part, _, terminal = text.partition(".")
    key, _, face = terminal.partition("/")
    return End(part, key, face)
