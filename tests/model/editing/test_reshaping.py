"""Replacing and reshaping parts and kinds, with the wires cut open named."""

from __future__ import annotations

from dataclasses import replace

import pytest

from model import editing
from model.circuit import Circuit, OwnKind, Part, Place, Sheet
from model.editing import EditError
from model.kinds import KINDS, Duty, Value
from model.kinds.body import Position
from tests.model.editing.small import done, joins, parts, wires


def _relay() -> Circuit:
    made = parts("K1 relay-changeover", "F1 fuse-blade")
    ratings: dict[str, Value] = {"coil_ohm": 85.0, "break_a": 20.0, "suppression": "diode"}
    made["k1"] = replace(
        made["k1"], name="Horn", ratings=ratings, duty=Duty(critical=True),
        markings=(("87a", "87A"), ("30", "3")), note="behind dash",
    )  # fmt: skip
    said = ("f1.2 k1.30", "k1.86 -", "k1.85 -", "k1.87 -", "k1.87a -")
    return Circuit(made, wires(*said))


def test_a_relay_replaced_keeps_what_fits_and_names_what_does_not() -> None:
    circuit = _relay()
    edit = editing.replace_kind(circuit, ["k1"], "relay-make")
    after = done(circuit, edit)
    part = after.parts["k1"]
    assert (part.kind, part.reference, part.name, part.note) == (
        "relay-make", "K1", "Horn", "behind dash",
    )  # fmt: skip
    assert part.ratings == {"coil_ohm": 85.0, "suppression": "diode"}
    assert part.duty == Duty(critical=True)
    assert part.markings == (("30", "3"),)
    assert joins(after) == joins(circuit) | {"W5": "- -"}
    assert edit.change.label == "Replace K1 by Relay, make; W5 open"
    assert edit.notes == (
        "K1 no longer states break contact, resistive load.",
        "W5 is open where it ended at K1.87a.",
    )


@pytest.mark.parametrize(
    ("old", "new", "ends"),
    [
        ("relay-changeover", "timer", {"30": "30", "87": "87"}),
        ("timer", "relay-make", {"30": "30", "87": "87"}),
        ("fuse-blade", "diode", {"1": "A", "2": "K"}),
        ("diode", "resistor", {"A": "1", "K": "2"}),
        ("lamp", "pump", {"+": "+", "-": "-"}),
        ("splice", "stud", {"s": "s"}),
        ("splice", "bus-bar", {"s": "1"}),
        ("bus-bar", "splice", {"1": "s"}),
        ("switch", "crash-switch", {"1": "C", "2": "NC"}),
        ("relay-make", "relay-socket", {"30": "30", "86": "86", "87": "87", "85": "85"}),
    ],
)
def test_terminals_are_matched_by_key_then_meaning_then_place_in_line(
    old: str, new: str, ends: dict[str, str]
) -> None:
    from model.editing.replacing import matched

    assert matched(Circuit(), Part("p", old), Part("p", new)) == ends


def test_terminals_of_other_names_are_matched_by_what_they_mean() -> None:
    from model.editing.replacing import matched

    relay = KINDS["relay-make"]
    names = {"30": "3", "86": "A1", "87": "5", "85": "A2"}
    body = replace(
        relay.body,
        terminals=tuple(replace(t, key=names[t.key]) for t in relay.body.terminals),
        elements=tuple(replace(e, a=names[e.a], b=names[e.b]) for e in relay.body.elements),
    )
    own = OwnKind("own-k", replace(relay, key="own-k", body=body))
    circuit = Circuit(own_kinds={"own-k": own})
    assert matched(circuit, Part("p", "relay-make"), Part("p", "own-k")) == names


def test_a_part_of_another_letter_gets_its_next_reference() -> None:
    circuit = Circuit(parts("F1 fuse-blade", "S1 switch"), wires("f1.1 s1.2"))
    after = done(circuit, editing.replace_kind(circuit, ["f1"], "switch"))
    assert after.parts["f1"].reference == "S2"
    named = replace(circuit, parts={**circuit.parts, "f1": Part("f1", "fuse-blade", "MAIN")})
    after = done(named, editing.replace_kind(named, ["f1"], "switch"))
    assert after.parts["f1"].reference == "MAIN"
    assert joins(after) == joins(circuit)


def test_guests_leave_a_part_that_has_no_slot_for_them_any_more() -> None:
    made = parts("X1 fuse-box", "F1 fuse-blade")
    made["f1"] = replace(made["f1"], host="x1", slot="3")
    circuit = Circuit(made)
    fewer = editing.set_ways(circuit, "x1", 2)
    assert done(circuit, fewer).parts["f1"].host == ""
    assert fewer.notes == ("F1 no longer sits in X1.",)
    other = done(circuit, editing.replace_kind(circuit, ["x1"], "splice"))
    assert (other.parts["f1"].host, other.parts["f1"].slot) == ("", "")
    lamp = done(circuit, editing.replace_kind(circuit, ["f1"], "lamp"))
    assert lamp.parts["f1"].host == ""
    strip = done(circuit, editing.replace_kind(circuit, ["f1"], "fuse-strip"))
    assert (strip.parts["f1"].host, strip.parts["f1"].slot) == ("x1", "3")


def test_cards_of_elements_that_are_gone_go() -> None:
    circuit = _relay()
    places = (
        Place("a", "k1", 0, 0, shows=("coil",)),
        Place("b", "k1", 400, 0, shows=("break",)),
        Place("c", "k1", 800, 0, shows=("make", "break")),
    )
    circuit = replace(circuit, sheets={"s": Sheet("s", places={p.id: p for p in places})})
    after = done(circuit, editing.replace_kind(circuit, ["k1"], "relay-make"))
    assert {k: p.shows for k, p in after.sheets["s"].places.items()} == {
        "a": ("coil",), "c": ("make",),
    }  # fmt: skip


def test_fewer_ways_cut_the_wires_at_those_gone() -> None:
    circuit = Circuit(parts("X1 connector"), wires("x1.1/a x1.2/b", "x1.4/a x1.3/b"))
    edit = editing.set_ways(circuit, "x1", 3)
    assert joins(done(circuit, edit)) == {"W1": "x1.1/a x1.2/b", "W2": "- x1.3/b"}
    assert edit.change.label == "Give X1 3 ways; W2 open"
    with pytest.raises(EditError, match="cannot have 0 ways"):
        editing.set_ways(circuit, "x1", 0)
    with pytest.raises(EditError, match="K1 has no ways"):
        editing.set_ways(_relay(), "k1", 3)


def test_terminals_renamed_take_wires_pairs_and_markings_along() -> None:
    circuit = Circuit(parts("S1 switch-table"), wires("s1.30 s1.58", "s1.56 -"))
    marked = replace(circuit.parts["s1"], markings=(("58", "P"),))
    circuit = replace(circuit, parts={"s1": marked})
    edit = editing.set_terminals(circuit, "s1", ["B", "58", "H"], {"30": "B"})
    after = done(circuit, edit)
    part = after.parts["s1"]
    assert part.terminals == ("B", "58", "H")
    assert part.table == (
        Position("OFF"), Position("SIDE", (("B", "58"),)), Position("HEAD", (("B", "58"),)),
    )  # fmt: skip
    assert part.markings == (("58", "P"),)
    assert joins(after) == {"W1": "s1.B s1.58", "W2": "- -"}
    with pytest.raises(EditError, match="stands twice"):
        editing.set_terminals(circuit, "s1", ["B", "B"])
    with pytest.raises(EditError, match="whose terminals are fixed"):
        editing.set_terminals(_relay(), "k1", ["1"])


def test_positions_of_ones_own_add_the_terminals_they_name() -> None:
    circuit = Circuit(parts("S1 switch"), wires("s1.1 s1.2"))
    table = (Position("A", (("1", "3"),)), Position("B", springs_to="A"))
    after = done(circuit, editing.set_table(circuit, "s1", table, "B"))
    assert (after.parts["s1"].terminals, after.parts["s1"].rest) == (("1", "2", "3"), "B")
    assert joins(after) == joins(circuit)
    with pytest.raises(EditError, match="springs to the unknown “C”"):
        editing.set_table(circuit, "s1", [Position("A", springs_to="C")])
    with pytest.raises(EditError, match="rest position “Z” is none"):
        editing.set_table(circuit, "s1", table, "Z")


def _own(*keys: str) -> OwnKind:
    base = KINDS["resistor"]
    terminals = tuple(replace(base.body.terminals[0], key=k) for k in keys)
    element = replace(base.body.elements[0], a=keys[0], b=keys[-1])
    body = replace(base.body, terminals=terminals, elements=(element,))
    return OwnKind("own-r", replace(base, key="own-r", title="Shunt", body=body))


def test_a_kind_of_ones_own_changed_cuts_wires_of_all_its_parts() -> None:
    made = {"r": Part("r", "own-r", "R1", ratings={"power_w": 2.0}), "q": Part("q", "own-r", "R2")}
    circuit = Circuit(made, wires("r.1 q.2", "q.1 r.2"), own_kinds={"own-r": _own("1", "2")})
    changed = _own("1", "3")
    slim = replace(changed, kind=replace(changed.kind, ratings=changed.kind.ratings[:1]))
    edit = editing.define_kind(circuit, slim)
    after = done(circuit, edit)
    assert joins(after) == {"W1": "r.1 -", "W2": "q.1 -"}
    assert after.parts["r"].ratings == {}
    assert edit.change.label == "Define Shunt; W1, W2 open"
    broken = replace(changed, kind=replace(changed.kind, ratings=()))
    with pytest.raises(EditError, match=r"^The element “resistance” needs the rating"):
        editing.define_kind(circuit, broken)


def test_a_kind_in_use_is_removed_only_with_another_in_its_place() -> None:
    circuit = Circuit(
        {"r": Part("r", "own-r", "R1")}, wires("r.1 r.2"), own_kinds={"own-r": _own("1", "2")}
    )
    with pytest.raises(EditError, match="R1 is of the kind “Shunt”; choose a kind to replace it"):
        editing.remove_kind(circuit, "own-r")
    with pytest.raises(EditError, match="cannot stand for itself"):
        editing.remove_kind(circuit, "own-r", "own-r")
    with pytest.raises(EditError, match="no kind “lamp” of your own"):
        editing.remove_kind(circuit, "lamp")
    with pytest.raises(EditError, match="There is no kind “zz”"):
        editing.remove_kind(circuit, "own-r", "zz")
    after = done(circuit, editing.remove_kind(circuit, "own-r", "fuse-blade"))
    assert (after.own_kinds, after.parts["r"].kind) == ({}, "fuse-blade")
    assert joins(after) == joins(circuit)
    unused = replace(circuit, parts={}, wires={})
    assert done(unused, editing.remove_kind(unused, "own-r")).own_kinds == {}


def test_a_new_version_that_no_file_takes_is_refused() -> None:
    circuit = _relay()
    with pytest.raises(EditError, match=r"^“coil_ohm” cannot be -3"):
        editing.reshape(circuit, replace(circuit.parts["k1"], ratings={"coil_ohm": -3.0}))
    with pytest.raises(EditError, match="no part “zz”"):
        editing.reshape(circuit, Part("zz", "lamp"))
