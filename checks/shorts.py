"""States in which a fuse opens because next to nothing but conductors limits the current.

Such a state lasts no longer than the fuse: its currents say nothing about wires and contacts that
the fuse protects. What shorts, and the fuse that opens, is told by rules of its own.
"""

from __future__ import annotations

import numpy as np

from model.linear import Bools, Floats
from model.survey import Survey

LOST = 0.75
"""Share of the power that conductors take in a short; common practice, no source."""
USERS = frozenset(("load", "coil", "resistor"))


def shorts(survey: Survey) -> Bools:
    """Tell in which states conductors take most of what the sources give, shape (states,)."""
    net = survey.solver.network
    users = [i for i, e in enumerate(net.edges) if e.role in USERS]
    sources = [i for i, e in enumerate(net.edges) if e.role == "source"]
    given, used = -_watts(survey, sources), _watts(survey, users)
    # A source that is charged by another one is a user of it.
    out = np.where(given > 0.0, given, 0.0).sum(axis=0)
    used_all = used.sum(axis=0) - np.where(given < 0.0, given, 0.0).sum(axis=0)
    return np.asarray((out > 1.0) & (used_all < (1.0 - LOST) * out), np.bool_)


def _watts(survey: Survey, edges: list[int]) -> Floats:
    """Return the power each edge takes, shape (edges, states)."""
    net, volts = survey.solver.network, survey.volts.T
    across = volts[net.a[edges]] - volts[net.b[edges]]
    return np.asarray(across * survey.amps.T[edges], np.float64)
