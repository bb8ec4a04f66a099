"""What undo keeps of many acts takes little room and comes back as it was."""

from __future__ import annotations

import gc
import pickle
import random
import weakref

from hypothesis import given, settings
from hypothesis import strategies as st

from app import acts
from app.past import FULL, OPEN, Box, Past
from app.session import Session
from app.undo import ChangeCommand
from model import editing
from model.circuit import Circuit, Part, Place, Sheet
from model.edits import put
from model.file import dumps
from model.kept import Kept, kept
from tests.strategies import changes, circuits


@settings(max_examples=60, deadline=None)
@given(st.data(), circuits(4, 4))
def test_any_change_is_made_and_taken_back_from_a_box_that_was_packed(
    data: st.DataObject, circuit: Circuit
) -> None:
    change, box = data.draw(changes(circuit)), Box()
    number = box.put(kept(change))
    box.close()
    assert box.is_packed
    made = box.act(number).forth(circuit).apply(circuit)
    assert dumps(made) == dumps(change.apply(circuit))
    box.close()
    assert dumps(box.act(number).back(made).revert(made)) == dumps(circuit)


def _moves(count: int) -> list[Kept]:
    """Return acts that turn parts of a sheet."""
    places = {f"c{i}": Place(f"c{i}", f"p{i}", 100.0 * i) for i in range(9)}
    parts = {f"p{i}": Part(f"p{i}", "stud") for i in range(9)}
    circuit = Circuit(parts, sheets={"s1": Sheet("s1", "One", places)})
    steps = []
    for i in range(count):
        edit = editing.rotate(circuit, circuit.sheets["s1"], [f"p{i % 9}"], 90)
        steps.append(kept(edit.change))
        circuit = edit.change.apply(circuit)
    return steps


def test_acts_are_found_in_any_order_and_few_boxes_lie_open() -> None:
    past, steps = Past(), _moves(FULL * 6 + 5)
    where = [past.put(step) for step in steps]
    boxes = {id(box): box for box, _ in where}.values()
    assert len(boxes) == 7
    dice = random.Random(3)
    for _ in range(200):
        at = dice.randrange(len(steps))
        assert past.act(*where[at]) == steps[at]
        assert sum(not box.is_packed for box in boxes) <= OPEN
    for step, place in zip(reversed(steps), reversed(where), strict=True):
        assert past.act(*place) == step


def test_packed_acts_take_a_fifth_of_what_they_are_written_alone() -> None:
    box, steps = Box(), _moves(FULL)
    for step in steps:
        box.put(step)
    box.close()
    alone = sum(len(pickle.dumps(step, -1)) for step in steps)
    assert len(box._packed) < alone / 5


def test_boxes_go_with_the_steps_that_are_in_them() -> None:
    past, steps = Past(), _moves(FULL * 6)
    where = [past.put(step) for step in steps]
    refs = [weakref.ref(box) for box, _ in where[::FULL]]
    del where[FULL:]
    gc.collect()
    assert sum(r() is not None for r in refs) == 1 + OPEN
    where.clear()
    past.clear()
    gc.collect()
    assert not [r for r in refs if r() is not None]


def test_what_is_undone_and_done_otherwise_is_forgotten(qapp: object) -> None:
    session = Session(acts.blank())
    try:
        for i in range(FULL * 5):
            part = Part(f"p{i % 7}", "stud", f"K{i}")
            assert session.do(put(session.circuit, "parts", part, f"Step {i}"))
        last = dumps(session.circuit)
        first = session.undo.command(0)
        assert isinstance(first, ChangeCommand)
        box = first._box
        assert box.is_packed
        while session.undo.canUndo():
            session.undo.undo()
        assert not session.circuit.parts
        assert not box.is_packed
        while session.undo.canRedo():
            session.undo.redo()
        assert dumps(session.circuit) == last
        old = weakref.ref(box)
        del box, first
        session.open(acts.blank(), None)
        gc.collect()
        assert old() is None
    finally:
        session.close()
