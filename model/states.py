"""Values around solving: what is asked (setting, faults), what is remembered, what came out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

Armature = tuple[str, str]
"""A part's id and the name of one of its armatures."""

FAULTS = ("open", "shell", "series", "welded", "stuck", "short", "supply")
"""What can be wrong: open (broken, blown, lifted, not connected); shell (rubbed through, `ohm` to
the shell at the first end); series (`ohm` more in its path); welded (make contacts stay closed);
stuck (the armature stays as it is; a control stays in the position that `node` names, at rest if it
names none); short (across a load or diode); supply
(touches the plus of the reference battery through `ohm` at the first end)."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with one part or wire; `node` tells which node is touched (shell, supply)."""

    target: str
    what: str
    ohm: float = 0.0
    node: str = ""


@dataclass(frozen=True, slots=True)
class Setting:
    """What is asked for: positions of controls by part id (missing: at rest), engine, supply.

    `moment` is "settled" (clocks have run) or "early" (clocks have just started).
    """

    positions: Mapping[str, str] = field(default_factory=dict)
    engine: str = "stopped"
    supply: str = "resting"
    faults: tuple[Fault, ...] = ()
    moment: str = "settled"

    def moved(self, positions: Mapping[str, str]) -> Setting:
        """Return this setting with some controls moved."""
        return replace(self, positions={**self.positions, **positions})

    def faulty(self, fault: Fault) -> Setting:
        """Return this setting with one fault more (the last of a kind on a target counts)."""
        kept = tuple(f for f in self.faults if (f.target, f.what) != (fault.target, fault.what))
        return replace(self, faults=(*kept, fault))

    def mended(self, target: str) -> Setting:
        """Return this setting without the faults of one part or wire."""
        return replace(self, faults=tuple(f for f in self.faults if f.target != target))


@dataclass(frozen=True, slots=True)
class Memory:
    """What a circuit remembers from one state to the next: armatures that are in, the engine."""

    pulled: frozenset[Armature] = frozenset()
    engine: str = ""
    cranking: bool = False
