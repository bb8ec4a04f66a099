"""The edges of a network as they conduct in one state."""

from __future__ import annotations

from dataclasses import dataclass

from model.devices import Behind, Device
from model.linear import Bools, Floats, Ints, Islands, Pattern, islands


@dataclass(slots=True)
class Conducting:
    """Edges as they conduct now, the network's own first, then those that faults add.

    `g`, `j` are the line of each edge, `on` tells which conduct at all; `devices` those with a
    law of their own, by edge. `pattern` places them in the matrix, `joints` tells islands.
    """

    pattern: Pattern
    g: Floats
    j: Floats
    on: Bools
    devices: dict[int, Device]
    joints: Islands

    @property
    def a(self) -> Ints:
        """The first nodes of the edges."""
        return self.pattern.a

    @property
    def b(self) -> Ints:
        """The second nodes of the edges."""
        return self.pattern.b

    def islands(self, on: Bools) -> Ints:
        """Return the island of each node when these edges conduct."""
        try:
            return self.joints.of(on)
        except ValueError:  # a fault opened something that never opens
            return islands(self.pattern.count, self.a, self.b, on)


def open_edge(out: Conducting, index: int) -> None:
    """Take an edge out."""
    out.g[index], out.j[index], out.on[index] = 0.0, 0.0, False
    out.devices.pop(index, None)


def add_ohm(out: Conducting, index: int, ohm: float) -> None:
    """Add resistance in series with an edge or a device."""
    device = out.devices.get(index)
    if device is not None:
        out.devices[index] = Behind(device, ohm)
        return
    less = 1.0 + out.g[index] * ohm
    out.g[index], out.j[index] = out.g[index] / less, out.j[index] / less
