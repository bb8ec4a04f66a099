"""Bulk changes, new numbers and references, with exact results."""

from __future__ import annotations

from dataclasses import replace

import pytest

from model import editing
from model.circuit import Cable, Circuit, PromiseText, Wire
from model.editing import EditError
from model.kinds import Duty
from model.wiresize import Size
from tests.model.editing.small import done, lamp, parts, sheet, wires


def test_many_wires_take_the_same_values() -> None:
    circuit = lamp()
    edit = editing.set_wires(
        circuit, ["w2", "w3"], size=Size(awg=14), colour="BN", tracer="WH", insulation="FLRY"
    )
    after = done(circuit, edit)
    for key in ("w2", "w3"):
        assert after.wires[key] == replace(
            circuit.wires[key], size=Size(awg=14), colour="BN", tracer="WH", insulation="FLRY"
        )
    assert after.wires["w1"] == circuit.wires["w1"]
    assert edit.change.label == "Change size, colour, tracer … of W2, W3"
    assert (
        done(circuit, editing.set_wires(circuit, ["w2"], length_m=None)).wires["w2"].length_m
        is None
    )


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"first": None}, "“first” is nothing wires share"),
        ({"length_m": -1.0}, "“m” cannot be -1"),
        ({"length_m": float("nan")}, "cannot be"),
        ({"confidence": "sure"}, "“confidence” cannot be"),
        ({"colour": "R\x07D"}, "control characters out"),
        ({"size": 2.5}, "of the wrong sort"),
        ({"cable": "zz"}, "no cable “zz”"),
        ({"branches": ("zz",)}, "no branch “zz”"),
    ],
)
def test_a_value_no_file_takes_is_refused(fields: dict[str, object], said: str) -> None:
    with pytest.raises(EditError, match=said):
        editing.set_wires(lamp(), ["w1"], **fields)


def test_a_cable_that_is_there_is_taken() -> None:
    circuit = replace(lamp(), cables={"k": Cable("k", "Lamp cable")})
    after = done(circuit, editing.set_wires(circuit, circuit.wires, cable="k"))
    assert {w.cable for w in after.wires.values()} == {"k"}


def test_a_rating_is_set_where_a_part_has_it() -> None:
    circuit = lamp()
    edit = editing.set_ratings(circuit, ["f1", "s1", "e1"], "rating_a", 7.5)
    after = done(circuit, edit)
    assert after.parts["f1"].ratings == {"rating_a": 7.5}
    assert after.parts["s1"] == circuit.parts["s1"]
    assert edit.notes == ("S1, E1: no such rating, left as it is.",)
    assert edit.ids == {"f1"}
    back = done(after, editing.set_ratings(after, ["f1"], "rating_a", None))
    assert back == circuit
    with pytest.raises(EditError, match="None of S1 has “rating_a”"):
        editing.set_ratings(circuit, ["s1"], "rating_a", 5.0)
    with pytest.raises(EditError, match="“rating_a” cannot be -5"):
        editing.set_ratings(circuit, ["f1"], "rating_a", -5.0)
    with pytest.raises(EditError, match="“law” cannot be"):
        editing.set_ratings(circuit, ["e1"], "law", "magic")


def test_parts_share_words_and_what_is_stated_of_a_duty() -> None:
    circuit = lamp()
    stated = replace(circuit.parts["e1"], duty=Duty(critical=True, off_at_rest=True))
    circuit = replace(circuit, parts={**circuit.parts, "e1": stated})
    edit = editing.set_parts(circuit, ["e1", "s1"], location="dash", duty=Duty(critical=False))
    after = done(circuit, edit)
    assert after.parts["e1"].duty == Duty(critical=False, off_at_rest=True)
    assert after.parts["s1"].duty == Duty(critical=False)
    assert after.parts["s1"].location == "dash"
    with pytest.raises(EditError, match="“kind” is nothing parts share"):
        editing.set_parts(circuit, ["e1"], kind="lamp")


def _numbers(circuit: Circuit) -> dict[str, str]:
    return {k: w.number for k, w in circuit.wires.items()}


def test_wires_are_numbered_in_the_order_of_the_file() -> None:
    circuit = lamp()
    circuit = replace(circuit, wires=dict(reversed([*circuit.wires.items()])))
    after = done(circuit, editing.renumber_wires(circuit))
    assert _numbers(after) == {"w5": "W1", "w4": "W2", "w3": "W3", "w2": "W4", "w1": "W5"}
    some = done(circuit, editing.renumber_wires(circuit, ["w1", "w5"], prefix="W", width=2))
    assert _numbers(some) == {"w5": "W01", "w4": "W4", "w3": "W3", "w2": "W2", "w1": "W02"}
    skipping = done(circuit, editing.renumber_wires(circuit, ["w1", "w5"]))
    assert _numbers(skipping) == {"w5": "W1", "w4": "W4", "w3": "W3", "w2": "W2", "w1": "W5"}


def test_wires_are_numbered_from_left_to_right_across_the_drawing() -> None:
    circuit = lamp()
    shown = sheet(g1=(900, 0), f1=(600, 0), s1=(300, 0), e1=(0, 0), x1=(0, 300), x2=(900, 300))
    after = done(circuit, editing.renumber_wires(circuit, None, "drawing", shown))
    assert _numbers(after) == {"w4": "W1", "w3": "W2", "w2": "W3", "w1": "W4", "w5": "W5"}
    with pytest.raises(EditError, match="no order “sideways”"):
        editing.renumber_wires(circuit, None, "sideways")


def test_sheets_are_numbered_one_after_the_other() -> None:
    """W1 to W5 of the lamp lead battery, fuse, switch, lamp, ground; the lamp's sheet is second."""
    circuit = lamp()
    first = replace(sheet(s1=(900, 0), f1=(300, 0), g1=(600, 0), x2=(600, 300)), id="s1")
    second = replace(sheet(e1=(0, 0), x1=(0, 300)), id="s2")
    circuit = replace(circuit, sheets={"s1": first, "s2": second})
    for shown in (None, first, second):
        after = done(circuit, editing.renumber_wires(circuit, None, "drawing", shown))
        assert _numbers(after) == {"w1": "W1", "w2": "W2", "w5": "W3", "w3": "W4", "w4": "W5"}


def test_references_are_given_letter_by_letter() -> None:
    circuit = Circuit(parts("F7 fuse-blade", "K9 relay-make", "F3 fuse-blade", "S1 switch"))
    circuit = replace(circuit, sheets={"s1": sheet(f7=(500, 0), k9=(0, 0), f3=(100, 0))})
    refs = {k: p.reference for k, p in
            done(circuit, editing.renumber_parts(circuit)).parts.items()}  # fmt: skip
    assert refs == {"f7": "F1", "k9": "K1", "f3": "F2", "s1": "S1"}
    by_place = done(circuit, editing.renumber_parts(circuit, None, "drawing"))
    refs = {k: p.reference for k, p in by_place.parts.items()}
    assert refs == {"f7": "F2", "k9": "K1", "f3": "F1", "s1": "S1"}
    one = done(circuit, editing.renumber_parts(circuit, ["f7"]))
    assert one.parts["f7"].reference == "F1"


def test_promises_follow_new_names_and_swapped_ones() -> None:
    circuit = Circuit(
        parts("K2 relay-make", "K1 relay-make", "M10 pump"), wires("k2.30 k1.30"),
        promises={"p": PromiseText("p", "K1 pulls before K2; K1.87 feeds M10 by W1, never M1.")},
    )  # fmt: skip
    after = done(circuit, editing.renumber_parts(circuit))
    assert after.promises["p"].text == "K2 pulls before K1; K2.87 feeds M1 by W1, never M1."
    renamed = done(circuit, editing.rename_wire(circuit, "w1", "L5"))
    assert renamed.promises["p"].text.endswith("feeds M10 by L5, never M1.")


def test_a_name_of_two_things_is_left_in_the_promises() -> None:
    circuit = Circuit(parts("K1 relay-make"), promises={"p": PromiseText("p", "K1 pulls.")})
    twin = replace(circuit.parts["k1"], id="k")
    circuit = replace(circuit, parts={**circuit.parts, "k": twin})
    edit = editing.rename_part(circuit, "k", "K5")
    assert done(circuit, edit).promises["p"].text == "K1 pulls."
    taken = editing.rename_part(done(circuit, edit), "k", "K1")
    assert taken.notes == ("Another part is called K1, too.",)
    assert taken.change.label == "Rename K5 to K1"


def test_thousands_of_wires_are_changed_at_once() -> None:
    """A bulk change takes a time that grows with the wires, not with their square."""
    from time import process_time

    circuit = Circuit(wires={f"w{i}": Wire(f"w{i}", f"W{i}") for i in range(20_000)})
    start = process_time()
    after = editing.set_wires(circuit, circuit.wires, colour="RD").change.apply(circuit)
    after = editing.renumber_wires(after).change.apply(after)
    took = process_time() - start
    assert {w.colour for w in after.wires.values()} == {"RD"}
    assert took < 5.0


def test_names_with_control_characters_are_refused() -> None:
    said = "take the control character out"
    with pytest.raises(EditError, match=said):
        editing.rename_part(lamp(), "f1", "F\n1")
    with pytest.raises(EditError, match=said):
        editing.rename_wire(lamp(), "w1", "W\x00")
    with pytest.raises(EditError, match=said):
        editing.renumber_wires(lamp(), prefix="\u202e")
