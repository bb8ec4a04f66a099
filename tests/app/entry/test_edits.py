"""Changes typed by naming the thing first, or after name, rename and delete."""

from __future__ import annotations

import pytest

from app.entry.ends import end_text
from model.wiresize import Size
from tests.app.entry.typed import Typist, pump_parts

PART_EDITS = [
    ("K1 coil 85 ohm", "K1", {"coil_ohm": 85.0}, "K1: coil 85 Ω"),
    ("k1 coil 85 Ω", "K1", {"coil_ohm": 85.0}, "K1: coil 85 Ω"),
    ("K1 85 ohm", "K1", {"coil_ohm": 85.0}, "K1: coil 85 Ω"),
    ("K1 contact 30 A", "K1", {"contact_a": 30.0}, "K1: contact 30 A"),
    ("K1 diode", "K1", {"suppression": "diode"}, "K1: suppression diode"),
    ("K1 suppression resistor", "K1", {"suppression": "resistor"}, "K1: suppression resistor"),
    ("M1 8 A", "M1", {"current_a": 8.0}, "M1: 8 A"),
    ("M1 96 W", "M1", {"current_a": 8.0}, "M1: 8 A"),  # 96 W / 12 V
    ("M1 law resistor 1.5 ohm", "M1", {"law": "resistor", "resistance_ohm": 1.5}, ""),
    ("F1 2 A", "F1", {"rating_a": 2.0}, "F1: 2 A"),  # not terminal 2
    ("F1 15 A", "F1", {"rating_a": 15.0}, "F1: 15 A"),
    ("F1 30", "F1", {"rating_a": 30.0}, "F1: 30 A"),
]


@pytest.mark.parametrize(("line", "reference", "ratings", "preview"), PART_EDITS)
def test_ratings(line: str, reference: str, ratings: dict[str, object], preview: str) -> None:
    typist = pump_parts()
    entry = typist.types(line)
    assert typist.part(reference).ratings == ratings
    assert entry.change.label == f"Change {reference}"
    assert preview in ("", entry.preview)


def test_rest_name_positions_and_ways() -> None:
    typist = pump_parts().all(
        ("S1 rest ON", 'K1 "pump relay"', "connector 4 ways", "X2 8 ways", "S1 STOP RUN")
    )
    assert (typist.part("S1").rest, typist.part("K1").name) == ("RUN", "pump relay")
    assert typist.part("X2").ways == 8


def test_name_and_rename_keep_every_link() -> None:
    typist = pump_parts().all(
        ("S1.2 K1.86", "name K1 pump relay", "rename K1 K7", "rename W1 W12", "name F1 3 A spare")
    )
    wire = typist.wire("W12")
    assert typist.part("K7").name == "pump relay"
    assert end_text(typist.circuit, wire.second) == "K7.86"
    assert typist.part("F1").name == "3 A spare"


WIRE_EDITS = [
    ("W1 2.5", (Size(mm2=2.5), "YE", "", 1.0)),
    ("w1 2,5", (Size(mm2=2.5), "YE", "", 1.0)),
    ("W1 2.5 mm² 1.2 m RD", (Size(mm2=2.5), "RD", "", 1.2)),
    ("W1 RD/BU", (Size(mm2=0.75), "RD", "BU", 1.0)),
    ("W1 14 AWG", (Size(awg=14), "YE", "", 1.0)),
    ("W1 ?", (None, "", "", None)),
]


@pytest.mark.parametrize(("line", "expected"), WIRE_EDITS)
def test_facts_of_a_wire(line: str, expected: tuple[object, ...]) -> None:
    typist = pump_parts().all(("S1.2 K1.86 0.75 YE 1 m", line))
    wire = typist.wire("W1")
    assert (wire.size, wire.colour, wire.tracer, wire.length_m) == expected
    assert end_text(typist.circuit, wire.first) == "S1.2"


def test_ends_of_a_wire_are_moved() -> None:
    typist = pump_parts().all(("S1.2 K1.86 0.75 YE 1 m", "W1 S1.2 K1.85 1.5"))
    wire = typist.wire("W1")
    assert end_text(typist.circuit, wire.second) == "K1.85"
    assert wire.size == Size(mm2=1.5)


def test_delete_takes_wires_along_and_says_so() -> None:
    typist = pump_parts().all(("S1.2 K1.86, K1.85 X1, K1.87 M1.+",))
    entry = typist.types("delete K1 W1")
    assert entry.preview == "Delete K1, W1 with 2 wires"
    assert not typist.circuit.wires
    assert len(typist.circuit.parts) == 5


def test_a_line_of_several_changes_is_one_undo() -> None:
    typist = Typist()
    before = typist.circuit
    entry = typist.types("relay, K1 coil 85 ohm, name K1 pump relay, rename K1 K7")
    assert entry.change.label == "Place K1 and 3 more"
    assert entry.change.revert(typist.circuit) == before
