"""Reference circuits with what they do in each state, and how the tests read them.

Every circuit stands in a file of its own, with the constants it was reckoned with; beside it is
its state table: steps in order, each with the positions set, the faults of that step and what is
expected. The expected values come from two nodal calculations made apart from this program; they
are regression values of our own, not taken from any publication. Volts keep their sign, amperes
through loads are magnitudes.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

from model.circuit import Circuit, Part
from model.file import load
from model.lookup import marking, parts_named, wires_named
from model.states import Fault

FOLDER = Path(__file__).parent
NAMES = (
    "C01",
    "C03A",
    "C03B",
    "C03X",
    "C05",
    "C06",
    "C07",
    "C10",
    "C12",
    "C13",
    "C13X",
    "C14a",
    "C14b",
    "C14c",
    "C18",
)
WHAT = {"blown": "open", "missing": "open"}
SHELL_OHM = 0.005
_FAULT = re.compile(r"(?P<ref>\w+)(?:\.(?P<terminal>[^=]+))?=(?P<what>\w+)(?:\+(?P<mohm>\d+)mohm)?")


@dataclass(frozen=True, slots=True)
class Row:
    """One step of a state table: what is set, what is wrong, what is expected."""

    case: str
    positions: Mapping[str, str]
    faults: tuple[str, ...]
    expect: Mapping[str, Any]
    engine: str = ""


@dataclass(frozen=True, slots=True)
class Sequence:
    """Steps that follow one another from power-off."""

    circuit: str
    title: str
    rows: tuple[Row, ...] = field(default_factory=tuple)


@cache
def circuit(name: str) -> Circuit:
    """Return a reference circuit from its file."""
    return load(path(name)).circuit


def path(name: str) -> Path:
    """Return the file of a reference circuit."""
    return FOLDER / f"{name}.voltwalk"


def sequences(name: str) -> tuple[Sequence, ...]:
    """Return the state tables of a circuit."""
    data = json.loads((FOLDER / f"{name}.json").read_text(encoding="utf-8"))
    return tuple(
        Sequence(name, s["title"], tuple(_row(r) for r in s["rows"])) for s in data["sequences"]
    )


def effects(name: str) -> dict[str, Any]:
    """Return what every single fault of a circuit does."""
    data: dict[str, Any] = json.loads((FOLDER / f"{name}-effects.json").read_text(encoding="utf-8"))
    return data


def _row(data: Mapping[str, Any]) -> Row:
    positions = {k: v for k, v in data["set"].items() if k != "engine"}
    faults = tuple(data.get("faults", ()))
    return Row(data["case"], positions, faults, data["expect"], data["set"].get("engine", ""))


def part(of: Circuit, reference: str) -> Part:
    """Return the one part of this reference."""
    (found,) = parts_named(of, reference)
    return found


def node(of: Circuit, text: str) -> tuple[str, str]:
    """Return the node of a terminal written as people do: K1.86."""
    reference, _, shown = text.partition(".")
    owner = part(of, reference)
    keys = {marking(owner, key): key for key, _ in owner.markings}
    return owner.id, keys.get(shown, shown)


def positions(of: Circuit, named: Mapping[str, str]) -> dict[str, str]:
    """Return positions by part id from positions by reference."""
    return {part(of, reference).id: value for reference, value in named.items()}


def fault(of: Circuit, text: str) -> Fault:
    """Return a fault from a text such as ``F1=blown``, ``W07=shell+10mohm`` or ``K1.87=shell``."""
    match = _FAULT.fullmatch(text)
    assert match, f"no fault: {text}"
    what = WHAT.get(match["what"], match["what"])
    ohm = int(match["mohm"]) / 1000 if match["mohm"] else SHELL_OHM * (what == "shell")
    wires = wires_named(of, match["ref"])
    if wires:
        return Fault(wires[0].id, what, ohm)
    owner = part(of, match["ref"])
    key = node(of, f"{match['ref']}.{match['terminal']}")[1] if match["terminal"] else ""
    return Fault(owner.id, what, ohm, key)
