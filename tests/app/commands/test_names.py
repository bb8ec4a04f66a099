"""People's names: unique in the output, and found again."""

from __future__ import annotations

from dataclasses import replace

import pytest

from app.commands.errors import WrongCall
from app.commands.names import Names, Target, match, numbered, suggestion
from checks.sketch import sketch
from model.circuit import Circuit

PLAIN = """
G1 battery
X1 connector ways=2
K1 relay-make
M1 pump
W1 G1.+ X1.1
W2 X1.1/b K1.30
W3 K1.87 M1.+
"""


def with_part(circuit: Circuit, part_id: str, **changes: object) -> Circuit:
    part = replace(circuit.parts[part_id], **changes)  # type: ignore[arg-type]
    return replace(circuit, parts={**circuit.parts, part_id: part})


def test_a_part_and_a_wire_are_found() -> None:
    names = Names(sketch(PLAIN))
    assert names.find("K1") == Target("parts", "K1")
    assert names.find("w2") == Target("wires", "W2")
    assert names.find("K2") is None


def test_a_reference_that_repeats_is_refused_and_shown_numbered() -> None:
    names = Names(with_part(sketch(PLAIN), "M1", reference="K1"))
    assert names.parts == {"G1": "G1", "X1": "X1", "K1": "K1 (1)", "M1": "K1 (2)"}
    with pytest.raises(WrongCall, match="“K1” names 2 parts"):
        names.find("K1")


def test_a_part_and_a_wire_of_one_name_are_refused() -> None:
    names = Names(with_part(sketch(PLAIN), "M1", reference="W1"))
    with pytest.raises(WrongCall, match="parts or wires"):
        names.find("W1")


def test_without_a_reference_the_name_or_the_kind_counts() -> None:
    circuit = with_part(sketch(PLAIN), "M1", reference="", name="fuel pump")
    circuit = with_part(circuit, "K1", reference="")
    names = Names(circuit)
    assert names.find("fuel pump") == Target("parts", "M1")
    assert names.find("relay-make") == Target("parts", "K1")


def test_a_wire_without_a_number_is_named_by_its_ends() -> None:
    circuit = sketch(PLAIN)
    wires = {**circuit.wires, "W3": replace(circuit.wires["W3"], number="", second=None)}
    names = Names(replace(circuit, wires=wires))
    assert names.wires["W3"] == "K1.87 > open"
    assert names.find("K1.87 > open") == Target("wires", "W3")


def test_terminals_bear_their_markings_and_the_far_face_its_letter() -> None:
    circuit = with_part(sketch(PLAIN), "K1", markings=(("87", "5"), ("30", "3")))
    names = Names(circuit)
    assert names.terminals(circuit.parts["K1"]) == {"30": "3", "86": "86", "87": "5", "85": "85"}
    shown = names.terminals(circuit.parts["X1"])
    assert shown == {"1/a": "1", "2/a": "2", "1/b": "1/b", "2/b": "2/b"}


def test_capitals_need_not_match_unless_that_leaves_two() -> None:
    assert match("on", ["OFF", "ON"]) == "ON"
    assert match("on", ["On", "ON"]) is None
    assert match("ON", ["On", "ON"]) == "ON"


def test_repeated_names_are_numbered_in_order() -> None:
    assert numbered({"a": "E1", "b": "M1", "c": "E1"}) == {"a": "E1 (1)", "b": "M1", "c": "E1 (2)"}


def test_what_is_suggested() -> None:
    assert suggestion("K11", ["K1", "M1"]) == "did you mean K1?"
    assert suggestion("zzz", ["K1", "M1"]) == "there are K1, M1"
    assert suggestion("zzz", []) == "there are none"
    assert suggestion("zzz", [f"S{i}" for i in range(20)]).endswith("S11 and 8 more")
