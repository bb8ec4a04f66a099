"""Any sequence of changes, reverted, restores the file byte for byte."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model import edits
from model.changes import Change, Swap
from model.circuit import Circuit, End, Part, Wire
from model.document import Document, Happened
from model.errors import DuplicateIdError, StructureError
from model.file import dumps, loads
from tests.strategies import changes, circuits


@settings(max_examples=60, deadline=None)
@given(st.data(), circuits(4, 4), st.integers(1, 6))
def test_any_sequence_reverted_restores_the_file(
    data: st.DataObject, circuit: Circuit, count: int
) -> None:
    document = Document(circuit)
    files = [dumps(circuit)]
    made: list[Change] = []
    for _ in range(count):
        made.append(data.draw(changes(document.circuit)))
        document.apply(made[-1])
        files.append(dumps(document.circuit))
    for change in reversed(made):
        assert dumps(document.circuit) == files.pop()
        document.revert(change)
    assert dumps(document.circuit) == files.pop()
    assert document.circuit == circuit


@settings(max_examples=40, deadline=None)
@given(st.data(), circuits(4, 4))
def test_what_a_change_makes_can_be_opened(data: st.DataObject, circuit: Circuit) -> None:
    changed = data.draw(changes(circuit)).apply(circuit)
    assert loads(dumps(changed)).circuit == changed


@settings(max_examples=30, deadline=None)
@given(st.data(), circuits(3, 3))
def test_a_change_made_twice_over_is_redone_alike(data: st.DataObject, circuit: Circuit) -> None:
    change = data.draw(changes(circuit))
    once = change.apply(circuit)
    assert dumps(change.apply(change.revert(once))) == dumps(once)


def test_deleting_a_host_frees_its_guests_and_comes_back_in_place() -> None:
    parts = {k: Part(k, "stud", host="b" if k == "a" else "") for k in ("a", "b", "c")}
    wires = {"w": Wire("w", "W1", End("b", "s"), End("c", "s")), "v": Wire("v", "W2")}
    circuit = Circuit(parts, wires)
    change = edits.delete(circuit, ["b"])
    after = change.apply(circuit)
    assert list(after.parts) == ["a", "c"]
    assert after.parts["a"].host == ""
    assert list(after.wires) == ["v"]
    assert list(change.revert(after).parts) == ["a", "b", "c"]
    assert dumps(change.revert(after)) == dumps(circuit)


def test_a_change_that_does_not_fit_is_refused() -> None:
    circuit = Circuit({"p": Part("p", "stud")})
    change = edits.rename_part(circuit, "p", "X2")
    with pytest.raises(StructureError, match="not what it was"):
        change.revert(circuit)
    with pytest.raises(DuplicateIdError, match="taken"):
        Change("again", (Swap("parts", "p", None, Part("p", "stud")),)).apply(circuit)


def test_listeners_hear_of_real_changes_only() -> None:
    heard: list[Happened] = []
    document = Document(Circuit({"p": Part("p", "stud", "X1")}))
    document.listen(heard.append)
    document.apply(edits.rename_part(document.circuit, "p", "X1"))
    assert heard == []
    document.apply(edits.rename_part(document.circuit, "p", "X2"))
    assert [(h.touched, h.revision) for h in heard] == [(frozenset({("parts", "p")}), 1)]


def test_listeners_hear_of_another_order_though_equal_tables_have_none() -> None:
    parts = {key: Part(key, "lamp") for key in ("p1", "p2")}
    document, heard = Document(Circuit(parts)), list[Happened]()
    document.listen(heard.append)
    first = parts["p1"]
    swaps = (Swap("parts", "p1", first, None, 0), Swap("parts", "p1", None, first, 1))
    document.apply(Change("Put p1 later", swaps))
    assert [*document.circuit.parts] == ["p2", "p1"]
    assert len(heard) == 1
