"""Volts and amperes of one set of conductances: linear, with devices iterated."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from model.conducting import Conducting
from model.devices import CHORD_TURNS, LEAK_S, Alternator, Device, Line
from model.errors import StructureError
from model.linear import Factored, Floats, inject, zeros_of

MOST_TURNS = 200
SAME_V = 1e-10
"""Change of a device's voltage, in volts, below which it counts as settled."""
LATE, LATE_V, LATE_A = 60, 1e-7, 1e-9
"""Turns after which what still moves, by so many volts or amperes, is rounding: a contact stated
with no resistance at all leaves few digits."""
CORNER_A = 1e-10
"""Amperes by which two pieces of a law may differ where they meet."""
ROUNDING = 1e-14
"""What such a difference may be as a share of what it is reckoned from."""
DUST = 1e-12
"""Volts and amperes below this are rounding, not physics; dead is shown as 0."""


class NoSolution(StructureError):
    """The devices of a circuit came to no common answer."""


@dataclass(frozen=True, slots=True)
class Solved:
    """Volts at the nodes (against the reference), amperes in the edges from a to b.

    `island` numbers the node's island by what really conducts; `joined` tells which nodes have a
    voltage against the reference at all. `g` and `j` are the lines it was solved with,
    `devices` those edges with a law of their own.
    """

    volts: Floats
    amps: Floats
    on: NDArray[np.bool_]
    joined: NDArray[np.bool_]
    factored: Factored
    g: Floats
    j: Floats
    devices: Mapping[int, Device]


def solve(count: int, reference: int, now: Conducting) -> Solved:
    """Solve a network.

    Parameters
    ----------
    count
        Number of nodes.
    reference
        The node that counts as 0 V.
    now
        What conducts; its lines of devices are set on the way.

    Raises
    ------
    NoSolution
        When diodes and filaments do not settle.

    Notes
    -----
    A network of resistors and diodes with a small leak is strictly monotone: one solution exists,
    and piecewise-linear Newton steps end in it. Should full steps run in a circle, the lowest
    device alone is moved (the least-index rule, which cannot cycle).
    """
    zeros = zeros_of(now.islands(now.on), reference)
    if not now.devices:
        return _finish(count, reference, now, *_linear(count, now, zeros))
    return _iterate(count, reference, now, zeros)


def _iterate(count: int, reference: int, now: Conducting, zeros: NDArray[np.intp]) -> Solved:
    """Move the devices along their laws until nothing moves."""
    order = sorted(now.devices)
    at = {i: now.devices[i].start() for i in order}
    lines = {i: now.devices[i].line(at[i], 0) for i in order}
    seen: set[tuple[int, ...]] = set()
    careful = False
    for turn in range(1, MOST_TURNS):
        _put(now, lines)
        factored, volts = _linear(count, now, zeros)
        found = {i: float(volts[now.a[i]] - volts[now.b[i]]) for i in order}
        wanted = {i: now.devices[i].line(found[i], turn) for i in order}
        if all(_same(lines[i], wanted[i], at[i], found[i], turn) for i in order):
            return _finish(count, reference, now, factored, volts)
        parts = tuple(line.part for line in wanted.values())
        exact = all(w.exact for w in wanted.values())
        careful = careful or (exact and parts in seen)
        seen.add(parts)
        at = found
        wanted = {i: _beside(now.devices[i], lines[i], wanted[i]) for i in order}
        lines = _least(lines, wanted) if careful else wanted
    raise NoSolution(
        "Diodes, lamps and electronics of this circuit come to no common answer: "
        "look for a load stated with no resistance at all."
    )


def _beside(device: Device, line: Line, wanted: Line) -> Line:
    """Return the wanted line, or the piece between: over it a device would jump to and fro."""
    if isinstance(device, Alternator) and abs(wanted.part - line.part) > 1:
        return device.regulating()
    return wanted


def _least(lines: dict[int, Line], wanted: dict[int, Line]) -> dict[int, Line]:
    """Return the lines with only the first device that wants to move moved."""
    for index, line in wanted.items():
        if line.part != lines[index].part or not line.exact:
            return {**lines, index: line}
    return wanted


def _same(old: Line, new: Line, before: float, after: float, turn: int) -> bool:
    """Tell whether a device has settled: the same piece, or a voltage that stays."""
    if new.exact and old.exact:
        return old.part == new.part or _meet(old, new, after)
    step, size = abs(before - after), max(1.0, abs(after))
    if turn > LATE:
        return step <= LATE_V * size or new.g * step <= LATE_A
    return turn > CHORD_TURNS and step <= SAME_V * size


def _meet(old: Line, new: Line, v: float) -> bool:
    """Tell whether two pieces of a law give the same current: the voltage is at the corner.

    There rounding chooses now the one piece, now the other, and either is the answer.
    """
    rounding = CORNER_A + ROUNDING * (abs(old.g * v) + abs(old.j) + abs(new.g * v) + abs(new.j))
    return abs(old.g * v + old.j - new.g * v - new.j) <= rounding


def _put(now: Conducting, lines: dict[int, Line]) -> None:
    """Write the lines of the devices into the edges."""
    for index, line in lines.items():
        now.g[index], now.j[index] = line.g, line.j


def _linear(count: int, now: Conducting, zeros: NDArray[np.intp]) -> tuple[Factored, Floats]:
    """Factor and solve the network as linearised."""
    factored = now.pattern.factor(now.g, zeros)
    return factored, factored.solve(inject(count, now.a, now.b, now.j))


def _finish(
    count: int, reference: int, now: Conducting, factored: Factored, volts: Floats
) -> Solved:
    """Return volts against the reference, amperes, and what really conducts."""
    on = now.on & (np.abs(now.g) > 10 * LEAK_S)
    held = now.islands(on)
    joined = held == held[reference]
    amps = now.g * (volts[now.a] - volts[now.b]) + now.j
    amps[np.abs(amps) < DUST] = 0.0
    above = volts - volts[reference]
    above[np.abs(above) < DUST] = 0.0
    return Solved(above, amps, on, joined, factored, now.g.copy(), now.j.copy(), dict(now.devices))
