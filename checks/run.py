"""Runs the rules over a circuit: findings sorted, acceptances matched, tables named.

A rule that crashes becomes a finding of its own and the rest go on.
"""

from __future__ import annotations

import logging
from collections.abc import Iterable
from dataclasses import dataclass, replace

from checks.case import Case
from checks.finding import DANGER, FAULT, UNKNOWN, Finding
from checks.rule import Rule, rules
from model.circuit import Acceptance, Circuit
from model.solve import NoSolution
from model.survey import Survey

log = logging.getLogger(__name__)
CRASHED = "rule-failed"


@dataclass(frozen=True, slots=True)
class Report:
    """What was found, which tables were used, and whether every combination was looked at."""

    findings: tuple[Finding, ...]
    tables: tuple[str, ...]
    every_state: bool
    case: Case | None = None

    def clean(self, strict: bool = False) -> bool:
        """Tell whether nothing counts: danger and fault, with `strict` anything not accepted."""
        counts = [f for f in self.findings if not f.accepted]
        return not [f for f in counts if strict or f.severity in (DANGER, FAULT)]


def check(circuit: Circuit, families: Iterable[str] = (), survey: Survey | None = None) -> Report:
    """Check a circuit.

    Parameters
    ----------
    circuit
        The circuit.
    families
        Families of rules to run; all of them if none is named.
    survey
        Its states if they are solved already.
    """
    try:
        case = Case(circuit, survey)
    except NoSolution as error:
        return Report((_unsolved(error),), (), False)
    wanted = set(families)
    found = [
        finding
        for rule in rules()
        if not wanted or rule.family in wanted
        for finding in _run(rule, case)
    ]
    done = sorted((_accepted(circuit, f) for f in found), key=lambda f: f.order)
    return Report(tuple(done), _tables(circuit), case.survey.every, case)


def _run(rule: Rule, case: Case) -> list[Finding]:
    """Run one rule; a crash is logged and becomes a finding."""
    try:
        return list(rule.find(case))
    except Exception as error:  # the door of the rules: one that fails must not hide the others
        log.exception("The rule %s failed.", rule.name)
        return [
            Finding(
                rule=CRASHED,
                severity=UNKNOWN,
                says="The rule {rule} failed ({error}); what it looks for was not checked.",
                values={"rule": rule.name, "error": f"{type(error).__name__}: {error}"},
            )
        ]


def _unsolved(error: NoSolution) -> Finding:
    """Return the finding for a circuit that has no solution."""
    return Finding(
        rule="no-solution", severity=UNKNOWN, says="{error}", values={"error": str(error)}
    )


def _accepted(circuit: Circuit, finding: Finding) -> Finding:
    """Return the finding with the reason of an acceptance that fits it."""
    for acceptance in circuit.accepted.values():
        if _fits(acceptance, finding):
            return replace(finding, accepted=acceptance.reason or "accepted")
    return finding


def _fits(acceptance: Acceptance, finding: Finding) -> bool:
    """Tell whether an acceptance is about this finding: same rule, same parts and wires."""
    return acceptance.rule == finding.rule and (
        set(acceptance.parts) == set(finding.parts) and set(acceptance.wires) == set(finding.wires)
    )


def _tables(circuit: Circuit) -> tuple[str, ...]:
    """Return the ids of the tables the numbers came from."""
    chosen = circuit.settings.chosen
    constant = circuit.settings.constants.copper_ohm_mm2_m
    copper = chosen.copper if constant is None else "copper constant of this circuit"
    return (f"ampacity: {chosen.ampacity}", f"copper: {copper}")
