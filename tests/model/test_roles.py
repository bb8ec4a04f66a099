"""Roles of wires against what each wire of a reference circuit is for, read off its diagram."""

from __future__ import annotations

from dataclasses import replace

import pytest

from model.circuit import Circuit, End, Part, Wire
from model.file import load
from model.roles import ROLES, wire_roles
from tests.circuits import FOLDER, NAMES


def roles(name: str) -> dict[str, str]:
    """Return the roles of a reference circuit by wire number."""
    circuit = load(FOLDER / f"{name}.voltwalk").circuit
    return {circuit.wires[k].number: role for k, role in wire_roles(circuit).items()}


def numbers(*spans: tuple[int, int] | int) -> set[str]:
    """Return wire numbers: 3 is W03, (3, 5) is W03 to W05."""
    found: set[str] = set()
    for span in spans:
        first, last = span if isinstance(span, tuple) else (span, span)
        found |= {f"W{i:02}" for i in range(first, last + 1)}
    return found


EXPECTED = {
    # A pump behind a relay: the feeds to the fuses, the relay's 30 and the switch are permanent.
    "C01": {
        "permanent": numbers((1, 5), 8, 9),
        "control": numbers(10, 11),
        "output": numbers(6),
        "return": numbers(7, 12, 13),
    },
    # Headlamps: from the light switch to the dip switch a switched feed; 56a also feeds a lamp.
    "C06": {
        "permanent": numbers((1, 4), 17, 18),
        "switched": numbers(19, 21, 22),
        "control": numbers(20),
        "output": numbers(5, 6, 8, 9, 11, 12, 14, 15),
        "return": numbers(7, 10, 13, 16, (23, 26)),
    },
    # A trailer: outputs go on through the connector, the lamps' common return comes back in it.
    "C18": {
        "permanent": numbers((1, 6), 13, 16, 19, 22),
        "control": numbers(14, 17, 20, 23),
        "output": numbers((7, 11), 25, 27, 29, 31, 33),
        "return": numbers(12, 15, 18, 21, 24, 26, 28, 30, 32, (34, 36)),
    },
    # A horn: the button works on the ground side of the coil.
    "C07": {
        "permanent": numbers((1, 4)),
        "output": numbers(5),
        "control": numbers(7),
        "return": numbers(6, 8, 9),
    },
}


@pytest.mark.parametrize("name", EXPECTED)
def test_roles_are_those_read_off_the_diagram(name: str) -> None:
    found = roles(name)
    assert {r: {w for w in found if found[w] == r} for r in set(found.values())} == EXPECTED[name]


@pytest.mark.parametrize("name", NAMES)
def test_every_wire_of_a_reference_circuit_has_a_role(name: str) -> None:
    assert set(roles(name).values()) <= set(ROLES)


def circuit_of(parts: dict[str, str], *joins: str) -> Circuit:
    """Return a circuit of these kinds, wired by pairs of ends."""
    ends = [[End(*e.split(".")) for e in j.split()] for j in joins]
    wires = {f"w{i}": Wire(f"w{i}", f"W{i}", a, b) for i, (a, b) in enumerate(ends)}
    return Circuit(parts={k: Part(k, kind, k) for k, kind in parts.items()}, wires=wires)


BASE = {"G": "battery", "S": "switch", "K": "relay-make", "E": "lamp", "X": "ground"}


def test_a_lamp_behind_a_switch_and_a_switch_behind_a_relay_are_switched() -> None:
    circuit = circuit_of(
        {**BASE, "S2": "switch", "E2": "lamp"},
        "G.+ S.1", "S.2 E.+", "G.+ K.30", "K.87 S2.1", "S2.2 E2.+", "S.2 K.86",
    )  # fmt: skip
    assert list(wire_roles(circuit).values()) == [
        "permanent", "switched", "permanent", "output", "switched", "switched",
    ]  # fmt: skip


def test_the_suppression_over_a_coil_does_not_join_its_two_sides() -> None:
    for kind in ("relay-diode", "relay-resistor", "relay-make"):
        circuit = circuit_of({**BASE, "K": kind}, "G.+ S.1", "S.2 K.86", "K.85 X.g", "X.g G.-")
        assert list(wire_roles(circuit).values()) == ["permanent", "control", "return", "return"]


def test_a_wire_to_nowhere_has_no_role_and_an_open_end_is_no_trouble() -> None:
    circuit = circuit_of(BASE, "S.2 E.+", "G.+ S.1")
    lone = Wire("w9", "W9", End("K", "87"), None)
    odd = replace(circuit, wires={**circuit.wires, "w9": lone, "w8": Wire("w8")})
    found = wire_roles(odd)
    assert (found["w9"], found["w8"], found["w1"]) == ("", "", "permanent")


def test_roles_do_not_depend_on_the_order_of_parts_and_wires() -> None:
    for name in NAMES:
        circuit = load(FOLDER / f"{name}.voltwalk").circuit
        turned = replace(
            circuit,
            parts=dict(reversed(list(circuit.parts.items()))),
            wires=dict(reversed(list(circuit.wires.items()))),
        )
        assert wire_roles(turned) == wire_roles(circuit)
