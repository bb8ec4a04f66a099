"""What the model says of the circuit now: its solved state and its findings, as one value.

The window never calls the solver or the checks itself; it asks an `Analyst`, which keeps one
solver a circuit and hands back immutable results.
"""

from __future__ import annotations

import logging
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from app.tr import sentence_of
from checks.case import Case
from checks.finding import SEVERITIES, Finding
from checks.heat import Heat, heat_of
from checks.run import check
from model.changes import Change
from model.circuit import Circuit
from model.errors import ModelError
from model.lookup import label
from model.solver import Settled, Solver
from model.state import State
from model.states import Memory, Setting

log = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class Shown:
    """A finding as the window shows it.

    `remedy` is the certain cure in words, "" where there is none, and `change` the cure itself,
    made for the circuit that was checked. `seen` names the positions in which it was seen.
    """

    rule: str
    severity: str
    sentence: str
    parts: tuple[str, ...] = ()
    wires: tuple[str, ...] = ()
    path: tuple[str, ...] = ()
    source: str = ""
    accepted: str = ""
    remedy: str = ""
    change: Change | None = field(default=None, hash=False)
    seen: str = ""

    @property
    def ids(self) -> frozenset[str]:
        """Every part and wire it names or whose path it shows."""
        return frozenset((*self.parts, *self.wires, *self.path))

    def is_about(self, other: Shown) -> bool:
        """Tell whether another finding says the same of the same parts and wires."""
        mine, theirs = (self.rule, self.parts, self.wires), (other.rule, other.parts, other.wires)
        return mine == theirs


@dataclass(frozen=True, slots=True)
class Warmest:
    """A wire in the state that warms it most, and the positions of that state."""

    heat: Heat
    seen: str


@dataclass(frozen=True, slots=True)
class Analysis:
    """A circuit with its state under one setting, and what the checks found.

    `thorough` tells that every state was looked at, not only the few of a quick look. `warmest`
    are the wires by id in their worst states, empty until all were looked at.
    """

    circuit: Circuit
    setting: Setting = field(default_factory=Setting)
    settled: Settled | None = None
    findings: tuple[Shown, ...] = ()
    checked: bool = False
    thorough: bool = False
    trouble: str = ""
    warmest: Mapping[str, Warmest] = field(default_factory=dict, hash=False)

    @property
    def state(self) -> State | None:
        """The state shown: the first where there are several, none where nothing was solved."""
        return self.settled.states[0] if self.settled and self.settled.states else None

    def again(self, finding: Shown) -> Shown | None:
        """Return a finding of an earlier look as it is now, None when it is cured."""
        same = [f for f in self.findings if f.is_about(finding)]
        exact = (f for f in same if f.sentence == finding.sentence)
        return next(exact, same[0] if same else None)

    def worst_by_id(self) -> dict[str, str]:
        """Return the worst severity of each part and wire that a finding names."""
        worst: dict[str, str] = {}
        for finding in reversed(by_severity(self.findings)):
            if not finding.accepted:
                worst.update(dict.fromkeys((*finding.parts, *finding.wires), finding.severity))
        return worst


class Analyst:
    """Solves and checks circuits; keeps the solver of the last one."""

    def __init__(self) -> None:
        self._solver: Solver | None = None

    def solve(self, circuit: Circuit, setting: Setting, memory: Memory) -> Analysis:
        """Return the circuit's state; a circuit that cannot be solved says why in `trouble`."""
        try:
            settled = self._solver_of(circuit).settle(setting, memory)
        except ModelError as error:
            log.info("not solved: %s", error)
            return Analysis(circuit, setting, trouble=str(error))
        return Analysis(circuit, setting, settled)

    def _solver_of(self, circuit: Circuit) -> Solver:
        if self._solver is None or self._solver.circuit is not circuit:
            self._solver = Solver(circuit)
        return self._solver


def by_severity(findings: Sequence[Shown]) -> list[Shown]:
    """Return the findings from worst to least, accepted ones last."""
    order = {s: i for i, s in enumerate(SEVERITIES)}
    return sorted(findings, key=lambda f: (bool(f.accepted), order.get(f.severity, len(order))))


@dataclass(frozen=True, slots=True)
class Looked:
    """What a look at a circuit gave; `pending` names rules that only a thorough one answers."""

    findings: tuple[Shown, ...]
    thorough: bool
    pending: frozenset[str]
    warmest: Mapping[str, Warmest] = field(default_factory=dict)

    def onto(self, analysis: Analysis, before: Analysis | None) -> Analysis:
        """Return the analysis with these findings.

        What a quick look cannot tell is taken over from the analysis before it.
        """
        known = analysis.circuit.parts.keys() | analysis.circuit.wires.keys()
        old = tuple(
            f
            for f in (before.findings if before else ())
            if f.rule in self.pending and {*f.parts, *f.wires} <= known
        )
        return replace(
            analysis,
            findings=self.findings + old,
            checked=True,
            thorough=self.thorough,
            warmest=self.warmest,
        )


def look(circuit: Circuit, *, quick: bool, go_on: Callable[[], bool] = lambda: True) -> Looked:
    """Check a circuit, at a few states or at all of them.

    Raises
    ------
    Stopped
        When `go_on`, asked now and then, says no.
    """
    report = check(circuit, quick=quick, go_on=go_on)
    shown = tuple(_shown(circuit, f) for f in report.findings)
    warmest = {} if report.quick or report.case is None else _warmest(report.case)
    return Looked(shown, not report.quick, report.pending, warmest)


def _warmest(case: Case) -> dict[str, Warmest]:
    """Return every wire that carries something in the state that warms it most."""
    return {
        key: Warmest(heat, _positions(case.circuit, case.survey.settings[heat.row].positions))
        for key, heat in heat_of(case).items()
        if heat.amps
    }


def _shown(circuit: Circuit, finding: Finding) -> Shown:
    """Return a finding of the checks as the window shows it."""
    return Shown(
        rule=finding.rule,
        severity=finding.severity,
        sentence=sentence_of(finding),
        parts=finding.parts,
        wires=finding.wires,
        path=tuple(key for _, key in finding.path),
        source=finding.source,
        accepted=finding.accepted,
        remedy=finding.remedy.text if finding.remedy else "",
        change=finding.remedy.change if finding.remedy else None,
        seen=_seen(circuit, finding),
    )


def _seen(circuit: Circuit, finding: Finding) -> str:
    """Return the positions of controls in which a finding was seen: "S1 ON, S2 SET"."""
    return _positions(circuit, finding.setting.positions if finding.setting else {})


def _positions(circuit: Circuit, positions: Mapping[str, str]) -> str:
    parts = circuit.parts
    return ", ".join(f"{label(parts[k])} {v}" for k, v in positions.items() if k in parts)
