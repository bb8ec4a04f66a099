"""Resistances and sources solved by one dense modified nodal matrix: slow, plain, apart."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Node = tuple[str, str]
Key = tuple[str, str]
Array = npt.NDArray[np.float64]


@dataclass(frozen=True)
class Branch:
    """One two-ended thing: volts of a over b = emf + ohm × the current from a to b.

    `valve` is "" for a plain one, "diode" for one that passes current from a to b only,
    "source" for one that delivers current at a only.
    """

    key: Key
    a: Node
    b: Node
    ohm: float
    emf: float = 0.0
    valve: str = ""


def solve(
    branches: list[Branch], reference: Node
) -> tuple[dict[Node, float | None], dict[Key, float]]:
    """Solve a network of resistances and sources by a dense modified nodal matrix.

    Parameters
    ----------
    branches
        What conducts; a resistance of 0 is a joint or an ideal source.
    reference
        The node of 0 V.

    Returns
    -------
    volts, amperes
        Volts by node, None where nothing joins the node to the reference; amperes from a to b
        by key.
    """
    nodes = list(dict.fromkeys(n for b in branches for n in (b.a, b.b)))
    index = {n: i for i, n in enumerate(nodes)}
    islands = _islands(branches, nodes)
    pins = {islands[n]: n for n in nodes} | {islands.get(reference, reference): reference}
    matrix, right = _matrix(branches, index)
    for row in (index[n] for n in pins.values() if n in index):
        matrix[row] = 0.0
        matrix[row, row] = 1.0
    found = np.linalg.solve(matrix, right)
    home = islands.get(reference)
    volts = {n: float(found[i]) if islands[n] == home else None for n, i in index.items()}
    amperes = {b.key: float(found[len(nodes) + k]) for k, b in enumerate(branches)}
    return volts, amperes


def _matrix(branches: list[Branch], index: Mapping[Node, int]) -> tuple[Array, Array]:
    """Return the equations: currents leaving a node sum to 0; across = emf + ohm × current."""
    size = len(index) + len(branches)
    matrix, right = np.zeros((size, size)), np.zeros(size)
    for k, branch in enumerate(branches, start=len(index)):
        a, b = index[branch.a], index[branch.b]
        matrix[a, k] += 1.0
        matrix[b, k] -= 1.0
        matrix[k, a] += 1.0
        matrix[k, b] -= 1.0
        matrix[k, k], right[k] = -branch.ohm, branch.emf
    return matrix, right


def _islands(branches: list[Branch], nodes: list[Node]) -> dict[Node, Node]:
    """Return for every node the node that stands for all those joined to it."""
    chief = {n: n for n in nodes}

    def find(node: Node) -> Node:
        while chief[node] != node:
            node = chief[node]
        return node

    for branch in branches:
        chief[find(branch.a)] = find(branch.b)
    return {n: find(n) for n in nodes}
