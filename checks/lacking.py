"""Which loads may get too little, and in which states."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

import numpy as np

from checks.case import Case, Use
from checks.drops import Bools, joined
from model.linear import Floats
from model.tables.practice import drop_limit

OFF_V = 0.05
"""Volts below which a load is off."""


@dataclass(frozen=True, slots=True)
class Load:
    """A load with its limits: the volts it may lose, and those it works from.

    `anyhow` tells that the latter count while a starter cranks too.
    """

    use: Use
    share: float
    source: str
    working_v: float
    anyhow: bool


@dataclass(frozen=True, slots=True)
class Lacking:
    """All loads in all states: volts across them, states in which they may lack some.

    Arrays are of shape (loads, states); `greatest` is the greatest voltage between any plus and
    any minus, `cranking` tells in which states a starter's supply applies, both (states,).
    """

    loads: list[Load]
    across: Floats
    rows: Bools
    greatest: Floats
    cranking: Bools


def lacking_of(case: Case) -> Lacking:
    """Return which loads may get too little, and in which states.

    First the limits alone, against the greatest voltage any source could give; then only states
    in which conductors join both ends.
    """
    loads = [_load(case, use) for use in case.loads]
    volts, greatest = case.survey.volts.T, _greatest_v(case)
    a, b = ([getattr(x.use, end) for x in loads] for end in "ab")
    across = np.abs(volts[a] - volts[b])
    shares = np.array([x.share for x in loads]) * case.nominal_v
    working = np.array([x.working_v for x in loads])
    lacking = (greatest - across > shares[:, None]) | (across < working[:, None])
    lacking &= across > OFF_V
    _keep_live(case, lacking, (a, b), _first(lacking, greatest - across, across, working))
    cranking = np.array([s == "cranking" for s in case.survey.supplies], np.bool_)
    return Lacking(loads, across, lacking, greatest, cranking)


def _first(lacking: Bools, lost: Floats, across: Floats, working: Floats) -> Bools:
    """Tell which states are looked at first: most lost, and least left where that is too little."""
    first = np.zeros_like(lacking)
    each = np.arange(len(lacking))
    if lacking.size:
        first[each, np.where(lacking, lost, -np.inf).argmax(axis=1)] = True
        short = lacking & (across < working[:, None])
        first[each, np.where(short, across, np.inf).argmin(axis=1)] |= short.any(axis=1)
    found: Bools = first & lacking
    return found


def _keep_live(case: Case, lacking: Bools, ends: tuple[list[int], list[int]], first: Bools) -> None:
    """Keep the states in which one end of a load is fed and the other grounded.

    Where that is so in the states looked at first, the others are not asked.
    """
    for wanted in (first, lacking):
        some = np.flatnonzero(wanted.any(axis=0))
        if not len(some):
            return
        (a, b), (fed, grounded) = ends, joined(case.survey, some)
        live = (fed[a] & grounded[b] & ~grounded[a]) | (fed[b] & grounded[a] & ~grounded[b])
        if wanted is first and (live | ~first[:, some]).all():
            return
    lacking[:, some] &= live


def _load(case: Case, use: Use) -> Load:
    """Return a load with its limits."""
    make = partial(_limited, case, use)
    return case.network.frame.kept("drop limits", use.edge, (use,), make)


def _limited(case: Case, use: Use) -> Load:
    """Return a load with its limits, reckoned anew."""
    share, source = _limit(case, use)
    rated = case.rating(use.part, _prefix(case, use) + "working_v")
    needed = use.draws == "starter" or case.duty(use).keeps_engine
    return Load(use, share, source, rated.number or 0.0, bool(needed and rated.origin == "part"))


def _greatest_v(case: Case) -> Floats:
    """Return the greatest voltage between any plus and any minus, shape (states,)."""
    volts = case.survey.volts
    plus = volts[:, [e.a for e in case.sources]]
    minus = volts[:, [e.b for e in case.sources]]
    # The reference minus is at 0 V, so 0 is the start; a circuit may have no source yet.
    found: Floats = plus.max(axis=1, initial=0.0) - minus.min(axis=1, initial=0.0)
    return found


def _prefix(case: Case, use: Use) -> str:
    """Return what the names of a load's ratings begin with."""
    return str(getattr(case.network.edges[use.edge].inner, "prefix", ""))


def _limit(case: Case, use: Use) -> tuple[float, str]:
    """Return the share of nominal a load may lose, and where that is from."""
    duty = "critical" if case.duty(use).critical else "ordinary"
    own: float | None = getattr(case.circuit.settings.constants, f"{duty}_drop_share")
    if own is not None:
        return own, "limit of this circuit, supplied by the user"
    table = drop_limit(duty)
    return table.share or 0.1, table.source
