"""Findings after one change, one supply condition, against one frame of the screen.

A wire's length is set as a person sets it and the three families that are repainted with the
sheet are found anew: continuity, ground path, rating. All rules together have a second.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import partial
from itertools import cycle

from checks.run import Report, check
from model.circuit import Circuit
from model.edits import delete
from model.solver import Solver
from model.survey import Survey
from tests.bench import FRAME_S, Row, compare
from tests.bench.changes import longer, same
from tests.bench.circuits import cells
from tests.bench.plain import PlainSettling, plain_of

FAMILIES = ("continuity", "ground path", "rating")
FRAME = "one frame, 16.7 ms"
SECOND_S = 1.0
LONG_M = 60.0
"""Metres of a feed of 2.5 mm² that no load of 5 A and more bears without a voltage drop."""
Place = tuple[str, str, tuple[str, ...], tuple[str, ...]]


def table() -> list[Row]:
    """Return the rows."""
    small, large = cells(100), cells(1000)
    return [
        _frames(small, "100 wires", frames=1, rounds=20),
        _frames(large, "1,000 wires", frames=3, rounds=3),
        _solves(small, "100 wires", rounds=20),
        _solves(large, "1,000 wires", rounds=2),
        _all(small, "100 wires, every combination of positions", rounds=2),
        #_all(large, "1,000 wires, every single and double change", rounds=1),
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


def _all(circuit: Circuit, size: str, rounds: int) -> Row:
    """Return the row of every rule over all the states that are looked at."""
    lengths = cycle((1.1, 1.3))
    return compare(
        f"all rules, {size}", "one second",
        ours=lambda: check(longer(circuit, "W9", next(lengths))), baseline=SECOND_S,
        check=partial(_shows_long, circuit, check), limit=1, rounds=rounds,
    )  # fmt: skip


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
    _shows_long(circuit, _quick)
    cut = delete(circuit, wires=[_wire(circuit, "M0", "-")]).apply(circuit)
    found = {p for p in _places(_quick(cut)) - before if "M0" in p[2]}
    assert {p[0] for p in found} >= {"no-return"}, f"a cut return is not found: {found}"


def _shows_long(circuit: Circuit, find: Callable[[Circuit], Report]) -> None:
    """See that a feed that is far too long is found as a voltage drop at its load."""
    before = find(circuit)
    after = find(longer(circuit, _wire(circuit, "M0", "+"), LONG_M))
    found = {(p[0], p[2][0]) for p in _places(after) - _places(before)}
    assert ("voltage-drop", "M0") in found, f"a feed of {LONG_M:g} m is not found: {found}"


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
