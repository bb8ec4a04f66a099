"""What every single fault does to the pump circuit C01, with the plain rule for fuses.

The table is our own (reckoned twice, apart from this program). A fuse opens above twice its
rating here, the most overloaded first: a rule of this test only, coarser than real fuse bands.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any

import pytest

from model.circuit import Circuit, End, Wire
from model.kinds.body import FusePath
from model.lookup import body_of, number
from model.solver import Solver
from model.states import Fault, Setting
from model.wiresize import Size
from tests import circuits
from tests.circuits import effects, node, part
from tests.oracle import Oracle

DATA = effects("C01")
ASKED = {
    "asked": {"S0": "ON", "S1": "ON", "S2": "SET"},
    "crash": {"S0": "ON", "S1": "ON", "S2": "TRIPPED"},
    "off": {"S0": "ON", "S1": "OFF", "S2": "SET"},
}
RUNS_FROM_A = 4.0
"""Half of the pump's running current: below it the pump counts as stopped."""
Amperes = Callable[[str, str], float]
Solve = Callable[[Circuit, dict[str, str], tuple[Fault, ...]], Amperes]


def by_solver(of: Circuit, positions: dict[str, str], faults: tuple[Fault, ...]) -> Amperes:
    """Settle from power-off with the program's solver."""
    settled = Solver(of).settle(Setting(positions, faults=faults))
    assert settled.settled == "steady"
    return settled.state.current


def by_oracle(of: Circuit, positions: dict[str, str], faults: tuple[Fault, ...]) -> Amperes:
    """Settle from power-off with the plain calculation."""
    found = Oracle(of).settle(positions, faults).amperes

    def amperes(owner: str, element: str) -> float:
        return found.get((owner, element), 0.0)

    return amperes


def broken(of: Circuit, text: str) -> tuple[Circuit, tuple[Fault, ...]]:
    """Return the circuit with the fault; a touch of the supply is a wire from F1.1."""
    if text == "none":
        return of, ()
    if "=supply" not in text:
        return of, (circuits.fault(of, text),)
    feed, (owner, key) = part(of, "F1"), node(of, text.partition("=")[0])
    touch = Wire(
        "touch", "touch", End(feed.id, "1"), End(owner, key), Size(mm2=1.0), 0.0, ends_ohm=0.020
    )
    return replace(of, wires={**of.wires, touch.id: touch}), ()


def blow(of: Circuit, amperes: Amperes, blown: frozenset[str]) -> str:
    """Return the id of the fuse that opens next, "" for none."""
    loads = {
        p.id: abs(amperes(p.id, "element")) / number(of, p, "rating_a")
        for p in of.parts.values()
        if p.id not in blown and any(isinstance(e, FusePath) for e in body_of(of, p).elements)
    }
    worst = max(loads, key=lambda k: loads[k])
    return worst if loads[worst] > 2.0 else ""


def outcome(solve: Solve, text: str, question: str) -> tuple[str, frozenset[str]]:
    """Return whether the pump runs, and which fuses opened."""
    of, faults = broken(circuits.circuit("C01"), text)
    return run(solve, of, circuits.positions(of, ASKED[question]), faults)


def run(
    solve: Solve, of: Circuit, positions: dict[str, str], faults: tuple[Fault, ...]
) -> tuple[str, frozenset[str]]:
    """Return whether the pump runs once fuses have opened, and which did."""
    opened: frozenset[str] = frozenset()
    while True:
        wrong = faults + tuple(Fault(f, "open") for f in sorted(opened))
        amperes = solve(of, positions, wrong)
        fuse = blow(of, amperes, opened)
        if not fuse:
            break
        opened |= {fuse}
    runs = abs(amperes(part(of, "M1").id, "load")) > RUNS_FROM_A
    return "runs" if runs else "stops", frozenset(of.parts[f].reference for f in opened)


@pytest.mark.parametrize("solve", [by_solver, by_oracle])
@pytest.mark.parametrize("row", DATA["effects"], ids=lambda r: r["fault"])
def test_a_single_fault(row: dict[str, str], solve: Solve) -> None:
    found = {q: outcome(solve, row["fault"], q) for q in ASKED}
    assert {q: did for q, (did, _) in found.items()} == {q: row[q] for q in ASKED}
    blown = frozenset.union(*(fuses for _, fuses in found.values()))
    assert blown == ({row["blown"]} if row["blown"] else frozenset())


def test_the_only_short_without_a_fuse_is_before_the_main_one() -> None:
    assert [r["fault"] for r in DATA["effects"] if r.get("unfused")] == ["F0.1=shell+5mohm"]


PLACED = {
    "in the coil's feed": {},
    "in the coil's ground": {
        "W10": "S1.2 K1.86",
        "W11": "K1.85 S2.C",
        "W12": "S2.NC G1.g",
    },
    "in the pump's line after 87": {
        "W06": "K1.87 S2.C",
        "W10": "S1.2 K1.86",
        "W11": "S2.NC M1.+",
    },
    "in the coil's feed and in the pump's line": {
        "W06": "K1.87 S3.C",
        "W14": "S3.NC M1.+",
    },
}
"""Wires that run otherwise than in C01, by where the crash contact is; S3 is a second one."""
DEFEATS = {
    "in the coil's feed": {"supply W06", "supply W11", "welded K1", "stuck S2"},
    "in the coil's ground": {"shell W11", "supply W06", "welded K1", "stuck S2"},
    "in the pump's line after 87": {"supply W11", "stuck S2"},
    "in the coil's feed and in the pump's line": {"supply W14"},
}
"""What the table says in words, as wires and devices of the circuits built here."""


def placed(where: str) -> Circuit:
    """Return C01 with its crash contact somewhere else."""
    of = circuits.circuit("C01")
    second = replace(part(of, "S2"), id="p99", reference="S3")
    of = replace(of, parts={**of.parts, second.id: second})
    wires = {w.number: w for w in of.wires.values()}
    for no, text in PLACED[where].items():
        first, last = (End(*node(of, end)) for end in text.split())
        model = wires.get(no, wires["W06"])
        wires[no] = replace(model, id=no, number=no, first=first, second=last)
    return replace(of, wires={w.id: w for w in wires.values()})


def single_faults(of: Circuit) -> Iterator[tuple[str, Circuit, tuple[Fault, ...]]]:
    """Yield every wire open, rubbed through and touching the supply, every device stuck."""
    feed = part(of, "F1")
    for no, wire in sorted((w.number, w) for w in of.wires.values()):
        yield f"open {no}", of, (Fault(wire.id, "open"),)
        yield f"shell {no}", of, (Fault(wire.id, "shell", 0.005),)
        touch = replace(
            wire, id="touch", number="", first=End(feed.id, "1"), length_m=0.0, ends_ohm=0.020
        )
        yield f"supply {no}", replace(of, wires={**of.wires, "touch": touch}), ()
    yield "welded K1", of, (Fault(part(of, "K1").id, "welded"),)
    for reference in ("S2", "S3"):
        yield f"stuck {reference}", of, (Fault(part(of, reference).id, "stuck"),)


@pytest.mark.parametrize("solve", [by_solver, by_oracle])
@pytest.mark.parametrize("row", DATA["placements"], ids=lambda r: r["contact"])
def test_where_the_crash_contact_is_best(row: dict[str, Any], solve: Solve) -> None:
    """Faults of one wire or device after which the pump runs on with the crash switch tripped."""
    of = placed(row["contact"])
    positions = circuits.positions(of, {**ASKED["crash"], "S3": "TRIPPED"})
    found = {n for n, c, f in single_faults(of) if run(solve, c, positions, f)[0] == "runs"}
    assert found == DEFEATS[row["contact"]]
    assert len(found) == row["count"] == len(row["faults"])
