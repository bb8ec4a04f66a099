"""Relays, switches and loads wired at random, against the plain calculation of `tests.oracle`."""

from __future__ import annotations

import numpy as np
import pytest

from model.circuit import Circuit
from model.states import Armature, Memory
from tests.building import battery, circuit, part, resistor, settle
from tests.oracle import NoRest, Oracle


def relay_maze(seed: int) -> tuple[Circuit, list[str]]:
    """Return relays, switches and loads wired at random, and the switches."""
    rng = np.random.default_rng([seed, 4])
    relays, switches = int(rng.integers(2, 6)), int(rng.integers(1, 4))
    kinds = ("relay-make", "relay-changeover", "relay-diode")
    parts = [battery(12.6, 0.02)]
    parts += [part(f"S{i}", "switch") for i in range(switches)]
    parts += [part(f"K{i}", kinds[int(rng.integers(3))], coil_ohm=90.0) for i in range(relays)]
    parts += [resistor(f"R{i}", float(rng.uniform(2, 60))) for i in range(3)]
    feeds = ["BAT.+", *(f"S{i}.2" for i in range(switches))]
    feeds += [f"K{i}.87" for i in range(relays)]
    feeds += [f"{p.id}.87a" for p in parts if p.kind == "relay-changeover"]
    wires = [f"BAT.+ S{i}.1" for i in range(switches)]
    for i in range(relays):
        wires += [f"{pick(rng, feeds)} K{i}.86", f"{pick(rng, feeds)} K{i}.30", f"K{i}.85 BAT.-"]
    wires += [f"{pick(rng, feeds)} R{i}.1, R{i}.2 BAT.-" for i in range(3)]
    names = [w.strip() for text in wires for w in text.split(",")]
    ohms = {f"W{i}": float(rng.uniform(0.005, 0.1)) for i in range(1, len(names) + 1)}
    return circuit(parts, ", ".join(names), ohms), [f"S{i}" for i in range(switches)]


def rests(of: Circuit, positions: dict[str, str], pulled: frozenset[Armature]) -> bool:
    """Tell whether the plain calculation stays where it is put."""
    return Oracle(of, pulled=pulled).settle(positions).pulled == pulled


def pick(rng: np.random.Generator, names: list[str]) -> str:
    """Return one of the names."""
    return names[int(rng.integers(len(names)))]


@pytest.mark.parametrize("seed", range(60))
def test_random_relays_against_the_plain_calculation(seed: int) -> None:
    """Switches move one after another; where the plain one rests, the solver agrees."""
    of, switches = relay_maze(seed)
    rng = np.random.default_rng([seed, 5])
    memory, positions, oracle = Memory(), dict.fromkeys(switches, "OFF"), Oracle(of)
    for _ in range(6):
        positions[pick(rng, switches)] = ("OFF", "ON")[int(rng.integers(2))]
        settled = settle(of, positions, memory)
        try:
            answer = oracle.settle(positions)
        except NoRest:
            assert settled.settled == "none" or all(
                rests(of, positions, s.pulled) for s in settled.states
            )
            return
        state = settled.state
        assert settled.settled == "steady"
        assert state.pulled == answer.pulled
        for name in ("R0", "R1", "R2"):
            wanted = answer.amperes[name, "resistance"]
            assert state.current(name, "resistance") == pytest.approx(wanted, abs=1e-5)
        memory = state.memory
