"""What texts typed into cells make of wires and parts, and why others are refused."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

pytest.importorskip("PySide6")

from app.entry.errors import EntryError
from app.schedule.acts import Spot, filled, pasted
from app.schedule.ends import read_end
from app.schedule.part_columns import PARTS
from app.schedule.part_values import duty_brief, part_change, ratings_brief
from app.schedule.wire_columns import WIRES
from app.schedule.wire_values import wire_change, wire_text
from model.circuit import Branch, Cable, Circuit, End, Wire
from model.errors import ModelError
from model.file import load
from model.lookup import duty_of, parts_named
from model.wiresize import Size

HORN = Path(__file__).parents[2] / "circuits" / "C07.voltwalk"
KEYS = [c.key for c in WIRES.columns if c.shown]


@pytest.fixture(scope="module")
def horn() -> Circuit:
    """Return the horn circuit with a cable and two branches."""
    from dataclasses import replace

    circuit = load(HORN).circuit
    branches = {k: Branch(k, k.upper()) for k in ("b1", "b2")}
    return replace(circuit, branches=branches, cables={"c1": Cable("c1", "Door")})


def _wire(circuit: Circuit, number: str) -> Wire:
    (found,) = (w for w in circuit.wires.values() if w.number == number)
    return found


def _typed(circuit: Circuit, key: str, text: str) -> Wire:
    wire = _wire(circuit, "W05")
    change = wire_change(circuit, wire.id, key, text)
    return (change.apply(circuit) if change else circuit).wires[wire.id]


@pytest.mark.parametrize(
    ("key", "text", "field", "value"),
    [
        ("size", "0,75", "size", Size(mm2=0.75)),
        ("size", "18 awg", "size", Size(awg=18)),
        ("size", "", "size", None),
        ("length_m", "1,5 m", "length_m", 1.5),
        ("length_m", "40 cm", "length_m", 0.4),
        ("length_m", "10 ft", "length_m", 3.048),
        ("colour", "green", "colour", "GN"),
        ("colour", "rd/bu", "tracer", "BU"),
        ("found_colour", "br/ws", "found_colour", "BN/WH"),
        ("confidence", "mea", "confidence", "measured"),
        ("insulation", "thin wall", "insulation", "thin wall"),
        ("branches", "B1-B2", "branches", ("b1", "b2")),
        ("cable", "Door", "cable", "c1"),
        ("second", "open", "second", None),
        ("number", "W77", "number", "W77"),
    ],
)  # fmt: skip
def test_a_text_sets_a_value(horn: Circuit, key: str, text: str, field: str, value: Any) -> None:
    assert getattr(_typed(horn, key, text), field) == (
        pytest.approx(value) if isinstance(value, float) else value
    )


def test_terminal_seal_and_stripped_length_of_each_end(horn: Circuit) -> None:
    assert _typed(horn, "second_terminal", "ring M6").second_fit.terminal == "ring M6"
    assert _typed(horn, "first_seal", "green").first_fit.seal == "green"
    assert _typed(horn, "first_strip_m", "5 mm").first_fit.strip_m == pytest.approx(0.005)


@pytest.mark.parametrize(
    ("key", "text", "says"),
    [
        ("first", "K9.1", "No part is called"),
        ("first", "K1.99", "has no terminal “99”"),
        ("first", "K1.86 S1.2", "too much"),
        ("first", "B1.+", "Both ends"),
        ("size", "3 mm", "1.13 mm²"),
        ("length_m", "2 A", "current"),
        ("colour", "sky", "no wire colour"),
        ("tracer", "RD/BU", "one colour"),
        ("confidence", "x", "seen, measured or assumed"),
        ("branches", "B9", "there are B1 and B2"),
        ("cable", "Roof", "there is Door"),
        ("number", "W\x07", "control character"),
    ],
)
def test_a_text_that_is_no_value_is_refused_in_a_sentence(
    horn: Circuit, key: str, text: str, says: str
) -> None:
    with pytest.raises((EntryError, ModelError), match=says):
        _typed(horn, key, text)


def test_every_value_typed_as_it_reads_changes_nothing(horn: Circuit) -> None:
    for wire in horn.wires.values():
        for column in WIRES.columns:
            if column.types is not None:
                text = wire_text(horn, wire, column.key)
                assert column.types(horn, wire.id, text) is None, column.key


def test_a_part_alone_takes_the_free_terminal_that_fits(horn: Circuit) -> None:
    (relay,) = parts_named(horn, "K1")
    wire = _wire(horn, "W05")
    assert read_end(horn, "k1", wire.id, wire.second) == End(relay.id, "87")
    with pytest.raises(EntryError, match="Every terminal"):
        read_end(horn, "k1")


def test_a_block_goes_into_rows_and_on_into_new_ones_as_one_change(horn: Circuit) -> None:
    ids = list(horn.wires)[-2:]
    text = "0,5\t1 m\tRD\n0.75\t2 m\tBU/WH\n1.5\t3\tGN\n"
    done = pasted(horn, WIRES, Spot(ids, KEYS[KEYS.index("size") :]), text)
    after = done.change.apply(horn)
    made = [after.wires[i] for i in done.ids]
    assert [(w.size, w.length_m, w.colour, w.tracer) for w in made] == [
        (Size(mm2=0.5), 1.0, "RD", ""), (Size(mm2=0.75), 2.0, "BU", "WH"),
        (Size(mm2=1.5), 3.0, "GN", ""),
    ]  # fmt: skip
    assert len(after.wires) == len(horn.wires) + 1
    assert done.change.revert(after) == horn


def test_titles_say_which_columns_they_are_and_worked_out_ones_are_passed_over(
    horn: Circuit,
) -> None:
    text = "To\tAmperes\tNumber\tFrom\nK1.87\t8 A →\tH1\tS1.1\n"
    after = pasted(horn, WIRES, Spot((), KEYS), text).change.apply(horn)
    wire = _wire(after, "H1")
    assert (wire_text(after, wire, "first"), wire_text(after, wire, "second")) == ("S1.1", "K1.87")


def test_one_bad_cell_is_told_with_line_and_column_and_nothing_is_pasted(horn: Circuit) -> None:
    text = "0.5\t1 m\n3 mm\t2 m\n"
    with pytest.raises(EntryError, match=r"Line 2, Size: .*Nothing was pasted"):
        pasted(horn, WIRES, Spot(list(horn.wires), ["size", "length_m"]), text)


def test_one_cell_goes_into_every_selected_row(horn: Circuit) -> None:
    ids = list(horn.wires)
    done = pasted(horn, WIRES, Spot(ids, ["circuit"], ids[:3]), "horn")
    after = done.change.apply(horn)
    assert [after.wires[i].circuit for i in ids[:4]] == ["horn", "horn", "horn", ""]


def test_filling_down_takes_the_exact_value_of_the_first_row(horn: Circuit) -> None:
    from dataclasses import replace

    ids = list(horn.wires)[:3]
    exact = replace(horn.wires[ids[0]], length_m=1.23456789)
    circuit = replace(horn, wires={**horn.wires, ids[0]: exact})
    length = next(c for c in WIRES.columns if c.key == "length_m")
    after = filled(circuit, WIRES, ids, length).change.apply(circuit)
    assert [after.wires[i].length_m for i in ids] == [1.23456789] * 3
    number = next(c for c in WIRES.columns if c.key == "number")
    with pytest.raises(EntryError, match="cannot be the same"):
        filled(circuit, WIRES, ids, number)


def _part_typed(circuit: Circuit, reference: str, key: str, text: str) -> Circuit:
    (part,) = parts_named(circuit, reference)
    change = part_change(circuit, part.id, key, text)
    assert change is not None
    return change.apply(circuit)


def test_ratings_kind_and_rest_of_a_part_are_typed(horn: Circuit) -> None:
    (fuse,) = parts_named(_part_typed(horn, "F1", "ratings", "20 A"), "F1")
    assert fuse.ratings["rating_a"] == 20.0
    (fuse,) = parts_named(_part_typed(horn, "F1", "kind", "strip fuse"), "F1")
    assert fuse.kind == "fuse-strip"
    (button,) = parts_named(_part_typed(horn, "S1", "rest", "press"), "S1")
    assert button.rest == "PRESS"
    with pytest.raises(EntryError, match="no kind of part"):
        _part_typed(horn, "F1", "kind", "flux capacitor")


def test_a_rating_that_is_not_stated_reads_as_a_default(horn: Circuit) -> None:
    (button,) = parts_named(horn, "S1")
    assert ratings_brief(horn, button) == "5 A (default)"
    change = part_change(horn, button.id, "ratings", "5 A (default)")
    assert change is None


def test_duties_typed_hold_and_those_taken_out_do_not(horn: Circuit) -> None:
    after = _part_typed(horn, "B1", "duty", "critical, stops in crash")
    (load_,) = parts_named(after, "B1")
    duty = duty_of(after, load_)
    assert (duty.critical, duty.stops_in_crash) == (True, True)
    after = _part_typed(after, "B1", "duty", "stops in crash")
    assert duty_of(after, parts_named(after, "B1")[0]).critical is False
    assert "critical" not in duty_brief(after, parts_named(after, "B1")[0])


def test_a_part_is_placed_by_its_plain_name_and_a_wire_is_not_a_part(horn: Circuit) -> None:
    change, key = PARTS.adds(horn, "", "kind", "pump fuse 7,5 A")
    part = change.apply(horn).parts[key]
    assert (part.kind, part.ratings["rating_a"]) == ("fuse-blade", 7.5)
    with pytest.raises(EntryError, match="wires have their own table"):
        PARTS.adds(horn, "", "kind", "S1.1 K1.87")
