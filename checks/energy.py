"""What loads draw from battery and alternator: the load table, and how long a battery lasts.

Currents are those of the solved states. What a load takes on average is its running current times
the share of time that it is in use, a rating of its part or told for once; where neither is, it
counts as used all the time, the careful side. Whether an alternator covers it at idle is left to
its maker's curve: an alternator gives its rated current at speed only.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from checks.case import Case, Use
from checks.feeds import is_battery
from checks.sizing.rests import OF_LOADS
from model.circuit import Part
from model.linear import Bools
from model.lookup import number, rating
from model.states import Setting

HALF = 0.5
"""Share of a starter battery's charge after which it may not start the engine any more; common
practice, no source."""
IDLE_SHARE = 0.5
"""Share of its rated current that an alternator gives at idle; common practice, no source: a third
to a half by make and pulley."""
LEAST_A = 1e-3


@dataclass(frozen=True, slots=True)
class Row:
    """One load or coil.

    Attributes
    ----------
    part, element
        Id of its part, and which of several loads in it, "" where it is the only one.
    coil
        Whether it is a relay's coil.
    runs_a, starts_a, starts_s
        Its greatest running current, and its current while it starts and for how long (0 s:
        none beyond running).
    rests_a
        Its current with every control at rest and the engine stopped.
    use, use_key, use_told
        Share of time that it is used, 0 to 1, the rating of its part that holds it, and whether
        it is stated there or told.
    assumed
        Names of what is not stated of it and taken as usual.
    """

    part: str
    element: str
    coil: bool
    runs_a: float
    starts_a: float
    starts_s: float
    rests_a: float
    use: float
    assumed: tuple[str, ...] = ()
    use_key: str = "use_share"
    use_told: bool = False

    @property
    def average_a(self) -> float:
        """What it takes on average in amperes."""
        return self.runs_a * self.use


@dataclass(frozen=True, slots=True)
class Scenario:
    """What all loads draw together in one case; `setting` is the state, None for averages."""

    name: str
    amps: float
    setting: Setting | None = None


@dataclass(frozen=True, slots=True)
class Energy:
    """The load table with what supplies it.

    Attributes
    ----------
    rows
        Loads, then coils, in file order; those that never draw are left out.
    scenarios
        rest, most (the state in which most is drawn together), use (averages, where a share of
        time was told), start (the state in which a starter draws most), as far as there are such.
    capacity_ah, spare_ah, capacity_assumed
        Of the batteries that stand on the ground side (what is in series with one adds volts, not
        charge), what they hold above half of it, and whether one of them is not stated.
    rated_a, rated_assumed
        Of all alternators together, 0 without one, and whether one of them is not stated.
    """

    rows: tuple[Row, ...]
    scenarios: tuple[Scenario, ...]
    capacity_ah: float
    spare_ah: float
    capacity_assumed: bool
    rated_a: float
    rated_assumed: bool

    @property
    def idle_a(self) -> float:
        """What the alternators may be taken to give at idle."""
        return IDLE_SHARE * self.rated_a

    def lasts_h(self, amps: float) -> float:
        """Return the hours in which a current takes the batteries down to half their charge."""
        return self.spare_ah / amps if amps > 0.0 else float("inf")

    def scenario(self, name: str) -> Scenario | None:
        """Return a scenario by its name, None where the circuit has no such."""
        return next((s for s in self.scenarios if s.name == name), None)


def energy_of(case: Case, used: Mapping[str, float] | None = None) -> Energy:
    """Return the load table of a circuit.

    Parameters
    ----------
    case
        The circuit, analysed.
    used
        Shares of time by id of a load's part, 0 to 1, instead of what the part states.
    """
    shares = used or {}
    calm = ~case.cranking & ~case.cleared
    rows = [
        _row(case, use, calm, coil, shares)
        for uses, coil in ((case.loads, False), (case.coils, True))
        for use in uses
        if use.draws != "starter"
    ]
    kept = tuple(r for r in rows if r.runs_a > LEAST_A)
    batteries = _batteries(case)
    alternators = [p for p in case.circuit.parts.values() if p.kind == "alternator"]
    return Energy(
        kept,
        tuple(_scenarios(case, calm, kept if any(r.use_told for r in kept) else ())),
        sum(number(case.circuit, p, "capacity_ah") for p in batteries),
        sum(_spare_ah(case, p) for p in batteries),
        _assumes(case, batteries, "capacity_ah"),
        sum(number(case.circuit, p, "limit_a") for p in alternators),
        _assumes(case, alternators, "limit_a"),
    )


def _row(case: Case, use: Use, calm: Bools, coil: bool, shares: Mapping[str, float]) -> Row:
    """Return one load or coil."""
    amps = np.abs(case.survey.amps[:, use.edge])
    runs = float((amps * calm).max(initial=0.0))
    prefix = str(getattr(case.network.edges[use.edge].inner, "prefix", ""))
    times = 1.0 if coil else number(case.circuit, use.part, f"{prefix}start_multiple", 1.0)
    lasts = 0.0 if coil else number(case.circuit, use.part, f"{prefix}start_s", 0.0)
    starts = times > 1.0 and lasts > 0.0
    use_key = "coil_use_share" if coil else f"{prefix}use_share"
    share = shares.get(use.part.id, number(case.circuit, use.part, use_key, 1.0))
    several = sum(u.part.id == use.part.id for u in (case.coils if coil else case.loads)) > 1
    return Row(
        use.part.id,
        use.element if several else "",
        coil,
        runs,
        runs * times if starts else runs,
        lasts if starts else 0.0,
        float(amps[0]),
        min(max(share, 0.0), 1.0),
        tuple(_assumed(case, use, coil, starts)),
        use_key,
        use.part.id in shares or use.part.ratings.get(use_key) is not None,
    )


def _assumed(case: Case, use: Use, coil: bool, starts: bool) -> list[str]:
    """Return the names of ratings that are not stated."""
    if coil:
        return []
    keys = [k for k in OF_LOADS if starts or k != "start_multiple"]
    fixed = use.part.ratings.get("resistance_ohm") is not None
    return [
        OF_LOADS[k]
        for k in keys
        if rating(case.circuit, use.part, k).origin == "default"
        and not (fixed and k == "current_a")
    ]


def _scenarios(case: Case, calm: Bools, rows: tuple[Row, ...]) -> list[Scenario]:
    """Return what all loads draw together at rest, at most, on average, and in starting."""
    users = [u.edge for u in (*case.loads, *case.coils)]
    together = np.abs(case.survey.amps[:, users]).sum(axis=1)
    found = [Scenario("rest", float(together[0]), case.survey.settings[0])]
    if calm.any():
        row = int(np.where(calm, together, -1.0).argmax())
        found.append(Scenario("most", float(together[row]), case.survey.settings[row]))
    if rows:
        found.append(Scenario("use", sum(r.average_a for r in rows)))
    if case.cranking.any():
        row = int(np.where(case.cranking, together, -1.0).argmax())
        found.append(Scenario("start", float(together[row]), case.survey.settings[row]))
    return found


def _batteries(case: Case) -> list[Part]:
    """Return the batteries whose minus is on the ground side, all of them where none is."""
    all_of = [(e, case.circuit.parts[e.owner]) for e in case.sources if is_battery(e)]
    standing = [part for edge, part in all_of if edge.b in case.always_ground]
    return standing or [part for _, part in all_of]


def _spare_ah(case: Case, battery: Part) -> float:
    """Return what a battery holds above half its charge."""
    charge = number(case.circuit, battery, "charge", 1.0)
    return number(case.circuit, battery, "capacity_ah") * max(charge - HALF, 0.0)


def _assumes(case: Case, parts: list[Part], key: str) -> bool:
    """Tell whether a rating of one of some parts is not stated."""
    return any(rating(case.circuit, p, key).origin == "default" for p in parts)
