"""Columns of a state's contacts, moved from those of a circuit before instead of solved anew.

Where a change moved a few conductances only, the volts for unit current through each contact
follow from those before and from the columns of what moved (Woodbury), which is less work than
solving as many right-hand sides as there are contacts. They are always reckoned from columns that
were solved in full, never from moved ones, so that no error adds up.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from model.linear import Bools, Floats, Ints
from model.state import State

MOST = 8
"""Conductances that may differ; above it everything is solved anew."""
MOST_HELD = 4
"""States whose columns are held."""
FEW = 24
"""Up to this many contacts solving them anew is as good."""


@dataclass(frozen=True, slots=True)
class _Anchor:
    """Columns solved in full, and what conducted when they were."""

    g: Floats
    on: Bools
    joined: Bools
    columns: Floats


def columns_of(state: State, edges: Ints) -> Floats:
    """Return the volts at the nodes for unit current through some edges, against the reference.

    Parameters
    ----------
    state
        A solved state.
    edges
        Indices of the edges, shape (edges,); the same ones for every state of a frame.

    Returns
    -------
    Shape (nodes, edges).
    """
    frame, solved = state.network.frame, state.solved
    if len(edges) <= FEW:
        return _solved(state, edges)
    anchors: dict[object, _Anchor] = frame.latest.setdefault("columns", {})
    key = (state.engine, state.supply, *sorted(state.setting.positions.items()))
    held = anchors.get(key)
    moved = _moved(held, state) if held is not None else None
    if moved is not None:
        return moved
    columns = _solved(state, edges)
    if len(anchors) >= MOST_HELD:
        anchors.clear()
    anchors[key] = _Anchor(solved.g, solved.on, solved.joined, columns)
    return columns


def _solved(state: State, edges: Ints) -> Floats:
    """Return the columns, each solved."""
    net = state.network
    columns = state.solved.factored.between(net.a[edges], net.b[edges])
    return np.asarray(columns - columns[net.reference], np.float64)


def _moved(held: _Anchor, state: State) -> Floats | None:
    """Return the columns as they are now; None where too much is different."""
    solved = state.solved
    if len(held.g) != len(solved.g) or not _same_islands(held, state):
        return None
    edges = np.flatnonzero(held.g != solved.g)
    if len(edges) > MOST:
        return None
    return held.columns if not len(edges) else _pushed(held, state, edges)


def _same_islands(held: _Anchor, state: State) -> bool:
    """Tell whether the same edges conduct, and the same nodes are joined."""
    solved = state.solved
    return bool((held.on == solved.on).all() and (held.joined == solved.joined).all())


def _pushed(held: _Anchor, state: State, edges: Ints) -> Floats:
    """Return the columns after some conductances moved, from the columns of these edges now.

    With A the matrix then, A' that of now, and A' = A + U·D·Uᵀ the conductances that moved:
    A'⁻¹ = A⁻¹ − A'⁻¹U·D·UᵀA⁻¹, and A'⁻¹U are columns of now.
    """
    net = state.network
    by = state.solved.g[edges] - held.g[edges]
    across = held.columns[net.a[edges]] - held.columns[net.b[edges]]
    return np.asarray(held.columns - _solved(state, edges) @ (by[:, None] * across), np.float64)
