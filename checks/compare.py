"""The same circuit under another table: both limits of every wire, and which findings differ."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from checks.finding import Finding
from checks.heat import Heat, heat_of
from checks.run import Report, check
from model.circuit import Circuit
from model.errors import UnknownNameError
from model.own_tables import choices

KINDS = ("ampacity", "bundle", "copper")
"""Kinds of table that may be put beside the chosen one, in the order an id is looked for."""


@dataclass(frozen=True, slots=True)
class Pair:
    """A wire under both tables."""

    wire: str
    first: Heat
    second: Heat


@dataclass(frozen=True, slots=True)
class Compared:
    """A circuit under its chosen table and under another.

    Attributes
    ----------
    kind, chosen, other : str
        The kind of table (ampacity, bundle, copper) and the ids of the two.
    first, second : Report
        What was found under each.
    wires : tuple of Pair
        Every wire whose size is known, in file order.
    gone, new : tuple of Finding
        Findings of the chosen table that the other has not, and the other way round.
    changed : tuple of (Finding, Finding)
        Findings of both whose severity or numbers differ.
    """

    kind: str
    chosen: str
    other: str
    first: Report
    second: Report
    wires: tuple[Pair, ...]
    gone: tuple[Finding, ...]
    new: tuple[Finding, ...]
    changed: tuple[tuple[Finding, Finding], ...]


def kind_of_table(circuit: Circuit, name: str) -> tuple[str, str]:
    """Return kind and id of a table: its id, or KIND:ID where two kinds have it.

    Raises
    ------
    UnknownNameError
        There is none; the sentence names those there are.
    """
    kind, _, table = name.rpartition(":")
    for each in KINDS:
        if kind in ("", each) and table in choices(circuit, each):
            return each, table
    known = [t for each in KINDS if kind in ("", each) for t in choices(circuit, each)]
    raise UnknownNameError(
        f"There is no table “{name}”: choose one of {', '.join(known) or ', '.join(KINDS)}."
    )


def under(circuit: Circuit, kind: str, table: str) -> Circuit:
    """Return the circuit with another table chosen."""
    chosen = replace(circuit.settings.chosen, **{kind: table})
    return replace(circuit, settings=replace(circuit.settings, chosen=chosen))


def compare(circuit: Circuit, name: str, go_on: Callable[[], bool] = lambda: True) -> Compared:
    """Return a circuit under its chosen table and under another, side by side.

    Parameters
    ----------
    circuit
        The circuit.
    name
        The other table: an id of an ampacity, bundle or copper table, or KIND:ID.
    go_on
        Asked now and then.

    Raises
    ------
    UnknownNameError
        There is no such table.
    Stopped
        When `go_on` says no.
    """
    kind, table = kind_of_table(circuit, name)
    first = check(circuit, go_on=go_on)
    other = under(circuit, kind, table)
    # Solved anew though only copper changes what flows: what a survey's frame keeps rests on the
    # tables of its own circuit.
    second = check(other, go_on=go_on)
    gone, new, changed = _differences(first.findings, second.findings)
    chosen = str(getattr(circuit.settings.chosen, kind))
    return Compared(kind, chosen, table, first, second, _pairs(first, second), gone, new, changed)


def _pairs(first: Report, second: Report) -> tuple[Pair, ...]:
    if first.case is None or second.case is None:
        return ()
    before, after = heat_of(first.case), heat_of(second.case)
    return tuple(
        Pair(w, before[w], after[w]) for w in before if before[w].held is not None and w in after
    )


def _differences(
    first: tuple[Finding, ...], second: tuple[Finding, ...]
) -> tuple[tuple[Finding, ...], tuple[Finding, ...], tuple[tuple[Finding, Finding], ...]]:
    """Return findings of the first alone, of the second alone, and pairs that differ."""
    left = {_key(f): f for f in first}
    right = {_key(f): f for f in second}
    gone = tuple(f for key, f in left.items() if key not in right)
    new = tuple(f for key, f in right.items() if key not in left)
    both = ((left[key], right[key]) for key in left if key in right)
    changed = tuple((a, b) for a, b in both if _said(a) != _said(b))
    return gone, new, changed


def _key(finding: Finding) -> tuple[str, frozenset[str]]:
    return finding.rule, frozenset(finding.place)


def _said(finding: Finding) -> tuple[str, str]:
    return finding.severity, finding.sentence()
