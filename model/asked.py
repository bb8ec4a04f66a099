"""The settings of a circuit that the checks ask about.

All combinations of positions up to a limit; above it the rest state and all single and double
changes from it, and the state in which every control closes most with all single changes from
that. Where the circuit has an engine (an alternator, or a load that keeps it running)
the engine stands for one more control, and relays with a clock are looked at early and settled.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import combinations, product
from math import prod

from model.circuit import Circuit
from model.kinds.body import Coil, SourcePath
from model.lookup import body_of, controls, rest_of
from model.solver import Solver
from model.states import Setting

MOST_STATES = 4096
"""Combinations of positions up to which all are solved."""
FEW = 4
"""Up to this many combinations a quick look takes them all."""
CLOCKED = frozenset(("timed", "pulse", "on-delay", "off-delay"))


@dataclass(frozen=True, slots=True)
class Asked:
    """The settings to look at, the first one at rest; `every` tells whether they are all."""

    settings: tuple[Setting, ...]
    every: bool


def settings_of(solver: Solver, most: int = MOST_STATES, *, quick: bool = False) -> Asked:
    """Return the settings of a circuit: all of them, or those near rest and near most closed.

    `quick` takes a few that show almost everything: rest, each control moved alone, every control
    where it closes most, and each of them moved from there.
    """
    name = ("asked", most, quick, has_engine(solver))
    return solver.network.frame.fact(name, lambda: _settings_of(solver, most, quick))


def _settings_of(solver: Solver, most: int, quick: bool) -> Asked:
    """Return the settings of a circuit, reckoned anew."""
    circuit = solver.circuit
    choices = choices_of(solver)
    rest = {key: values[0] for key, values in choices.items()}
    moments = ("settled", "early") if _clocked(solver) else ("settled",)
    every = prod(len(v) for v in choices.values()) <= most
    if quick:
        combos = _few(choices, rest, _most_closed(circuit, choices))
        every = every and prod(len(v) for v in choices.values()) <= FEW
    else:
        combos = _all(choices) if every else _some(choices, rest, _most_closed(circuit, choices))
    supply = circuit.settings.conditions.supply
    made = [_setting(c, rest, supply, m) for c in combos for m in moments]
    return Asked(tuple(made), every)


def choices_of(solver: Solver) -> dict[str, tuple[str, ...]]:
    """Return the values of every control, the one at rest first; "" is the engine."""
    circuit = solver.circuit
    found: dict[str, tuple[str, ...]] = {}
    if has_engine(solver):
        engine = circuit.settings.conditions.engine
        found[""] = tuple(dict.fromkeys((engine, "stopped", "running")))
    for part_id, names in controls(circuit).items():
        rest = rest_of(circuit, circuit.parts[part_id])
        found[part_id] = tuple(dict.fromkeys((rest, *names)))
    return found


def has_engine(solver: Solver) -> bool:
    """Tell whether the engine matters: an alternator, or a load that keeps it running."""
    return bool(solver.keepers) or any(
        isinstance(e.inner, SourcePath) and e.inner.source == "alternator"
        for _, e in solver.network.of_role("source")
    )


def _clocked(solver: Solver) -> bool:
    """Tell whether a relay with a clock is there."""
    inner = (e.inner for _, e in solver.network.of_role("coil"))
    return any(isinstance(i, Coil) and i.action in CLOCKED for i in inner)


def _all(choices: Mapping[str, tuple[str, ...]]) -> Iterator[dict[str, str]]:
    """Yield every combination."""
    for values in product(*choices.values()):
        yield dict(zip(choices, values, strict=True))


def _near(choices: Mapping[str, tuple[str, ...]], rest: dict[str, str]) -> Iterator[dict[str, str]]:
    """Yield rest, every single and every double change from it: what differs, and the engine."""
    engine = {"": rest[""]} if "" in rest else {}
    yield engine
    singles = [(k, v) for k, values in choices.items() for v in values[1:]]
    for key, value in singles:
        yield {**engine, key: value}
    for (k1, v1), (k2, v2) in combinations(singles, 2):
        if k1 != k2:
            yield {**engine, k1: v1, k2: v2}


def _some(
    choices: Mapping[str, tuple[str, ...]], rest: dict[str, str], closed: dict[str, str]
) -> Iterator[dict[str, str]]:
    """Yield what is near rest, then the closed combination and every single change from it."""
    seen = set()
    for combo in (*_near(choices, rest), closed, *_singly(choices, closed)):
        key = tuple((k, v) for k, v in sorted(combo.items()) if not k or v != rest[k])
        if key not in seen:
            seen.add(key)
            yield combo


def _singly(
    choices: Mapping[str, tuple[str, ...]], base: dict[str, str]
) -> Iterator[dict[str, str]]:
    """Yield a combination with each control moved alone."""
    yield from ({**base, k: v} for k, values in choices.items() for v in values)


def _few(
    choices: Mapping[str, tuple[str, ...]], rest: dict[str, str], closed: dict[str, str]
) -> Iterator[dict[str, str]]:
    """Yield rest and the closed combination, each with every single change from it, once."""
    seen: set[tuple[str, ...]] = set()
    for base in (rest, closed):
        for combo in (base, *_singly(choices, base)):
            key = tuple(combo.values())
            if key not in seen:
                seen.add(key)
                yield combo


def _most_closed(circuit: Circuit, choices: Mapping[str, tuple[str, ...]]) -> dict[str, str]:
    """Return every control in the position that closes most pairs, the engine running."""
    found: dict[str, str] = {}
    for key, values in choices.items():
        if not key:
            found[key] = "running"
            continue
        closed = {p.name: len(p.closed) for p in body_of(circuit, circuit.parts[key]).positions}
        found[key] = max(values, key=lambda name: closed.get(name, 0))
    return found


def _setting(combo: dict[str, str], rest: dict[str, str], supply: str, moment: str) -> Setting:
    """Return one combination as a setting, with the positions of what is not at rest."""
    positions = {k: v for k, v in combo.items() if k and v != rest[k]}
    return Setting(positions, combo.get("", "stopped"), supply, moment=moment)


def springs_of(circuit: Circuit) -> dict[tuple[str, str], str]:
    """Return where every spring-loaded position goes when let go, by part id and position."""
    return {
        (part.id, position.name): position.springs_to
        for part in circuit.parts.values()
        for position in body_of(circuit, part).positions
        if position.springs_to
    }


def let_go(setting: Setting, springs: Mapping[tuple[str, str], str]) -> Setting:
    """Return the setting with every spring-loaded control let go, itself if there is none."""
    back = {k: springs[(k, v)] for k, v in setting.positions.items() if (k, v) in springs}
    return setting.moved(back) if back else setting
