"""Acts on sheets: nothing that is drawn is lost, and every act is one change that comes back."""

from __future__ import annotations

import pytest

from model import editing
from model.circuit import Circuit, End, Part, Place, Route, Sheet, Wire
from model.editing import Edit, EditError
from model.file import dumps


def _circuit() -> Circuit:
    """Return a fuse, a relay and its socket on one sheet, a lamp on another."""
    parts = {
        "p1": Part("p1", "fuse-blade", "F1"),
        "p2": Part("p2", "relay-make", "K1"),
        "p3": Part("p3", "lamp", "H1"),
    }
    wires = {
        "w1": Wire("w1", "W1", End("p1", "2"), End("p2", "30")),
        "w2": Wire("w2", "W2", End("p2", "87"), End("p3", "1")),
    }
    first = Sheet(
        "s1",
        "Feed",
        {"c1": Place("c1", "p1"), "c2": Place("c2", "p2", 300.0)},
        {"w1": Route("w1", ((100.0, 50.0),))},
    )
    second = Sheet("s2", "Loads", {"c1": Place("c1", "p3", 40.0, 60.0)})
    return Circuit(parts, wires, {"s1": first, "s2": second})


def _made(circuit: Circuit, edit: Edit) -> Circuit:
    """Return the circuit after an edit that comes back byte for byte."""
    after = edit.change.apply(circuit)
    assert dumps(edit.change.revert(after)) == dumps(circuit)
    return after


def _standing(circuit: Circuit) -> dict[str, set[str]]:
    return {k: {p.part for p in s.places.values()} for k, s in circuit.sheets.items()}


def test_a_new_sheet_takes_the_next_free_name() -> None:
    circuit = _circuit()
    after = _made(circuit, editing.add_sheet(circuit))
    assert [s.name for s in after.sheets.values()] == ["Feed", "Loads", "Sheet 3"]
    assert [s.name for s in _made(Circuit(), editing.add_sheet(Circuit())).sheets.values()] == [
        "Sheet 1",
        "Sheet 2",
    ]


def test_a_name_is_given_once() -> None:
    circuit = _circuit()
    after = _made(circuit, editing.rename_sheet(circuit, "s2", " Rear "))
    assert after.sheets["s2"].name == "Rear"
    for wrong in ("Feed", "  "):
        with pytest.raises(EditError):
            editing.rename_sheet(circuit, "s2", wrong)


@pytest.mark.parametrize(
    ("key", "to", "order"), [("s1", 1, ["s2", "s1"]), ("s2", -3, ["s2", "s1"])]
)
def test_sheets_are_put_in_order(key: str, to: int, order: list[str]) -> None:
    circuit = _circuit()
    after = _made(circuit, editing.move_sheet(circuit, key, to))
    assert [*after.sheets] == order
    assert not editing.move_sheet(circuit, "s1", 0).change.swaps


def test_parts_drawn_on_the_first_sheet_stay_on_it_when_it_is_no_longer_first() -> None:
    circuit = _circuit()
    bare = Circuit(circuit.parts, circuit.wires, {"s1": Sheet("s1"), "s2": Sheet("s2")})
    shown = Sheet("s1", "", {"a1": Place("a1", "p1", 70.0, pinned=False)})
    after = _made(bare, editing.move_sheet(bare, "s1", 1, shown))
    assert _standing(after) == {"s2": set(), "s1": {"p1"}}


def test_a_removed_sheet_loses_no_part() -> None:
    circuit = _circuit()
    edit = editing.remove_sheet(circuit, "s1")
    after = _made(circuit, edit)
    assert _standing(after) == {"s2": {"p1", "p2", "p3"}}
    assert edit.notes == ("F1, K1 stood on Feed only: now on Loads.",)
    places = {p.part: p for p in after.sheets["s2"].places.values()}
    assert (places["p3"].x, places["p3"].y) == (40.0, 60.0)
    assert places["p2"].x - places["p1"].x == 300.0
    assert places["p1"].x > places["p3"].x
    shift = places["p1"].x, places["p1"].y
    assert after.sheets["s2"].routes["w1"].bends == ((100.0 + shift[0], 50.0 + shift[1]),)


def test_the_only_sheet_stays() -> None:
    only = Circuit(sheets={"s1": Sheet("s1")})
    with pytest.raises(EditError, match="only sheet"):
        editing.remove_sheet(only, "s1")


def test_a_part_moves_to_another_sheet_with_the_ways_of_wires_that_go_along() -> None:
    circuit = _circuit()
    one = _made(circuit, editing.move_to_sheet(circuit, circuit.sheets["s1"], ["p2"], "s2"))
    assert _standing(one) == {"s1": {"p1"}, "s2": {"p2", "p3"}}
    assert not one.sheets["s1"].routes
    both = _made(circuit, editing.move_to_sheet(circuit, circuit.sheets["s1"], ["p1", "p2"]))
    assert _standing(both) == {"s1": set(), "s2": {"p3"}, "s3": {"p1", "p2"}}
    assert both.sheets["s3"].routes["w1"].bends == ((100.0, 50.0),)


def test_a_part_shown_on_two_sheets_is_one_part_and_comes_off_either() -> None:
    circuit = _circuit()
    both = _made(circuit, editing.show_on_sheet(circuit, circuit.sheets["s1"], ["p2"], "s2"))
    assert _standing(both) == {"s1": {"p1", "p2"}, "s2": {"p2", "p3"}}
    assert both.parts == circuit.parts
    with pytest.raises(EditError, match="already shown"):
        editing.show_on_sheet(both, both.sheets["s1"], ["p2"], "s2")
    off = _made(both, editing.take_off_sheet(both, both.sheets["s1"], ["p2"]))
    assert _standing(off) == {"s1": {"p1"}, "s2": {"p2", "p3"}}
    with pytest.raises(EditError, match="no other sheet"):
        editing.take_off_sheet(off, off.sheets["s2"], ["p2"])


def test_what_sits_in_a_part_goes_with_it() -> None:
    circuit = _circuit()
    hosted = {**circuit.parts, "p4": Part("p4", "relay-make", "K2", host="p1")}
    with_guest = Circuit(hosted, circuit.wires, circuit.sheets)
    edit = editing.move_to_sheet(with_guest, with_guest.sheets["s1"], ["p4"], "s2")
    assert _standing(_made(with_guest, edit))["s2"] == {"p1", "p3"}
