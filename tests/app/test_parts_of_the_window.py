"""Small pieces behind the window: scheduler, typed ends, stepping controls, undo, binding."""

from __future__ import annotations

import sys

import pytest

pytest.importorskip("PySide6")

from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtGui import QPainterPath, QUndoStack
from pytestqt.qtbot import QtBot

from app import acts
from app.analysis import Analysis
from app.controls import Stepper
from app.past import Past
from app.scheduler import Scheduler
from app.undo import ChangeCommand
from model.circuit import Circuit, Part, Sheet
from model.document import Document
from model.kinds import KINDS
from model.states import Memory, Setting

EVERYTHING = frozenset({("*", "")})


class Desk:
    """A circuit that is asked for, and the answers that came."""

    def __init__(self) -> None:
        self.circuit, self.asked = acts.blank(), 0
        self.solved: list[Analysis] = []
        self.checked: list[Analysis] = []

    def now(self) -> tuple[Circuit, Setting, Memory]:
        """Return what is to be solved."""
        self.asked += 1
        return self.circuit, Setting(), Memory()


@pytest.fixture
def desk(qtbot: QtBot) -> Desk:
    """Return a desk."""
    return Desk()


def _scheduler(desk: Desk) -> Scheduler:
    made = Scheduler(desk.now)
    made.solved.connect(desk.solved.append)
    made.checked.connect(desk.checked.append)
    return made


def test_many_changes_in_one_turn_are_solved_once(qtbot: QtBot, desk: Desk) -> None:
    scheduler = _scheduler(desk)
    for _ in range(20):
        scheduler.touch(EVERYTHING)
    assert desk.asked == 0
    qtbot.waitUntil(lambda: bool(desk.checked))
    assert (desk.asked, len(desk.solved)) == (1, 1)
    scheduler.stop()


def test_flush_answers_at_once_and_stop_drops_what_is_pending(desk: Desk) -> None:
    scheduler = _scheduler(desk)
    scheduler.touch(EVERYTHING)
    assert scheduler.pending
    scheduler.flush()
    assert (len(desk.solved), scheduler.pending) == (1, False)
    scheduler.touch(EVERYTHING)
    scheduler.stop()
    scheduler.flush()
    assert len(desk.solved) == 1


def test_a_newer_change_drops_the_check_of_the_older(qtbot: QtBot, desk: Desk) -> None:
    scheduler = _scheduler(desk)
    scheduler.touch(EVERYTHING)
    scheduler.settle()
    desk.circuit = acts.placed(desk.circuit, _sheet(desk), KINDS["lamp"], (0, 0))[0].apply(
        desk.circuit
    )
    scheduler.touch(EVERYTHING)
    scheduler.flush()
    assert {id(a.circuit) for a in desk.checked} == {id(desk.circuit)}
    scheduler.stop()


def _sheet(desk: Desk) -> Sheet:
    return next(iter(desk.circuit.sheets.values()))


def test_undo_holds_flat_commands_that_restore_the_circuit(qtbot: QtBot) -> None:
    past = Past()
    document, stack = Document(acts.blank()), QUndoStack()
    before = document.circuit
    for i in range(50):
        sheet = next(iter(document.circuit.sheets.values()))
        change, _ = acts.placed(document.circuit, sheet, KINDS["lamp"], (10.0 * i, 0.0))
        stack.push(ChangeCommand(document, past, change))
    after = document.circuit
    assert stack.count() == 50
    while stack.canUndo():
        stack.undo()
    assert document.circuit == before
    while stack.canRedo():
        stack.redo()
    assert document.circuit == after


KEY = Circuit(parts={"p1": Part("p1", "key-switch", "S1"), "p2": Part("p2", "switch", "S2")})


def test_a_key_goes_round_through_start_to_off() -> None:
    stepper, now, seen = Stepper(), "OFF", []
    for _ in range(4):
        now = stepper.step(KEY, "p1", now)
        seen.append(now)
        now = stepper.let_go(KEY, "p1", now) or now
    assert seen == ["ON", "START", "OFF", "ON"]


@given(st.lists(st.sampled_from([1, -1]), max_size=12))
def test_steps_forth_and_back_come_home(steps: list[int]) -> None:
    stepper, now = Stepper(), "OFF"
    for by in steps:
        now = stepper.step(KEY, "p2", now, by)
    assert now == ("OFF", "ON")[len(steps) % 2]


def test_the_binding_keeps_its_references_of_none() -> None:
    """PySide6 6.12.0 on Python 3.11 drops one at each call that returns nothing, then aborts."""
    path = QPainterPath()
    before = sys.getrefcount(None)
    for i in range(1000):
        path.moveTo(i, i)
    assert sys.getrefcount(None) > before - 500
