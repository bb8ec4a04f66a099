"""Looks at a planted circuit beside the sound one: what was found, and what has no reason."""

from __future__ import annotations

from dataclasses import dataclass

from checks.finding import SEVERITIES, Finding
from checks.run import check
from model.circuit import Circuit
from model.lookup import label, wire_label
from tests.planting.plant import Plant

Key = tuple[str, str, tuple[str, ...], tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class Verdict:
    """What a planted mistake brought: findings that tell it, and findings without a reason."""

    told: tuple[Finding, ...]
    unexplained: tuple[Finding, ...]


def keys(circuit: Circuit) -> frozenset[Key]:
    """Return what is found in a circuit, as rule, severity and place."""
    return frozenset(_key(f) for f in check(circuit).findings)


def judge(plant: Plant, before: frozenset[Key]) -> Verdict:
    """Return the verdict on a plant.

    Parameters
    ----------
    plant
        The mistake.
    before
        What is found in the sound circuit.
    """
    new = [f for f in check(plant.circuit).findings if _key(f) not in before]
    told = [f for f in new if _tells(f, plant)]
    rest = [f for f in new if f not in told and not _explained(f, plant)]
    return Verdict(tuple(told), tuple(rest))


def _key(finding: Finding) -> Key:
    return (finding.rule, finding.severity, finding.parts, finding.wires)


def _tells(finding: Finding, plant: Plant) -> bool:
    """Tell whether a finding is of the right rule, severity and place, with the right numbers."""
    return (
        finding.rule in plant.rules
        and finding.severity in (plant.severities or SEVERITIES)
        and bool(set(finding.place) & plant.at)
        and all(_near(finding, name, *figure) for name, figure in plant.numbers.items())
    )


def _near(finding: Finding, name: str, figure: float, within: float) -> bool:
    """Tell whether a finding holds a figure, or one that differs by no more than a share of it."""
    value = finding.values.get(name)
    return isinstance(value, float | int) and abs(value - figure) <= within * abs(figure)


def _explained(finding: Finding, plant: Plant) -> bool:
    """Tell whether the mistake explains a further finding."""
    ids = plant.explains.get(finding.rule, frozenset())
    main = finding.parts[:1]
    wires = set(finding.wires)
    return bool(ids & set(main)) or bool(wires and wires <= ids)


def shown(circuit: Circuit, finding: Finding) -> str:
    """Return a finding in one line, with the names that people use."""
    parts = [label(circuit.parts[p]) for p in finding.parts]
    wires = [wire_label(circuit.wires[w]) for w in finding.wires]
    return f"{finding.severity} {finding.rule} {' '.join(parts + wires)}: {finding.sentence()}"
