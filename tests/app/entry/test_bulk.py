"""One text said of several things at once."""

from __future__ import annotations

from app.entry import Entry, Refusal
from app.entry.bulk import change_all
from model.wiresize import Size
from tests.app.entry.typed import Typist


def made() -> Typist:
    return Typist().all(("battery", "2 pumps", "fuse 15 A", "G1.+ F1.1", "F1.2 M1.+", "F1.2 M2.+"))


def test_wires_take_size_colour_and_length() -> None:
    typist = made()
    wires = list(typist.circuit.wires)
    found = change_all(typist.circuit, wires, "2,5 RD/WH 0,8 m")
    assert isinstance(found, Entry)
    after = found.change.apply(typist.circuit)
    for wire in after.wires.values():
        assert (wire.size, wire.length_m) == (Size(mm2=2.5), 0.8)
        assert (wire.colour, wire.tracer) == ("RD", "WH")
    assert found.change.revert(after) == typist.circuit
    assert found.change.label == "Change W1, W2, W3"


def test_parts_take_ratings_and_refuse_as_one() -> None:
    typist = made()
    pumps = [typist.part("M1").id, typist.part("M2").id]
    found = change_all(typist.circuit, pumps, "8 A")
    assert isinstance(found, Entry)
    after = found.change.apply(typist.circuit)
    assert [after.parts[p].ratings["current_a"] for p in pumps] == [8.0, 8.0]
    mixed = change_all(typist.circuit, [*pumps, typist.part("F1").id], "start 3")
    assert isinstance(mixed, Refusal)


def test_of_wires_and_parts_together_those_change_that_the_text_fits() -> None:
    typist = made()
    both = [typist.part("M1").id, *typist.circuit.wires]
    wires = change_all(typist.circuit, both, "GN")
    assert isinstance(wires, Entry) and set(wires.made) == set(typist.circuit.wires)
    parts = change_all(typist.circuit, both, "9 A")
    assert isinstance(parts, Entry) and parts.made == (typist.part("M1").id,)


def test_nothing_selected_or_typed_says_what_to_do() -> None:
    typist = made()
    nothing = change_all(typist.circuit, [], "8 A")
    assert isinstance(nothing, Refusal) and "select" in nothing.sentence
    blank = change_all(typist.circuit, list(typist.circuit.wires), "  ")
    assert isinstance(blank, Refusal) and "W1" in blank.sentence


def test_duties_circuits_confidence_and_notes_are_said_of_all() -> None:
    typist = made()
    pumps = [typist.part("M1").id, typist.part("M2").id]
    wires = list(typist.circuit.wires)
    duty = change_all(typist.circuit, pumps, "duty critical")
    assert isinstance(duty, Entry)
    after = duty.change.apply(typist.circuit)
    assert [after.parts[p].duty.critical for p in pumps] == [True, True]
    assert isinstance(change_all(typist.circuit, wires, "duty critical"), Refusal)
    for text, field, value in (
        ("circuit fuel feed", "circuit", "fuel feed"),
        ("measured", "confidence", "measured"),
        ("note found loose", "note", "found loose"),
    ):
        found = change_all(typist.circuit, wires, text)
        assert isinstance(found, Entry)
        after = found.change.apply(typist.circuit)
        assert {getattr(w, field) for w in after.wires.values()} == {value}
        assert found.change.revert(after) == typist.circuit
    both = change_all(typist.circuit, [*pumps, *wires], "note checked")
    assert isinstance(both, Entry) and set(both.made) == {*pumps, *wires}


def test_what_holds_now_is_told_and_several_where_they_differ() -> None:
    typist = made()
    pumps = [typist.part("M1").id, typist.part("M2").id]
    stated = change_all(typist.circuit, pumps[:1], "9 A")
    assert isinstance(stated, Entry)
    after = stated.change.apply(typist.circuit)
    same = change_all(typist.circuit, pumps, "")
    differ = change_all(after, pumps, "")
    assert isinstance(same, Refusal) and isinstance(differ, Refusal)
    assert "several" not in same.sentence
    assert "several" in differ.sentence
    kinds = change_all(after, [*pumps, typist.part("F1").id], "")
    assert isinstance(kinds, Refusal) and "several kinds" in kinds.sentence
