"""What battery and alternator give at rest, while charging and while cranking, each by itself.

For each supply the circuit is solved anew, as loads draw more at the charging voltage and less
while a starter pulls the battery down. At rest the engine stands and the battery gives all; while
charging it runs, and what the alternator has left charges the battery; while cranking the starter
draws beside what is on, or, where none is drawn, the battery is as low as one pulls it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np

from checks.case import Case, Use
from checks.energy import Energy, energy_of
from checks.feeds import is_battery
from model.circuit import Circuit
from model.linear import Bools
from model.states import Setting

SUPPLIES = ("resting", "charging", "cranking")
LEAST_A = 1e-3


@dataclass(frozen=True, slots=True)
class Balance:
    """Who gives what in one case.

    Attributes
    ----------
    supply, case
        resting, charging or cranking; rest (every control at rest) or most (the state in which
        the loads draw most together).
    setting
        The state.
    loads_a, starter_a
        What the loads and coils draw together, and a starter's motor beside them.
    average_a
        What the loads of that state take on average, by the share of time that each is used.
    battery_a
        What the batteries give; below 0 they are charged.
    alternator_a
        What the alternators give, their own field windings left out.
    battery_v
        Volts at the terminals of the battery that the circuit is measured against.
    idle_left_a, rated_left_a
        What is left for the battery of what the alternators may give at idle, and are rated,
        less the average; below 0 the battery is drained. None without an alternator that turns.
    lasts_h
        Hours until the batteries are at half their charge: by what they give (rest, cranking),
        or by what is short on average at idle (charging); infinite where nothing is short, or
        where what charges the battery or cranks the engine is not drawn.
    """

    supply: str
    case: str
    setting: Setting
    loads_a: float
    starter_a: float
    average_a: float
    battery_a: float
    alternator_a: float
    battery_v: float
    idle_left_a: float | None
    rated_left_a: float | None
    lasts_h: float


def balances_of(circuit: Circuit, used: Mapping[str, float] | None = None) -> tuple[Balance, ...]:
    """Return who gives what at rest, with most on, while charging and while cranking.

    Parameters
    ----------
    circuit
        The circuit; its own supply does not matter here.
    used
        Shares of time by id of a load's part, 0 to 1, instead of what the part states.

    Returns
    -------
    tuple of Balance
        Those cases that the circuit can be in; none without a battery or a load.
    """
    if not any(p.kind == "battery" for p in circuit.parts.values()):
        return ()
    return tuple(b for supply in SUPPLIES for b in _under(circuit, supply, used))


def _under(circuit: Circuit, supply: str, used: Mapping[str, float] | None) -> Iterator[Balance]:
    """Yield the cases of one supply."""
    conditions = replace(circuit.settings.conditions, supply=supply)
    case = Case(replace(circuit, settings=replace(circuit.settings, conditions=conditions)))
    energy, looked = energy_of(case, used), _Looked(case)
    rows: list[tuple[str, Bools]]
    if supply == "resting":
        yield looked.balance(supply, "rest", 0, energy)
        rows = [("most", looked.still & ~case.cranking & ~case.cleared)]
    elif supply == "charging":
        turning = looked.turning if looked.turning.any() else ~case.cranking
        rows = [("most", turning & ~case.cranking & ~case.cleared)]
    else:
        still = looked.still & ~case.cleared
        rows = [("most", case.cranking if case.cranking.any() else still)]
    for name, fits in rows:
        if fits.any():
            row = int(np.where(fits, looked.loads, -1.0).argmax())
            if looked.loads[row] > LEAST_A or case.cranking[row]:
                yield looked.balance(supply, name, row, energy)


class _Looked:
    """The solved states of a case, with what loads, starters and sources carry in each."""

    def __init__(self, case: Case) -> None:
        self.case = case
        survey, uses = case.survey, [*case.loads, *case.coils]
        self._uses = [u for u in uses if u.draws != "starter"]
        self._starters = [u.edge for u in uses if u.draws == "starter"]
        self.loads = np.abs(survey.amps[:, [u.edge for u in self._uses]]).sum(axis=1)
        sources = [(i, e) for i, e in case.network.of_role("source")]
        self._batteries = [i for i, e in sources if is_battery(e) and e.b in case.always_ground]
        self._batteries = self._batteries or [i for i, e in sources if is_battery(e)]
        self._alternators = [i for i, e in sources if not is_battery(e)]
        owners = {e.owner for _, e in sources if not is_battery(e)}
        self._fields = [i for i, e in case.network.of_role("resistor") if e.owner in owners]
        self.still = np.array([s.engine != "running" for s in survey.settings])
        # Whoever states that it charges means that what charges it turns.
        gives = np.abs(survey.amps[:, self._alternators]).sum(axis=1) > LEAST_A
        self.turning = np.asarray(gives | ~self.still, np.bool_)

    def balance(self, supply: str, name: str, row: int, energy: Energy) -> Balance:
        """Return who gives what in a state."""
        amps = self.case.survey.amps[row]
        loads = float(self.loads[row])
        average = sum(float(abs(amps[u.edge])) * _share(energy, u) for u in self._uses)
        gives = -float(amps[self._batteries].sum())
        turns = supply == "charging" and energy.rated_a > 0.0
        idle = energy.idle_a - average if turns else None
        starter = float(np.abs(amps[self._starters]).sum())
        short = -idle if idle is not None else gives
        # What charges without an alternator, or cranks without a starter, is not drawn.
        if (supply == "charging" and idle is None) or (supply == "cranking" and not starter):
            short = 0.0
        return Balance(
            supply,
            name,
            self.case.survey.settings[row],
            loads,
            starter,
            average,
            gives,
            -float(amps[self._alternators].sum()) - float(np.abs(amps[self._fields]).sum()),
            float(self.case.survey.across(self._batteries[0])[row]) if self._batteries else 0.0,
            idle,
            energy.rated_a - average if turns else None,
            energy.lasts_h(short) if short > LEAST_A else float("inf"),
        )


def _share(energy: Energy, use: Use) -> float:
    """Return the share of time that a load or coil is used."""
    coil = use.draws == "coil"
    for row in energy.rows:
        if row.part == use.part.id and row.coil == coil and row.element in ("", use.element):
            return row.use
    return 1.0
