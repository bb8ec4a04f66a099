"""Loads and coils as the rules see them, and the volts across all of them in all states."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from model.circuit import Part
from model.kinds.body import Coil, LoadPath
from model.linear import Bools, Floats
from model.lookup import label
from model.network import Edge
from model.survey import Survey

ON_SHARE = 0.60
"""Share of the battery's voltage above which a load counts as on."""
WEAK_SHARE = 0.08
"""Share below which it counts as off; between the two it is weak."""


@dataclass(frozen=True, slots=True)
class Use:
    """A load or coil of a part: its edge and where it is connected."""

    part: Part
    edge: int
    element: str
    a: int
    b: int
    a_node: str
    b_node: str
    draws: str = ""

    @property
    def name(self) -> str:
        """What people call it: the reference, with the element where the part has several."""
        return label(self.part)


def use_of(part: Part, index: int, edge: Edge) -> Use:
    """Return a load or coil as the rules see it."""
    inner = edge.inner
    assert isinstance(inner, Coil | LoadPath)
    draws = inner.draws if isinstance(inner, LoadPath) else "coil"
    return Use(part, index, edge.element, edge.a, edge.b, inner.a, inner.b, draws)


class Driven:
    """The volts across loads and coils in every state.

    Parameters
    ----------
    survey
        The solved states.
    uses
        The loads and coils.
    one_way
        Those of them that work one way round only.
    supply_v
        Stated voltage of the supply.
    """

    def __init__(
        self, survey: Survey, uses: Sequence[Use], one_way: Sequence[Use], supply_v: float
    ) -> None:
        self._survey, self._supply_v = survey, supply_v
        self._rows = {use.edge: row for row, use in enumerate(uses)}
        self._one_way = [self._rows[use.edge] for use in one_way]

    def row(self, use: Use) -> int:
        """Return the row of a load or coil in the arrays."""
        return self._rows[use.edge]

    @cached_property
    def _volts(self) -> Floats:
        edges, volts = list(self._rows), self._survey.volts.T
        network = self._survey.solver.network
        found: Floats = volts[network.a[edges]] - volts[network.b[edges]]
        return found

    @cached_property
    def across(self) -> Floats:
        """Volts across them, whatever their sign, shape (uses, states)."""
        found: Floats = np.abs(self._volts)
        return found

    @cached_property
    def _driving(self) -> Floats:
        """Volts that drive them, 0 or less where they block, shape (uses, states)."""
        if not self._one_way:
            return self.across
        found = self.across.copy()
        found[self._one_way] = self._volts[self._one_way]
        return found

    @cached_property
    def on(self) -> Bools:
        """Which of them are on in which states, shape (uses, states)."""
        found: Bools = self._driving >= ON_SHARE * self._supply_v
        return found

    @cached_property
    def runs(self) -> Bools:
        """Which of them are more than off in which states, shape (uses, states)."""
        found: Bools = self._driving >= WEAK_SHARE * self._supply_v
        return found
