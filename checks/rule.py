"""A rule as the runner knows it: a module of checks/rules, found by scanning the folder.

Each module has NAME (the fault in plain words), FAMILY, a docstring with the sections
What it finds · Why it matters · Example · How to fix · Limits · Reference, examples BAD (a sketch
and what it must find) and GOOD (a sketch that is silent), and the function find(case). A rule that
speaks of every state ("never", "always") also has EVERY_STATE = True.
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cache
from types import ModuleType

import checks.rules
from checks.case import Case
from checks.finding import Finding

FAMILIES = ("continuity", "ground path", "rating", "protection", "logic", "record")
SECTIONS = (
    "What it finds",
    "Why it matters",
    "Example",
    "How to fix",
    "Limits",
    "Reference",
)
Expected = tuple[str, tuple[str, ...]]
"""Severity and the ids of parts then wires, as an example lists them."""


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule: its name, family, help text, examples, and the function that finds.

    `every_state` tells that a finding holds only if every state was looked at.
    """

    name: str
    family: str
    help: str
    bad: tuple[tuple[str, tuple[Expected, ...]], ...]
    good: tuple[str, ...]
    find: Callable[[Case], Iterable[Finding]]
    every_state: bool = False


@cache
def rules() -> tuple[Rule, ...]:
    """Return every rule of the folder, by family and name."""
    names = (m.name for m in pkgutil.iter_modules(checks.rules.__path__))
    found = [_rule(importlib.import_module(f"checks.rules.{name}")) for name in names]
    return tuple(sorted(found, key=lambda r: (FAMILIES.index(r.family), r.name)))


def _rule(module: ModuleType) -> Rule:
    """Return a module of the folder as a rule."""
    return Rule(
        module.NAME,
        module.FAMILY,
        module.__doc__ or "",
        module.BAD,
        module.GOOD,
        module.find,
        getattr(module, "EVERY_STATE", False),
    )
