"""Greatest currents of a circuit, with those that flow only while a starter draws kept apart."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import networkx as nx
import numpy as np
from numpy.typing import NDArray

from model.kinds.body import LoadPath, SourcePath
from model.linear import Floats
from model.network import Edge, Network
from model.solver import STARTER_DRAWS_A
from model.state import CONDUCTORS
from model.survey import Survey


@dataclass(frozen=True, slots=True)
class Peaks:
    """The greatest amperes in every edge, shape (edges,), and the state (row) that has them."""

    amps: Floats
    rows: NDArray[np.intp]


def cranking(survey: Survey) -> NDArray[np.bool_]:
    """Tell in which states a starter's motor draws current, shape (states,)."""
    starters = [i for i, e in survey.solver.network.of_role("load") if is_starter(e)]
    draws: NDArray[np.bool_] = np.abs(survey.amps[:, starters]) > STARTER_DRAWS_A
    found: NDArray[np.bool_] = np.logical_or.reduce(draws, axis=1)
    return found


def is_starter(edge: Edge) -> bool:
    """Tell whether an edge is the motor of a starter."""
    return isinstance(edge.inner, LoadPath) and edge.inner.draws == "starter"


def peaks_of(survey: Survey, wanted: NDArray[np.bool_]) -> Peaks:
    """Return the greatest currents over the wanted states; 0 where there are none of them.

    Parameters
    ----------
    survey
        The solved states.
    wanted
        Which of them count, shape (states,).
    """
    edges = survey.amps.shape[1]
    places = np.flatnonzero(wanted)
    if not len(places):
        return Peaks(np.zeros(edges), np.zeros(edges, np.intp))
    amps = survey.amps if len(places) == len(wanted) else survey.amps[places]
    high, low = amps.argmax(axis=0), amps.argmin(axis=0)
    each = np.arange(edges)
    most = np.where(amps[high, each] >= -amps[low, each], high, low)
    return Peaks(np.abs(amps[most, each]), places[most])


def starter_cables(network: Network) -> frozenset[str]:
    """Return the ids of the wires on the way of least resistance from batteries to starters."""
    motors = [e.a for _, e in network.of_role("load") if is_starter(e)]
    if not motors:
        return frozenset()
    graph = _least_ohms(network)
    found: set[str] = set()
    for motor in motors:
        for _, source in network.of_role("source"):
            if _is_battery(source) and nx.has_path(graph, source.a, motor):
                way = nx.shortest_path(graph, source.a, motor, weight="ohm")
                found.update(graph[u][v]["wire"] for u, v in pairwise(way))
    return frozenset(found - {""})


def _is_battery(edge: Edge) -> bool:
    """Tell whether a source is a battery; an alternator cranks nothing."""
    return isinstance(edge.inner, SourcePath) and edge.inner.source == "battery"


def _least_ohms(network: Network) -> nx.Graph[int]:
    """Return the conductors as a plain graph, the best one of several side by side."""
    graph: nx.Graph[int] = nx.Graph()
    for index in range(network.count):
        graph.add_node(index)
    for edge in network.edges:
        if edge.role not in CONDUCTORS or edge.role in ("ground", "diode"):
            continue
        held = graph.get_edge_data(edge.a, edge.b)
        if held is None or edge.ohm < held["ohm"]:
            name = edge.owner if edge.role == "wire" else ""
            graph.add_edge(edge.a, edge.b, ohm=edge.ohm, wire=name)
    return graph
