"""Sizes worked out beside the window; the newest question wins."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from app.aside import Aside
from checks.case import Case
from checks.sizing import Plan, plan_sizes
from checks.sizing.axis import Axis, axis_of
from model.circuit import Circuit


@dataclass(frozen=True, slots=True)
class Planned:
    """A plan, the circuit it was made for, and the axis of every load as it would be."""

    circuit: Circuit
    plan: Plan
    axes: tuple[Axis, ...]


class Planning(Aside):
    """Asks the checks for sizes."""

    def ask(self, circuit: Circuit, loads: frozenset[str]) -> None:
        """Size the ways of these loads, of the whole circuit if none is told."""
        self.begin(partial(_planned, circuit, loads))


def _planned(circuit: Circuit, loads: frozenset[str], go_on: Callable[[], bool]) -> Planned:
    """Return the plan with its axes, all as it would be with the plan taken over."""
    plan = plan_sizes(circuit, loads, go_on)
    case = Case(plan.change.apply(circuit) if plan.change else circuit)
    return Planned(circuit, plan, tuple(axis_of(case, s) for s in plan.loads))
