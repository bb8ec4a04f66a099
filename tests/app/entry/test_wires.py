"""Wires typed by their two ends, with size, colour, length and number in any order."""

from __future__ import annotations

from itertools import permutations

import pytest

from app.entry.ends import end_text
from model.wiresize import Size
from tests.app.entry.typed import Typist, pump_parts


def ends(typist: Typist, number: str) -> tuple[str, str]:
    """Return both ends of a wire as they are typed."""
    wire = typist.wire(number)
    return end_text(typist.circuit, wire.first), end_text(typist.circuit, wire.second)


ENDS = [
    ("S1.2 K1.86", ("S1.2", "K1.86")),
    ("K1.86 S1.2", ("K1.86", "S1.2")),
    ("s1.2 k1.86", ("S1.2", "K1.86")),
    ("S1 2 K1 86", ("S1.2", "K1.86")),
    ("K1 86 S1.2", ("K1.86", "S1.2")),
    ("G1.- X1", ("G1.-", "X1.g")),
    ("G1.− X1.g", ("G1.-", "X1.g")),
    ("X1 G1", ("X1.g", "G1.-")),
    ("F1 G1", ("F1.1", "G1.+")),
    ("M1 X1", ("M1.-", "X1.g")),
    ("K1 X1", ("K1.85", "X1.g")),
    ("S1.2 open", ("S1.2", "open")),
    ("open S1.2", ("open", "S1.2")),
    ("K1.30 K1.86", ("K1.30", "K1.86")),
]


@pytest.mark.parametrize(("line", "expected"), ENDS)
def test_ends(line: str, expected: tuple[str, str]) -> None:
    typist = pump_parts()
    typist.types(line)
    assert ends(typist, "W1") == expected


def test_the_free_terminal_of_a_part_alone_is_taken() -> None:
    typist = pump_parts().all(("F1.1 G1.+", "F1 K1.30"))
    assert ends(typist, "W2") == ("F1.2", "K1.30")


def test_faces_of_a_connector() -> None:
    typist = pump_parts().all(("connector 4 ways", "X2.3/b K1.86", "X2.3 S1.2", "X2.1 S1.1"))
    assert [ends(typist, f"W{i}")[0] for i in (1, 2, 3)] == ["X2.3/b", "X2.3/a", "X2.1/a"]


WORDS = ("0.75", "YE", "1 m", "W7")


@pytest.mark.parametrize("order", list(permutations(WORDS)))
def test_facts_in_any_order(order: tuple[str, ...]) -> None:
    typist = pump_parts()
    typist.types("S1.2 K1.86 " + " ".join(order))
    wire = typist.wire("W7")
    assert (wire.size, wire.colour, wire.length_m) == (Size(mm2=0.75), "YE", 1.0)


FACTS = [
    ("0,75", Size(mm2=0.75), "", "", None),
    ("0.75mm2", Size(mm2=0.75), "", "", None),
    ("2.5 mm²", Size(mm2=2.5), "", "", None),
    ("18 AWG", Size(awg=18), "", "", None),
    ("AWG 18", Size(awg=18), "", "", None),
    ("2/0 AWG", Size(awg=-1), "", "", None),
    ("RDBU", None, "RD", "BU", None),
    ("RD/BU", None, "RD", "BU", None),
    ("RD BU", None, "RD", "BU", None),
    ("red", None, "RD", "", None),
    ("red blue", None, "RD", "BU", None),
    ("ro/bl", None, "RD", "BU", None),
    ("1,5 m", None, "", "", 1.5),
    ("1.5m", None, "", "", 1.5),
    ("30 cm", None, "", "", 0.3),
    ("300 mm", None, "", "", 0.3),
    ("2 ft", None, "", "", 0.6096),  # 1 ft = 0.3048 m exactly
    ("16 BK 0.3 m", Size(mm2=16.0), "BK", "", 0.3),
]


@pytest.mark.parametrize(("text", "size", "colour", "tracer", "length"), FACTS)
def test_facts(
    text: str, size: Size | None, colour: str, tracer: str, length: float | None
) -> None:
    typist = pump_parts()
    typist.types(f"S1.2 K1.86 {text}")
    wire = typist.wire("W1")
    assert (wire.size, wire.colour, wire.tracer, wire.length_m) == (size, colour, tracer, length)


def test_what_is_not_typed_is_taken_from_the_last_wire_and_shown() -> None:
    typist = pump_parts().all(("S1.2 K1.86 0.75 YE 1 m", "S1.1 F1.2", "F1.1 G1.+ RD"))
    assert typist.said[-3:] == [
        "W1: S1.2 to K1.86, 0.75 mm² YE, 1 m",
        "W2: S1.1 to F1.2, 0.75 mm² YE, 1 m (size, colour and length as the last wire)",
        "W3: F1.1 to G1.+, 0.75 mm² RD, 1 m (size and length as the last wire)",
    ]


def test_a_wire_to_ground_starts_black_and_the_last_colour_stays() -> None:
    typist = pump_parts().all(("S1.2 K1.86 0.75 YE 1 m", "K1.85 X1", "S1.1 F1.2"))
    assert [typist.wire(n).colour for n in ("W2", "W3")] == ["BK", "YE"]


def test_a_question_mark_leaves_the_rest_unknown() -> None:
    typist = pump_parts().all(("S1.2 K1.86 0.75 YE 1 m", "K1.87 M1.+ 2.5 ?"))
    wire = typist.wire("W2")
    assert (wire.size, wire.colour, wire.length_m) == (Size(mm2=2.5), "", None)


def test_several_wires_in_a_line() -> None:
    typist = pump_parts()
    entry = typist.types("S1.2 K1.86 0,75 YE 1 m | K1.85 X1.g BK, K1.87 M1.+,M1.- X1.g 2,5")
    assert entry.change.label == "Wire W1 and 3 more"
    assert [ends(typist, f"W{i}") for i in (1, 2, 3, 4)] == [
        ("S1.2", "K1.86"),
        ("K1.85", "X1.g"),
        ("K1.87", "M1.+"),
        ("M1.-", "X1.g"),
    ]
    assert typist.wire("W4").size == Size(mm2=2.5)


def test_parts_and_wires_in_one_line() -> None:
    typist = Typist()
    typist.types("battery, fuse 15 A, G1.+ F1 2.5 RD 0.3 m")
    assert ends(typist, "W1") == ("G1.+", "F1.1")


def test_a_chain_passes_through_parts_alone() -> None:
    typist = pump_parts().all(("G1.+ F1 S1 K1.86 0.75 RD 1 m",))
    assert [ends(typist, f"W{i}") for i in (1, 2, 3)] == [
        ("G1.+", "F1.1"),
        ("F1.2", "S1.1"),
        ("S1.2", "K1.86"),
    ]
    assert {w.size for w in typist.circuit.wires.values()} == {Size(mm2=0.75)}


def test_a_chain_of_named_terminals_does_not_bridge_a_part() -> None:
    typist = pump_parts().all(("G1.+ F1.1 F1.2 S1.1",))
    assert [ends(typist, f"W{i}") for i in (1, 2)] == [("G1.+", "F1.1"), ("F1.2", "S1.1")]


def test_a_chain_through_a_splice_joins_both_wires_there() -> None:
    typist = pump_parts().all(("splice SP1", "F1.2 SP1 S1.1"))
    assert [ends(typist, f"W{i}") for i in (1, 2)] == [("F1.2", "SP1.s"), ("SP1.s", "S1.1")]


def test_a_number_may_come_first() -> None:
    typist = pump_parts().all(("W7 S1.2 K1.86", "K1.85 X1"))
    assert ends(typist, "W7") == ("S1.2", "K1.86")
    assert ends(typist, "W8") == ("K1.85", "X1.g")
