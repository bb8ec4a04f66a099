"""The quick look answers at once, the thorough one follows; the newest circuit wins."""

from __future__ import annotations

from typing import Any

from pytestqt.qtbot import QtBot

from app.analysis import Analysis
from app.scheduler import Scheduler
from checks.run import check
from model.circuit import Circuit
from model.edits import set_rating
from model.states import Memory, Setting
from tests.bench.circuits import cells


def scheduler(circuits: list[Circuit]) -> Scheduler:
    """Return a scheduler that is asked for the last circuit of a list."""
    return Scheduler(lambda: (circuits[-1], Setting(), Memory()))


def test_a_quick_answer_then_a_thorough_one(qtbot: QtBot) -> None:
    circuit = cells(60)
    schedule = scheduler([circuit])
    seen: list[Analysis] = []
    schedule.checked.connect(seen.append)
    schedule.touch(frozenset())
    qtbot.waitUntil(lambda: bool(seen) and seen[-1].thorough, timeout=20_000)
    schedule.stop()
    assert not seen[0].thorough and seen[0].checked
    assert {f.sentence for f in seen[-1].findings} == {
        f.sentence() for f in check(circuit).findings
    }


def test_the_newest_circuit_wins(qtbot: QtBot) -> None:
    first = cells(100)
    second = set_rating(first, "F1", "rating_a", 1.0).apply(first)
    circuits = [first]
    schedule = scheduler(circuits)
    seen: list[Analysis] = []
    schedule.checked.connect(seen.append)
    schedule.touch(frozenset())
    qtbot.waitUntil(lambda: bool(seen), timeout=20_000)
    circuits.append(second)
    schedule.touch(frozenset())
    qtbot.waitUntil(lambda: seen[-1].thorough, timeout=30_000)
    schedule.stop()
    thorough: list[Any] = [a for a in seen if a.thorough]
    assert [a.circuit for a in thorough] == [second]
    assert any("F1" in f.parts for f in thorough[0].findings)


def test_a_new_position_does_not_check_again(qtbot: QtBot) -> None:
    circuit = cells(40)
    schedule = scheduler([circuit])
    schedule.touch(frozenset())
    schedule.flush()
    seen: list[Analysis] = []
    schedule.checked.connect(seen.append)
    schedule.touch(frozenset({("parts", "S1")}))
    schedule.settle()
    assert schedule.pending
    schedule.flush()
    assert [a.thorough for a in seen] == [True]
    schedule.stop()


def test_stopping_leaves_no_thread(qtbot: QtBot) -> None:
    schedule = scheduler([cells(100)])
    schedule.touch(frozenset())
    qtbot.wait(200)
    schedule.stop()
    assert not schedule.pending
