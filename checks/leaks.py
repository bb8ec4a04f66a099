"""Coils that get some volts through something else than conductors while their feed is off.

A relay lets go at far fewer volts than it pulls in at. What leaks through a lamp, another coil or
electronics is too little to pull it in, and may be enough to hold it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from weakref import WeakKeyDictionary

import numpy as np

from checks.basis import Use
from checks.case import Case
from checks.drops import joined
from checks.flows import LEAST_A
from model.circuit import Circuit
from model.devices import COLD_SHARE
from model.kinds.body import Coil
from model.linear import Bools, Floats, Ints, islands
from model.lookup import number
from model.network import Edge
from model.resistances import load_amps_volts, load_law
from model.solver import Solver
from model.state import CONDUCTORS, State
from model.states import Armature, Memory

MOST_TRIES = 6
NEARLY = 0.93
"""Share of its best that a coil gets by conductors whatever else is on."""
LEAST_SHARE = 0.02
"""Share of the supply below which nothing is held."""
THROUGH = frozenset(("load", "coil", "resistor"))
GUARANTEED = ("must_drop_out_share", 0.10)
"""What a maker promises a relay to let go at, and the usual figure."""


@dataclass(frozen=True, slots=True)
class Leak:
    """What a coil gets while its feed is off.

    Attributes
    ----------
    use : Use
        The coil.
    row : int
        The state of the survey.
    volts : float
        What the coil gets with its armature in.
    stays : bool
        Whether an armature that was in stays in, by its typical drop-out.
    through : tuple of Edge
        The loads that the current comes through, the greatest first.
    hot_v, cold_v : float or None
        The same with every filament on the way hot, and cold; None without a filament.
    """

    use: Use
    row: int
    volts: float
    stays: bool
    through: tuple[Edge, ...]
    hot_v: float | None = None
    cold_v: float | None = None


def leaks(case: Case, uses: Iterable[Use], least_v: Callable[[Use], float]) -> list[Leak]:
    """Return the worst leak of every coil that gets at least so many volts of one.

    Parameters
    ----------
    case
        The circuit, analysed.
    uses
        Coils that hold an armature while they are energised.
    least_v
        Tells the volts from which a leak into a coil counts.
    """
    coils = list(uses)
    if not coils:
        return []
    ends = np.array([(u.a, u.b) for u in coils], np.intp)
    across = np.abs(case.survey.volts[:, ends[:, 0]] - case.survey.volts[:, ends[:, 1]]).T
    some = _suspect(across, _full_v(case), _may_leak(case))
    columns = np.flatnonzero(some.any(axis=1)).tolist()
    for n in columns:
        some[n] &= across[n] >= least_v(coils[n])
    rows = np.flatnonzero(some.any(axis=0))
    if not len(rows):
        return []
    fed, grounded = joined(case.survey, rows)
    found = []
    for n in columns:
        leaking = some[n][rows] & ~_live(coils[n], fed, grounded)
        if leaking.any() and _has_feed(case, coils[n]):
            found.append(_worst(case, coils[n], rows, np.where(leaking, across[n][rows], 0.0)))
    return [leak for leak in found if leak is not None]


_KEPT: WeakKeyDictionary[Case, list[Leak]] = WeakKeyDictionary()


def held_leaks(case: Case) -> list[Leak]:
    """Return the leaks into coils of plain relays that hold them, or may by what is guaranteed."""
    if case not in _KEPT:
        uses = [u for u in case.coils if _holds(case, u)]
        found = leaks(case, uses, lambda use: lets_go_v(case, use, *GUARANTEED))
        _KEPT[case] = [k for k in found if k.volts >= lets_go_v(case, k.use, *GUARANTEED)]
    return _KEPT[case]


def leaks_by(case: Case, use: Use) -> list[Leak]:
    """Return the leaks that come through a load."""
    return [k for k in held_leaks(case) if any(e.owner == use.part.id for e in k.through)]


def _holds(case: Case, use: Use) -> bool:
    """Tell whether a coil is that of a plain relay: in while it is energised."""
    inner = case.network.edges[use.edge].inner
    return isinstance(inner, Coil) and inner.action == "hold"


def _may_leak(case: Case) -> bool:
    """Tell whether any load or coil lies otherwise than between a feed and a ground side."""
    feed, ground = case.could_feed, case.could_ground
    return any(
        (u.a in feed) + (u.b in feed) != 1 or (u.a in ground) + (u.b in ground) != 1
        for u in (*case.loads, *case.coils)
    )


def _suspect(across: Floats, full_v: Floats, may_leak: bool) -> Bools:
    """Tell in which states a coil may get a leak, shape (coils, states).

    Those in which it gets clearly less than at best; and where some load lies so that it may leak
    at nearly no loss, of the others the one with least.
    """
    share = across / np.maximum(full_v, 1e-9)
    some: Bools = share >= LEAST_SHARE
    low: Bools = some & (share < NEARLY * share.max(axis=1, initial=0.0)[:, None])
    if not may_leak:
        return low
    least = np.where(some, share, np.inf)
    found: Bools = low | (some & (least <= least.min(axis=1, initial=np.inf)[:, None]))
    return found


def _full_v(case: Case) -> Floats:
    """Return the greatest voltage of any source, shape (states,)."""
    plus = case.survey.volts[:, [e.a for e in case.sources]]
    found: Floats = plus.max(axis=1, initial=0.0)
    return found


def _live(use: Use, fed: Bools, grounded: Bools) -> Bools:
    """Tell in which states conductors join a coil to both sides."""
    one, other = fed[use.a] & grounded[use.b], fed[use.b] & grounded[use.a]
    found: Bools = one | other
    return found


def _has_feed(case: Case, use: Use) -> bool:
    """Tell whether a coil pulls in by conductors in some state."""
    rows = np.flatnonzero(case.across(use) >= case.pull_in_v(use))
    if not len(rows):
        return False
    rows = rows[:: max(1, len(rows) // 64)]
    return bool(_live(use, *joined(case.survey, rows)).any())


def _worst(case: Case, use: Use, rows: Ints, volts: Floats) -> Leak | None:
    """Return the leak that gives a coil most with its armature in."""
    _, firsts = np.unique(np.round(volts, 2), return_index=True)
    found = [
        leak
        for n in firsts[::-1][:MOST_TRIES].tolist()
        if volts[n] > 0.0 and (leak := _leak(case, use, int(rows[n]))) is not None
    ]
    return max(found, key=lambda k: (k.stays, k.volts), default=None)


def _leak(case: Case, use: Use, row: int) -> Leak | None:
    """Return what a coil gets in a state once it was in, None where only resistors leak."""
    through = _through(case, use, row)
    if not any(e.role != "resistor" for e in through):
        return None
    state, stays = _held(case.survey.solver, case, use, row)
    hot, cold = (_with_filaments(case, use, state, through, s) for s in (1.0, 1.0 / COLD_SHARE))
    return Leak(use, row, _volts(state, use), stays, through, hot, cold)


def _through(case: Case, use: Use, row: int) -> tuple[Edge, ...]:
    """Return what leads current to or from the metal at a coil's ends, past no conductor."""
    net, amps, on = case.network, np.abs(case.survey.amps[row]), case.survey.on[row]
    roles = np.array([e.role in CONDUCTORS for e in net.edges], np.bool_)
    diodes = np.array([e.role == "diode" for e in net.edges], np.bool_)
    piece = islands(net.count, net.a, net.b, roles & on & (~diodes | (amps > LEAST_A)))
    ends = {int(piece[use.a]), int(piece[use.b])}
    return tuple(
        net.edges[i]
        for i in np.argsort(-amps).tolist()
        if net.edges[i].role in THROUGH
        and i != use.edge
        and amps[i] > LEAST_A
        and len({int(piece[net.edges[i].a]), int(piece[net.edges[i].b])} & ends) == 1
        and not _grounded_side(case, piece, net.edges[i], ends)
    )


def _grounded_side(case: Case, piece: Ints, edge: Edge, ends: set[int]) -> bool:
    """Tell whether a load only hangs between the supply and the ground a coil is on too."""
    grounds = {int(piece[n]) for n in case.minuses}
    return bool({int(piece[edge.a]), int(piece[edge.b])} & ends & grounds)


def _held(solver: Solver, case: Case, use: Use, row: int) -> tuple[State, bool]:
    """Return the state with the armature in, and whether it stays so."""
    before = case.survey.states[row]
    mine = _armature(case, use)
    settled = solver.settle(before.setting, Memory(before.pulled | {mine}))
    for state in settled.states:
        if mine in state.pulled:
            return state, True
    cranking = before.supply == "cranking"
    return solver.solve(before.setting, before.pulled | {mine}, before.engine, cranking), False


def _armature(case: Case, use: Use) -> Armature:
    """Return the armature a coil moves."""
    inner = case.network.edges[use.edge].inner
    return (use.part.id, str(getattr(inner, "moves", "")))


def _volts(state: State, use: Use) -> float:
    """Return the volts across a coil in a state."""
    edge = state.network.by_key[(use.part.id, use.element)]
    found = state.network.edges[edge]
    return abs(float(state.solved.volts[found.a] - state.solved.volts[found.b]))


def filament_volts(
    case: Case, use: Use, row: int, through: tuple[Edge, ...]
) -> tuple[float | None, float | None]:
    """Return the volts of a coil in a state with filaments on its way hot, and cold."""
    state = case.survey.states[row]
    hot, cold = (_with_filaments(case, use, state, through, s) for s in (1.0, 1.0 / COLD_SHARE))
    return hot, cold


def _with_filaments(
    case: Case, use: Use, state: State, through: tuple[Edge, ...], share: float
) -> float | None:
    """Return the volts of a coil with filaments at a share of their hot resistance."""
    circuit = case.circuit
    for edge in through:
        circuit = _fixed(circuit, edge, share)
    if circuit is case.circuit:
        return None
    cranking = state.supply == "cranking"
    fixed = Solver(circuit).solve(state.setting, state.pulled, state.engine, cranking)
    return _volts(fixed, use)


def _fixed(circuit: Circuit, edge: Edge, share: float) -> Circuit:
    """Return the circuit with the filament of an edge as a resistance, itself without one."""
    part = circuit.parts[edge.owner]
    prefix = str(getattr(edge.inner, "prefix", ""))
    if edge.role != "load" or load_law(circuit, part, prefix) != "filament":
        return circuit
    amps, volts = load_amps_volts(circuit, part, prefix)
    ratings = {**part.ratings, f"{prefix}resistance_ohm": share * volts / amps}
    return replace(circuit, parts={**circuit.parts, part.id: replace(part, ratings=ratings)})


def lets_go_v(case: Case, use: Use, key: str, usual: float) -> float:
    """Return the volts a coil lets go at, warmed as its circuit: typical or guaranteed share."""
    nominal = number(case.circuit, use.part, "coil_v", case.nominal_v)
    cold = max(number(case.circuit, use.part, "coil_ohm", 90.0), 1e-9)
    hot = case.network.edges[use.edge].ohm / cold
    return number(case.circuit, use.part, key, usual) * nominal * hot
