"""Runs the rules over a circuit: findings sorted, acceptances matched, tables named.

A rule that crashes becomes a finding of its own and the rest go on.
"""

from __future__ import annotations

import logging
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from checks.case import Case
from checks.finding import DANGER, FAULT, UNKNOWN, Finding
from checks.rule import Rule, rules
from checks.used import Used, own_sources, tables_used
from model.circuit import Acceptance, Circuit
from model.solve import NoSolution
from model.survey import Survey

log = logging.getLogger(__name__)
CRASHED = "rule-failed"


@dataclass(frozen=True, slots=True)
class Report:
    """What was found, which tables were used, and how much was looked at.

    `every_state` tells whether all combinations of positions were looked at; `quick` that only a
    few were; `pending` names the rules that cannot be answered from those few. `used` are the
    tables with their sources.
    """

    findings: tuple[Finding, ...]
    tables: tuple[str, ...]
    every_state: bool
    case: Case | None = None
    quick: bool = False
    pending: frozenset[str] = frozenset()
    used: tuple[Used, ...] = ()

    def clean(self, strict: bool = False) -> bool:
        """Tell whether nothing counts: danger and fault, with `strict` anything not accepted."""
        counts = [f for f in self.findings if not f.accepted]
        return not [f for f in counts if strict or f.severity in (DANGER, FAULT)]


def check(
    circuit: Circuit,
    families: Iterable[str] = (),
    survey: Survey | None = None,
    *,
    quick: bool = False,
    go_on: Callable[[], bool] = lambda: True,
) -> Report:
    """Check a circuit.

    Parameters
    ----------
    circuit
        The circuit.
    families
        Families of rules to run; all of them if none is named.
    survey
        Its states if they are solved already.
    quick
        Look at a few states only, for an answer within a frame. Rules that speak of every state
        are answered where those few settle it (a load seen on is not never on); the others are
        named in `pending` and find nothing.
    go_on
        Asked now and then during a long look.

    Raises
    ------
    Stopped
        When `go_on` says no.
    """
    try:
        case = Case(circuit, survey or Survey(circuit, quick=quick, go_on=go_on))
    except NoSolution as error:
        return Report((_unsolved(error),), (), False)
    wanted = set(families)
    few = case.survey.quick and not case.survey.every
    found: list[Finding] = []
    pending: set[str] = set()
    for rule in rules():
        if wanted and rule.family not in wanted:
            continue
        mine = _run(rule, case)
        if few and mine and rule.every_state:
            pending.add(rule.name)
        else:
            found += mine
    named = (_named(circuit, f) for f in found)
    done = sorted((_accepted(circuit, f) for f in named), key=lambda f: f.order)
    return Report(
        tuple(done),
        _tables(circuit),
        case.survey.every,
        case,
        few,
        frozenset(pending),
        tables_used(circuit),
    )


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


def _named(circuit: Circuit, finding: Finding) -> Finding:
    """Return the finding with the user's tables that stand behind the ratings of its parts."""
    more = own_sources(circuit, finding.parts)
    return replace(finding, source="; ".join((finding.source, *more))) if more else finding


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
    bundled = any(w.branches for w in circuit.wires.values())
    bundle = (f"bundle: {chosen.bundle}",) if bundled else ()
    return (f"ampacity: {chosen.ampacity}", f"copper: {copper}", *bundle)
