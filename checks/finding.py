"""A finding: what a rule found, as data; its sentence is rendered from its values."""

from __future__ import annotations

import string
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from model.changes import Change
from model.states import Setting
from model.units import show

DANGER, FAULT, ADVICE, UNKNOWN = "danger", "fault", "advice", "unknown"
SEVERITIES = (DANGER, FAULT, ADVICE, UNKNOWN)
"""danger: something can burn, a protection does not protect, a crash or isolator duty is broken.
fault: the circuit cannot do what it is drawn for. advice: it works, below good practice.
unknown: data is missing or assumed, or the chosen table does not cover it."""

Datum = float | str
COMMON_PRACTICE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Remedy:
    """A certain cure: its words and the one undoable change."""

    text: str
    change: Change


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One finding.

    `parts` and `wires` are ids, the main one first. `says` is a sentence with named values, each
    with the name of its quantity ("{amps:current} in {wire}"); `values` holds them (numbers in
    SI units, texts as they are). `path` is the evidence, (table, id) in order. `setting` is the
    state that shows it. `source` names standard and table, or common practice. `accepted` is the
    reason a person gave.
    """

    rule: str
    severity: str
    says: str
    parts: tuple[str, ...] = ()
    wires: tuple[str, ...] = ()
    values: Mapping[str, Datum] = field(default_factory=dict)
    source: str = COMMON_PRACTICE
    path: tuple[tuple[str, str], ...] = ()
    setting: Setting | None = None
    remedy: Remedy | None = None
    accepted: str = ""

    @property
    def place(self) -> tuple[str, ...]:
        """The ids it concerns, in order: parts, then wires."""
        return self.parts + self.wires

    @property
    def order(self) -> tuple[int, str, tuple[str, ...], str]:
        """What findings are sorted by: severity, rule, place."""
        return (SEVERITIES.index(self.severity), self.rule, self.place, self.says)

    def sentence(self, decimal: str = ".") -> str:
        """Return the sentence with the actual numbers, in the reader's decimal mark."""
        return _Sentences(decimal).vformat(self.says, (), self.values)


class _Sentences(string.Formatter):
    """Formats {name:quantity} through the units of the trade, {name} as it is."""

    def __init__(self, decimal: str) -> None:
        self._decimal = decimal

    def format_field(self, value: Any, format_spec: str) -> str:
        """Return one value as people read it."""
        if format_spec and isinstance(value, float | int):
            return show(float(value), format_spec, decimal=self._decimal)
        return str(value)
