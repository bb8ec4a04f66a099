"""What the tests of single rules share: a sketch with wires of hardly any resistance, one rule."""

from __future__ import annotations

from types import ModuleType

from checks.case import Case
from checks.finding import Finding
from checks.sketch import sketch
from model.circuit import Conditions, Constants, Settings

THIN = Constants(
    copper_ohm_mm2_m=1e-7,
    wire_ends_ohm=0.0,
    switch_contact_ohm=1e-7,
    relay_contact_ohm=1e-7,
    fuse_ohm_a=1e-7,
    ground_ohm=1e-7,
)
"""So little that a load of r ohms draws V/r to five digits, and wires still count as wires."""


def settings(
    constants: Constants = THIN, *, nominal_v: float = 12.0, **conditions: object
) -> Settings:
    """Return settings with these constants and conditions."""
    made = Conditions(**conditions)  # type: ignore[arg-type]
    return Settings(nominal_v=nominal_v, constants=constants, conditions=made)


def case(text: str, now: Settings | None = None) -> Case:
    """Return a sketch, analysed, by default with wires of hardly any resistance."""
    return Case(sketch(text, now or settings()))


def look(rule: ModuleType, text: str, now: Settings | None = None) -> list[Finding]:
    """Return what one rule finds."""
    found: list[Finding] = list(rule.find(case(text, now)))
    return found


def places(findings: list[Finding]) -> list[tuple[str, tuple[str, ...]]]:
    """Return severity and place of findings, sorted."""
    return sorted((f.severity, f.place) for f in findings)
