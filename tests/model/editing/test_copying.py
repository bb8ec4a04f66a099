"""Copy, cut, paste and duplicate, with exact results."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from model import editing
from model.circuit import Cable, Circuit, OwnKind, Part, Route, Settings, Sheet, Wire
from model.editing import EditError
from model.file import loads
from model.kinds import KINDS
from tests.model.editing.small import done, end, joins, lamp, parts, sheet, wires


def test_a_copy_can_be_read_by_hand() -> None:
    circuit = lamp()
    text = editing.copy_text(circuit, ["f1", "s1", "w3"])
    assert text == (
        '{"voltwalk": 1,\n'
        '"parts": [\n'
        '{"id": "f1", "kind": "fuse-blade", "ref": "F1"},\n'
        '{"id": "s1", "kind": "switch", "ref": "S1"}\n'
        "],\n"
        '"wires": [\n'
        '{"id": "w2", "no": "W2", "from": "f1.2", "to": "s1.1", "mm2": 1.5, "m": 2, '
        '"colour": "RD"},\n'
        '{"id": "w3", "no": "W3", "from": "s1.2", "mm2": 1.5, "m": 2, "colour": "RD"}\n'
        "],\n"
        '"sheets": [\n'
        '{"id": "s1", "name": "Sheet 1", "places": [\n'
        '{"id": "cf1", "part": "f1", "x": 200, "y": 0},\n'
        '{"id": "cs1", "part": "s1", "x": 400, "y": 0}\n'
        "]}\n"
        "]\n"
        "}\n"
    )
    assert loads(text).warnings == ()


def test_a_wire_with_an_end_outside_stays_behind_unless_it_was_chosen() -> None:
    text = editing.copy_text(lamp(), ["s1"])
    assert not loads(text).circuit.wires
    text = editing.copy_text(lamp(), ["s1", "w2", "w3"])
    assert joins(loads(text).circuit) == {"W2": "- s1.1", "W3": "s1.2 -"}


def test_what_is_pasted_beside_itself_gets_the_next_names() -> None:
    circuit = lamp()
    text = editing.copy_text(circuit, ["f1", "s1"], circuit.sheets["s1"])
    edit = editing.paste(circuit, text, circuit.sheets["s1"], (300.0, 500.0))
    after = done(circuit, edit)
    new = [after.parts[p] for p in after.parts if p not in circuit.parts]
    assert [(p.id, p.reference) for p in new] == [("p1", "F2"), ("p2", "S2")]
    assert joins(after) == joins(circuit) | {"W6": "p1.2 p2.1"}
    assert edit.ids == {"p1", "p2", "w6"}
    assert edit.change.label == "Paste F2, S2"
    at = {p.part: (p.x, p.y) for p in after.sheets["s1"].places.values()}
    assert at["p2"][0] - at["p1"][0] == 200
    assert at["p1"][1] == at["p2"][1] == 500
    assert abs((at["p1"][0] + at["p2"][0]) / 2 - 300) <= 10


def test_in_an_empty_circuit_names_stay_as_they_are_and_a_sheet_is_made() -> None:
    text = editing.copy_text(lamp(), lamp().parts)
    after = done(Circuit(), editing.paste(Circuit(), text, Sheet("s9", "New")))
    assert [p.reference for p in after.parts.values()] == ["G1", "F1", "S1", "E1", "X1", "X2"]
    assert [w.number for w in after.wires.values()] == ["W1", "W2", "W3", "W4", "W5"]
    assert [(s.id, s.name, len(s.places)) for s in after.sheets.values()] == [("s9", "New", 6)]


def test_text_around_a_copy_is_passed_over() -> None:
    text = "Try this:\n```\n" + editing.copy_text(lamp(), ["f1"]) + "```\nand tell me."
    edit = editing.paste(Circuit(), text, Sheet("s1"))
    assert edit.change.label == "Paste F1"


def test_kept_routes_between_copied_parts_go_along_with_them() -> None:
    circuit = lamp()
    shown = circuit.sheets["s1"]
    shown = replace(shown, routes={"w2": Route("w2", ((300.0, 0.0), (300.0, 40.0)))})
    circuit = replace(circuit, sheets={"s1": shown})
    after = done(circuit, editing.duplicate(circuit, ["f1", "s1"], shown, (300.0, 800.0)))
    old = after.sheets["s1"].places["cf1"]
    new = next(p for p in after.sheets["s1"].places.values() if p.part == "p1")
    dx, dy = new.x - old.x, new.y - old.y
    assert after.sheets["s1"].routes["w6"].bends == ((300 + dx, dy), (300 + dx, 40 + dy))


def test_a_duplicate_stands_clear_of_every_card() -> None:
    circuit = lamp()
    edit = editing.duplicate(circuit, ["s1"], circuit.sheets["s1"])
    after = done(circuit, edit)
    place = next(p for p in after.sheets["s1"].places.values() if p.part == "p1")
    assert (place.x, place.y) != (400, 0)
    assert place.x % 10 == place.y % 10 == 0
    assert edit.change.label == "Duplicate S2"


def test_guests_go_with_their_host_and_without_it_leave_it() -> None:
    made = parts("X1 fuse-box", "F1 fuse-blade", "F2 fuse-blade")
    made = {k: replace(p, host="x1", slot=k[1]) if k != "x1" else p for k, p in made.items()}
    circuit = Circuit(made)
    after = done(circuit, editing.duplicate(circuit, ["x1"], Sheet("s1")))
    new = {p.reference: (p.host, p.slot) for p in after.parts.values() if p.id.startswith("p")}
    assert new == {"X2": ("", ""), "F3": ("p1", "1"), "F4": ("p1", "2")}
    alone = loads(editing.copy_text(circuit, ["f1"])).circuit
    assert (alone.parts["f1"].host, alone.parts["f1"].slot) == ("", "")


def _with_own(title: str) -> Circuit:
    kind = replace(KINDS["resistor"], key="own-r", title=title)
    return Circuit(
        {"r": Part("r", "own-r", "R1")},
        {"w1": Wire("w1", "W1", cable="k1")},
        cables={"k1": Cable("k1", title)},
        own_kinds={"own-r": OwnKind("own-r", kind)},
    )


def test_own_kinds_and_cables_come_along_and_never_replace_others() -> None:
    ours, theirs = _with_own("ours"), _with_own("theirs")
    same = done(ours, editing.duplicate(ours, ["r", "w1"], Sheet("s1")))
    assert (list(same.own_kinds), list(same.cables)) == (["own-r"], ["k1"])
    text = editing.copy_text(theirs, ["r", "w1"])
    after = done(ours, editing.paste(ours, text, Sheet("s1")))
    assert {k: o.kind.title for k, o in after.own_kinds.items()} == {
        "own-r": "ours", "kind1": "theirs",
    }  # fmt: skip
    assert after.parts["p1"].kind == "kind1"
    assert after.cables[after.wires["w2"].cable].name == "theirs"
    again = done(after, editing.paste(after, text, Sheet("s1")))
    assert list(again.own_kinds) == ["own-r", "kind1"]


def test_another_voltage_is_told() -> None:
    text = editing.copy_text(replace(lamp(), settings=Settings(nominal_v=24.0)), ["e1"])
    edit = editing.paste(Circuit(), text, Sheet("s1"))
    assert edit.notes == ("It comes from a 24 V circuit into one of 12 V: look over its ratings.",)


def test_cutting_gives_the_text_and_takes_the_parts_with_their_wires() -> None:
    circuit = lamp()
    text, edit = editing.cut(circuit, ["s1", "e1"])
    after = done(circuit, edit)
    assert list(after.parts) == ["g1", "f1", "x1", "x2"]
    assert joins(after) == {"W1": "g1.+ f1.1", "W5": "x2.g g1.-"}
    assert joins(loads(text).circuit) == {"W3": "s1.2 e1.+"}
    assert edit.change.label == "Cut S1, E1"
    back = editing.paste(after, text, after.sheets["s1"]).change.apply(after)
    assert [p.reference for p in back.parts.values()][-2:] == ["S1", "E1"]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "The pasted text is no part of a circuit"),
        ("Ring me at noon.", "The pasted text is no part of a circuit"),
        ('{"voltwalk": 1}', "The pasted text holds no parts and no wires"),
        ('{"voltwalk": 1, "parts": [{"id": "a", "kind": "no such"}]}', "the kind “no such”"),
        ('{"voltwalk": 1, "parts": [{"id": "a", "kind": "lamp"}', "cut off"),
        ('{"voltwalk": 1, "parts": [{"id": "a.b", "kind": "lamp"}]}', "without . and /"),
        ('{"voltwalk": 1, "wires": [{"id": "w", "from": "x.1"}]}', "no such part"),
        ('{"voltwalk": 1, "parts": [{"id": "a", "kind": "lamp", "ref": "\\u202eK1"}]}', "control"),
        ('{"voltwalk": 1, "nominal_v": NaN}', "NaN is no number"),
        ('{"voltwalk": 1, "x": ' + "[" * 100_000 + "}", "nested without end"),
        ('{"voltwalk": 1' + " " * 9_000_000 + "}", "more than any circuit"),
    ],
    ids=range(11),
)  # fmt: skip
def test_hostile_text_is_refused_with_one_sentence(text: str, said: str) -> None:
    with pytest.raises(EditError, match=re.escape(said)) as caught:
        editing.paste(lamp(), text, sheet())
    message = str(caught.value)
    assert message.endswith(".")
    assert len(message) < 300


def test_nothing_selected_is_told() -> None:
    for act in (editing.copy_text, editing.cut):
        with pytest.raises(EditError, match="Nothing is selected to copy"):
            act(lamp(), ["no such id"])
    with pytest.raises(EditError, match="Nothing is selected to duplicate"):
        editing.duplicate(lamp(), [], sheet())


def test_a_wire_of_a_form_with_zeros_keeps_it() -> None:
    made = wires("- -", "- -")
    made = {k: replace(w, number=f"P0{k[1]}") for k, w in made.items()}
    circuit = Circuit(wires=made)
    after = done(circuit, editing.duplicate(circuit, ["w1", "w2"], Sheet("s1")))
    assert [w.number for w in after.wires.values()] == ["P01", "P02", "P03", "P04"]
    assert end("-") is None
