"""Findings after one change, one supply condition, against one frame of the screen.

A wire's length is set as a person sets it and the three families that are repainted with the
sheet are found anew: continuity, ground path, rating. All rules together have a second.
"""

from __future__ import annotations

import math
import signal
from collections.abc import Callable
from functools import partial
from itertools import cycle
from typing import NoReturn, TypeVar

from checks.run import Report, check
from model.circuit import Circuit
from model.edits import delete
from model.solver import Solver
from model.survey import Survey
from tests.bench import FRAME_S, Row, Times, compare, seconds
from tests.bench.changes import longer, same
from tests.bench.circuits import cells
from tests.bench.plain import PlainSettling, plain_of

FAMILIES = ("continuity", "ground path", "rating")
FRAME = "one frame, 16.7 ms"
SECOND_S = 1.0
GIVE_UP_S = 20.0
LONG_M = 60.0
"""Metres of a feed of 2.5 mm² that no load of 5 A and more bears without a voltage drop."""
Found = TypeVar("Found")
Place = tuple[str, str, tuple[str, ...], tuple[str, ...]]


def table() -> list[Row]:
    """Return the rows."""
    small, large = cells(100), cells(1000)
    return [
        _frames(small, "100 wires", frames=1, rounds=20),
        _frames(large, "1,000 wires", frames=3, rounds=3),
        _solves(small, "100 wires", rounds=20),
        _solves(large, "1,000 wires", rounds=2),
        _all(small, "100 wires, every combination of positions"),
        _all(large, "1,000 wires, every single and double change"),
    ]


def _frames(circuit: Circuit, size: str, frames: int, rounds: int) -> Row:
    """Return the row of the repainted families against frames."""
    return compare(
        f"findings repainted after one change, {size}", FRAME,
        ours=_changing(circuit), baseline=FRAME_S, check=partial(_right, circuit),
        limit=frames, rounds=rounds,
    )  # fmt: skip


def _solves(circuit: Circuit, size: str, rounds: int) -> Row:
    """Return the same as a multiple of a solve by plain scipy."""
    solver = Solver(circuit)
    now = solver.conductor.conducting(solver.rest(), frozenset(), "stopped", "resting")
    plain = plain_of(solver.network.count, solver.network.reference, now)
    return compare(
        f"findings repainted after one change, {size}", "one solve by plain scipy",
        ours=_changing(circuit), baseline=plain.volts, check=lambda: None,
        limit=math.inf, rounds=rounds,
    )  # fmt: skip


def _all(circuit: Circuit, size: str) -> Row:
    """Return the row of every rule over all the states that are looked at, timed once.

    Run once, since it may take long; the result of that very run is checked. Where it is given up
    the time is the least that it takes.
    """
    edited = longer(circuit, _wire(circuit, "M0", "+"), LONG_M)
    found: list[Report] = []
    took = seconds(lambda: found.extend(_within(GIVE_UP_S, lambda: check(edited))))
    given_up = "" if found else f", given up after {GIVE_UP_S:g} s"
    for report in found:
        assert ("voltage-drop", ("M0",)) in {(p[0], p[2][:1]) for p in _places(report)}
        assert report.case is not None
        _volts_agree(report.case.survey)
    ours, second = Times(took, took), Times(SECOND_S, SECOND_S)
    return Row(f"all rules, {size}{given_up}", "one second", ours, second, limit=1)


class _TooLong(BaseException):
    """Time is over; no Exception, so that no door of the program takes it for a failure."""


def _within(limit_s: float, call: Callable[[], Found]) -> list[Found]:
    """Return what a call returns, nothing when it takes longer; no limit without an alarm clock."""

    def ring(*_: object) -> NoReturn:
        raise _TooLong

    if not hasattr(signal, "setitimer"):
        return [call()]
    before = signal.signal(signal.SIGALRM, ring)
    signal.setitimer(signal.ITIMER_REAL, limit_s)
    try:
        return [call()]
    except _TooLong:
        return []
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, before)


def _quick(circuit: Circuit) -> Report:
    """Return the findings that are repainted with the sheet."""
    return check(circuit, FAMILIES, quick=True)


def _changing(circuit: Circuit) -> Callable[[], Report]:
    """Return a call that changes the circuit and finds anew, each time another change."""
    edits = cycle(list(circuit.wires)[1::7])
    lengths = cycle((1.1, 1.3, 1.7))
    return lambda: _quick(longer(circuit, next(edits), next(lengths)))


def _right(circuit: Circuit) -> None:
    """See that volts are those of plain scipy, and that planted mistakes are found."""
    report = _quick(longer(circuit, "W9", 1.3))
    assert report.case is not None
    _volts_agree(report.case.survey)
    before = _places(report)
    long = _quick(longer(circuit, _wire(circuit, "M0", "+"), LONG_M))
    found = {(p[0], p[2][:1]) for p in _places(long) - before}
    assert ("voltage-drop", ("M0",)) in found, f"a feed of {LONG_M:g} m is not found: {found}"
    cut = delete(circuit, wires=[_wire(circuit, "M0", "-")]).apply(circuit)
    found = {(p[0], p[2][:1]) for p in _places(_quick(cut)) - before}
    assert ("no-return", ("M0",)) in found, f"a cut return is not found: {found}"


def _volts_agree(survey: Survey) -> None:
    """Compare some of the states with plain scipy, relays settled from rest."""
    count = len(survey.settings)
    for row in {0, 1, count // 3, count // 2, count - 1}:
        plain = PlainSettling(survey.circuit, survey.settings[row])
        now, volts, _ = plain.settle(None, frozenset())
        same(survey.volts[row], volts, now.joined(), within=1e-6)


def _wire(circuit: Circuit, part: str, terminal: str) -> str:
    """Return the wire at a part's terminal."""
    ends = {e: w.id for w in circuit.wires.values() for e in (w.first, w.second) if e}
    return next(w for e, w in ends.items() if (e.part, e.terminal) == (part, terminal))


def _places(report: Report) -> set[Place]:
    """Return what is found where."""
    return {(f.rule, f.severity, f.parts, f.wires) for f in report.findings}
