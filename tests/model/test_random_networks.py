"""Random networks against networkx, a dense numpy calculation, and scipy's optimisers.

Resistances of networkx are those of `networkx.resistance_distance`. Networks with diodes and
filaments have the volts that make their co-content (the sum of the integrals of current over
voltage) least, so an optimiser that knows nothing of circuits finds them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

import networkx as nx
import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.optimize import lsq_linear, minimize

from model.circuit import Circuit, Part
from model.state import State
from tests.building import BARE, battery, circuit, part, steady
from tests.dense import Branch, solve

SIZES = (4, 12, 40, 130)
"""Numbers of nodes; the last one is past where the solver turns from dense to sparse."""
NEAR = 1e-9
DIODE_V, DIODE_OHM = 0.7, 0.030
POWER, COLD = 0.55, 12.0
"""Of the filament law: the published exponent, and the hot resistance over the cold one."""
KNEE = COLD ** (-1.0 / (1.0 - POWER))
"""Share of the stated voltage below which a filament is cold."""
Floats = NDArray[np.float64]


@dataclass
class Net:
    """A random network: splices X0, X1 … joined by wires that have resistance."""

    rng: np.random.Generator
    size: int
    parts: list[Part] = field(default_factory=list)
    wires: list[str] = field(default_factory=list)
    ohms: dict[str, float] = field(default_factory=dict)
    pairs: list[tuple[int, int, float]] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.parts += [part(f"X{i}", "splice") for i in range(self.size)]
        for i in range(1, self.size):
            self.join(i, int(self.rng.integers(i)))
        for _ in range(self.size):
            a, b = self.rng.choice(self.size, 2, replace=False)
            self.join(int(a), int(b))

    def join(self, a: int, b: int) -> None:
        """Join two nodes by a wire of 10 mΩ to 100 Ω."""
        ohm = float(10.0 ** self.rng.uniform(-2, 2))
        self.wires.append(f"X{a}.s X{b}.s")
        self.ohms[f"W{len(self.wires)}"] = ohm
        self.pairs.append((a, b, ohm))

    def put(self, made: Part, a_key: str, b_key: str, a: int, b: int) -> None:
        """Put a part between two nodes with perfect wires."""
        self.parts.append(made)
        self.wires += [f"{made.id}.{a_key} X{a}.s", f"{made.id}.{b_key} X{b}.s"]

    def two(self) -> tuple[int, int]:
        """Return two different nodes."""
        a, b = self.rng.choice(self.size, 2, replace=False)
        return int(a), int(b)

    def circuit(self) -> Circuit:
        """Return the network as a circuit."""
        return circuit(self.parts, ", ".join(self.wires), self.ohms, constants=BARE)


def volts_of(state: State, size: int) -> Floats:
    """Return the volts at every node."""
    found = [state.volt(f"X{i}", "s") for i in range(size)]
    assert None not in found
    return np.array(found, np.float64)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("seed", range(6))
def test_resistance_between_two_nodes(seed: int, size: int) -> None:
    net = Net(np.random.default_rng([seed, size]), size)
    a, b = net.two()
    net.put(battery(12.0, 0.5), "+", "-", a, b)
    state = steady(net.circuit())
    graph = nx.MultiGraph()
    graph.add_weighted_edges_from(net.pairs, weight="ohm")
    ohm = nx.resistance_distance(graph, a, b, weight="ohm", invert_weight=True)
    seen = state.across("BAT", "cells") / -state.current("BAT", "cells")
    assert seen == pytest.approx(ohm, rel=NEAR)


def sources(net: Net, count: int) -> Iterator[tuple[str, int, int, float, float]]:
    """Put batteries of different voltages between random nodes; some end up side by side."""
    first = net.two()
    for k in range(count):
        a, b = first if k in (0, 1) else net.two()
        volts, ohm = float(net.rng.uniform(6, 28)), float(10.0 ** net.rng.uniform(-3, 0))
        name = "BAT" if k == 0 else f"B{k}"
        net.put(battery(volts, ohm, name), "+", "-", a, b)
        yield name, a, b, volts, ohm


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("seed", range(6))
def test_sources_side_by_side_and_across(seed: int, size: int) -> None:
    net = Net(np.random.default_rng([seed, size, 1]), size)
    put = list(sources(net, 5))
    state = steady(net.circuit())
    plain = [Branch((f"W{k}", ""), ("", str(a)), ("", str(b)), r)
             for k, (a, b, r) in enumerate(net.pairs)]  # fmt: skip
    plain += [Branch((n, ""), ("", str(a)), ("", str(b)), r, v) for n, a, b, v, r in put]
    volts, amperes = solve(plain, ("", str(put[0][2])))
    wanted = np.array([volts["", str(i)] for i in range(size)], np.float64)
    found = volts_of(state, size)
    assert np.abs(found - wanted).max() <= NEAR * np.abs(wanted).max()
    for name, *_ in put:
        assert state.current(name, "cells") == pytest.approx(amperes[name, ""], rel=1e-7)


def test_a_network_that_nothing_joins_to_the_battery_floats() -> None:
    net = Net(np.random.default_rng(7), 12)
    net.put(battery(12.0, 0.1), "+", "-", 0, 1)
    net.parts += [part("Y1", "splice"), part("Y2", "splice"), battery(6.0, 1.0, "B2")]
    net.wires += ["Y1.s B2.+", "Y2.s B2.-", "Y1.s Y2.s"]
    net.ohms[f"W{len(net.wires)}"] = 2.0
    state = steady(net.circuit())
    assert state.volt("Y1", "s") is None
    assert state.volt("X3", "s") is not None
    assert state.current("B2", "cells") == pytest.approx(-2.0, rel=NEAR)


def test_faulty_current_balance_would_be_seen() -> None:
    """Currents into every node sum to zero, and what the battery gives is what wires take."""
    net = Net(np.random.default_rng(11), 40)
    net.put(battery(12.0, 0.2), "+", "-", 3, 9)
    state = steady(net.circuit())
    into = np.zeros(net.size)
    taken = 0.0
    for number, (a, b, ohm) in zip(net.ohms, net.pairs, strict=True):
        amps = state.current(number)
        into[a] -= amps
        into[b] += amps
        taken += amps**2 * ohm
    given = -state.current("BAT", "cells")
    into[3] += given
    into[9] -= given
    assert np.abs(into).max() < 1e-9 * given
    assert taken == pytest.approx(given * state.across("BAT", "cells"), rel=1e-9)


def with_diodes(
    seed: int, size: int, count: int
) -> tuple[Net, list[tuple[int, int]], list[Floats]]:
    """Return a network with diodes, where they are, and rows of its least-squares form."""
    net = Net(np.random.default_rng([seed, size, 2]), size)
    rows: list[Floats] = []

    def row(a: int, b: int, volts: float, ohm: float, slack: int = -1) -> None:
        line = np.zeros(size + count + 1)
        line[a], line[b], line[-1] = 1.0, -1.0, volts
        if slack >= 0:
            line[size + slack] = -1.0
        rows.append(line / np.sqrt(ohm))

    for a, b, ohm in net.pairs:
        row(a, b, 0.0, ohm)
    for _, a, b, volts, ohm in sources(net, 3):
        row(a, b, volts, ohm)
    places = [net.two() for _ in range(count)]
    for k, (a, b) in enumerate(places):
        made = part(f"V{k}", "diode", forward_v=DIODE_V, forward_ohm=DIODE_OHM)
        net.put(made, "A", "K", a, b)
        row(a, b, DIODE_V, DIODE_OHM, k)
    return net, places, rows


@pytest.mark.parametrize(("size", "count"), [(4, 2), (8, 6), (20, 15), (40, 30)])
@pytest.mark.parametrize("seed", range(6))
def test_diodes_against_bounded_least_squares(seed: int, size: int, count: int) -> None:
    """A diode's co-content is the least of (v − 0.7 − t)² / 2R over t ≤ 0: all linear then."""
    net, places, rows = with_diodes(seed, size, count)
    state = steady(net.circuit())
    zero = int(net.wires[len(net.pairs) + 1].split()[1][1:-2])
    table = np.array(rows)
    keep = [i for i in range(size + count) if i != zero]
    top = np.where(np.array(keep) >= size, 0.0, np.inf)
    best = lsq_linear(
        table[:, keep], table[:, -1], (-np.inf, top), method="bvls", tol=1e-15, max_iter=5000
    )
    wanted = np.zeros(size + count)
    wanted[keep] = best.x
    found = volts_of(state, size)
    scale = np.abs(wanted[:size]).max()
    assert np.abs(found - wanted[:size]).max() <= 1e-6 * scale
    for k, (a, b) in enumerate(places):
        amps = max(0.0, (wanted[a] - wanted[b] - DIODE_V) / DIODE_OHM)
        assert state.current(f"V{k}", "junction") == pytest.approx(amps, rel=1e-5, abs=1e-4)


@dataclass(frozen=True)
class CoContent:
    """The function whose least value the volts have: linear branches and lamps.

    `linear` has a row for each branch (its ends, emf, ohms), `lamps` one (its ends, amperes at
    12 V).
    """

    size: int
    linear: Floats
    lamps: Floats

    def __call__(self, x: Floats) -> tuple[float, Floats]:
        """Return the co-content of these volts and its slope."""
        slope = np.zeros(self.size)
        a, b = (self.linear[:, k].astype(int) for k in (0, 1))
        over = x[a] - x[b] - self.linear[:, 2]
        total = float(np.sum(over**2 / self.linear[:, 3])) / 2.0
        self._add(slope, a, b, over / self.linear[:, 3])
        a, b = (self.lamps[:, k].astype(int) for k in (0, 1))
        amps, content = self._lamps((x[a] - x[b]) / 12.0)
        self._add(slope, a, b, amps)
        total += content
        return total, slope

    def _lamps(self, share: Floats) -> tuple[Floats, float]:
        """Return amperes and co-content of the lamps at shares of 12 V."""
        rated, size = self.lamps[:, 2], np.abs(share)
        cold = np.minimum(size, KNEE)
        hot = np.maximum(size, KNEE)
        amps = np.where(size > KNEE, hot**POWER, COLD * cold) * rated * np.sign(share)
        content = COLD * cold**2 / 2.0 + (hot ** (1 + POWER) - KNEE ** (1 + POWER)) / (1 + POWER)
        return amps, float(np.sum(content * 12.0 * rated))

    def _add(self, slope: Floats, a: NDArray[np.int_], b: NDArray[np.int_], amps: Floats) -> None:
        np.add.at(slope, a, amps)
        np.add.at(slope, b, -amps)


@pytest.mark.parametrize("size", [4, 8, 16, 30])
@pytest.mark.parametrize("seed", range(6))
def test_filaments_against_the_least_co_content(seed: int, size: int) -> None:
    """Lamps follow I ∝ V^0.55 (published) down to their cold resistance."""
    net = Net(np.random.default_rng([seed, size, 3]), size)
    linear = [(a, b, 0.0, ohm) for a, b, ohm in net.pairs]
    linear += [put[1:] for put in sources(net, 2)]
    lamps = [(*net.two(), float(net.rng.uniform(0.3, 5.0))) for _ in range(size // 2)]
    for k, (a, b, amps) in enumerate(lamps):
        net.put(part(f"E{k}", "lamp", current_a=amps, at_v=12.0), "+", "-", a, b)
    found = volts_of(steady(net.circuit()), size)
    least = CoContent(size, np.array(linear), np.array(lamps))
    start = net.rng.uniform(0.0, 12.0, size)
    best = minimize(least, start, jac=True, method="BFGS", options={"gtol": 1e-9, "maxiter": 20000})
    wanted = best.x - best.x[linear[len(net.pairs)][1]]
    assert np.abs(found - wanted).max() <= 1e-5
