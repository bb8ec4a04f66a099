"""What the benchmarks check with can fail: a wrong answer is told from a right one."""

import math
import time

import networkx as nx
import numpy as np
import pytest

from model.solver import Solver
from tests.bench import Row, Times
from tests.bench.bench_findings import _within
from tests.bench.changes import agrees, conducting, half_on, longer, same
from tests.bench.circuits import banks, cells
from tests.bench.plain import Plain, PlainSettling, plain_of
from tests.tools import bench


def test_plain_scipy_agrees_with_a_dense_laplacian_of_networkx() -> None:
    graph = nx.random_geometric_graph(30, 0.5, seed=4)
    assert nx.is_connected(graph)
    ends = np.array(graph.edges, np.intp)
    siemens = np.random.default_rng(4).uniform(0.1, 9.0, len(ends))
    for (a, b), s in zip(ends.tolist(), siemens.tolist(), strict=True):
        graph.edges[a, b]["weight"] = s
    edges = np.append(ends, [[0, 29]], axis=0)  # a source of one ampere out of node 29 into 0
    g, j = np.append(siemens, 0.0), np.zeros(len(edges))
    j[-1] = -1.0
    plain = Plain(30, 29, edges[:, 0], edges[:, 1], g, j, np.array([29]))
    grounded = nx.laplacian_matrix(graph, range(30)).toarray()[:29, :29]
    wanted = np.linalg.solve(grounded, np.eye(29)[0])
    assert plain.volts() == pytest.approx(np.append(wanted, 0.0), rel=1e-9)


def test_plain_scipy_and_the_program_settle_alike_and_a_shifted_answer_is_seen() -> None:
    circuit = cells(60)
    solver = Solver(circuit)
    setting = half_on(solver)
    state = solver.settle(setting).state
    now, volts, pulled = PlainSettling(circuit, setting).settle(None, frozenset())
    assert pulled == state.pulled and pulled
    same(state.solved.volts, volts, now.joined())
    wrong = state.solved.volts.copy()
    wrong[int(np.argmax(wrong))] += 1e-6
    with pytest.raises(AssertionError, match="differ"):
        same(wrong, volts, now.joined())


def test_an_edit_changes_what_is_compared() -> None:
    circuit = cells(60)
    solver = Solver(circuit)
    setting = half_on(solver)
    state = solver.settle(setting).state
    wire = max(circuit.wires, key=lambda w: abs(state.current(w)))
    edited = Solver(longer(circuit, wire, 40.0))
    plain = plain_of(solver.network.count, solver.network.reference, conducting(solver, state))
    agrees(state.solved.volts, plain)
    with pytest.raises(AssertionError, match="differ"):
        agrees(edited.solve(setting, state.pulled, state.engine).solved.volts, plain)


def test_circuits_have_the_sizes_that_the_table_names() -> None:
    assert (len(banks(5, 3).parts), len(cells(91).parts)) == (60, 63)
    assert abs(len(cells(1000).wires) - 1000) < 20
    assert abs(len(cells(100).wires) - 100) < 5


def late() -> str:
    time.sleep(5)
    return "late"


def test_what_takes_too_long_is_given_up() -> None:
    assert not _within(0.02, late)
    assert _within(5.0, lambda: "done") == ["done"]


def test_a_row_without_a_limit_only_informs() -> None:
    row = Row("a", "b", Times(9.0, 9.0), Times(1.0, 1.0), limit=math.inf)
    line = bench.rendered([row]).splitlines()[1]
    assert line.endswith("information")
    assert row.is_met
