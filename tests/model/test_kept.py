"""A change kept for undo does what the change does, in little room."""

from __future__ import annotations

import gc
import sys
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model import editing
from model.changes import Change, Swap
from model.circuit import Circuit, Part, Place, Route, Sheet
from model.edits import put
from model.errors import StructureError
from model.file import dumps
from model.kept import kept
from tests.strategies import changes, circuits


def _there_and_back(circuit: Circuit, change: Change) -> None:
    """Check a kept change against the change itself: the file byte for byte, both ways."""
    lean, after = kept(change), change.apply(circuit)
    made = lean.forth(circuit).apply(circuit)
    assert dumps(made) == dumps(after)
    assert made == after
    back = lean.back(made).revert(made)
    assert dumps(back) == dumps(circuit)
    assert lean.forth(circuit).touched == change.touched


@settings(max_examples=25, deadline=None)
@given(st.data(), circuits(4, 4), st.integers(1, 4))
def test_any_change_is_made_and_taken_back(
    data: st.DataObject, circuit: Circuit, count: int
) -> None:
    change, after = data.draw(changes(circuit)), circuit
    for _ in range(count - 1):
        after = change.apply(circuit)
        change = change.then(data.draw(changes(after)))
    _there_and_back(circuit, change)


PLACES = st.dictionaries(
    st.sampled_from("abcdefg"), st.integers(0, 2).map(lambda x: 10.0 * x), max_size=7
)


def _sheet(at: dict[str, float], name: str = "One") -> Sheet:
    places = {k: Place(k, "p", x) for k, x in at.items()}
    return Sheet("s1", name, places, {k: Route(k, ((x, 0.0),)) for k, x in at.items()})


@settings(max_examples=200, deadline=None)
@given(PLACES, PLACES, st.sampled_from(["One", "Two"]))
def test_any_sheet_becomes_any_other(
    old: dict[str, float], new: dict[str, float], name: str
) -> None:
    circuit = Circuit({"p": Part("p", "stud")}, sheets={"s1": _sheet(old)})
    _there_and_back(circuit, put(circuit, "sheets", _sheet(new, name), "Tidy"))


def test_several_swaps_of_one_record_are_kept_as_one() -> None:
    circuit = Circuit()
    stud, fuse = Part("a", "stud"), Part("a", "fuse-blade")
    swaps = [
        Swap("parts", "a", None, stud, 0),
        Swap("parts", "b", None, Part("b", "stud"), 0),
        Swap("parts", "a", stud, fuse),
    ]
    change = Change("Place", tuple(swaps))
    assert len(kept(change).swaps) == 2
    _there_and_back(circuit, change)


def test_what_is_taken_out_and_put_in_again_elsewhere_comes_back_to_its_place() -> None:
    parts = {k: Part(k, "stud") for k in "abc"}
    circuit = Circuit(parts)
    a = parts["a"]
    swaps = (
        Swap("parts", "a", a, replace(a, name="x")),
        Swap("parts", "a", replace(a, name="x"), None, 0),
        Swap("parts", "a", None, a, 2),
    )
    _there_and_back(circuit, Change("Order", swaps))


def test_a_kept_change_says_when_it_does_not_fit() -> None:
    circuit = Circuit(sheets={"s1": _sheet({"a": 0.0, "b": 0.0})})
    lean = kept(put(circuit, "sheets", _sheet({"a": 10.0, "b": 0.0}), "Move"))
    with pytest.raises(StructureError, match="not what it was"):
        lean.forth(Circuit(sheets={"s1": _sheet({"a": 20.0})})).apply(circuit)
    with pytest.raises(StructureError, match="no sheet"):
        lean.forth(Circuit())


def _size(root: object, shared: set[int]) -> int:
    """Return the bytes of an object and all that it holds, but for what is counted already."""
    total, stack = 0, [root]
    while stack:
        one: Any = stack.pop()
        if id(one) not in shared and not isinstance(one, type):
            shared.add(id(one))
            total += sys.getsizeof(one)
            stack += gc.get_referents(one)
    return total


@pytest.mark.parametrize("parts", [10, 300])
def test_a_move_on_a_large_sheet_is_kept_in_as_little_room_as_on_a_small_one(parts: int) -> None:
    places = {f"c{i}": Place(f"c{i}", f"p{i}", 100.0 * i) for i in range(parts)}
    circuit = Circuit(
        {f"p{i}": Part(f"p{i}", "stud") for i in range(parts)},
        sheets={"s1": Sheet("s1", "One", places)},
    )
    counted: set[int] = set()
    _size(circuit, counted)
    steps = []
    for i in range(50):
        sheet = circuit.sheets["s1"]
        edit = editing.rotate(circuit, sheet, [f"p{i % 10}"], 90)
        steps.append(kept(edit.change))
        circuit = edit.change.apply(circuit)
    assert sum(_size(s, counted) for s in steps) / len(steps) < 700  # bytes
