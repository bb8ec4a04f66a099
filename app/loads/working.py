"""The load table worked out beside the window; the newest question wins."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from app.aside import Aside
from checks.balance import Balance, balances_of
from checks.case import Case
from checks.energy import Energy, energy_of
from model.batch import Stopped
from model.circuit import Circuit


@dataclass(frozen=True, slots=True)
class Worked:
    """A load table and the circuit it was made of."""

    circuit: Circuit
    energy: Energy
    balances: tuple[Balance, ...] = ()


class Working(Aside):
    """Asks the checks for the load table."""

    def ask(self, circuit: Circuit) -> None:
        """Work out the load table of a circuit."""
        self.begin(partial(_worked, circuit))


def _worked(circuit: Circuit, go_on: Callable[[], bool]) -> Worked:
    case = Case(circuit)
    if not go_on():
        raise Stopped
    energy = energy_of(case)
    if not go_on():
        raise Stopped
    return Worked(circuit, energy, balances_of(circuit))
