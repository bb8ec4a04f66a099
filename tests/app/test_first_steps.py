"""The first-start strip ticks off what was really done, and never comes back by itself."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QToolButton

from app.first_steps import STEPS
from model.file import load
from tests.app.hands import Hands

CIRCUITS = Path(__file__).parents[1] / "circuits"


def test_each_gesture_is_ticked_when_it_is_done(hands: Hands) -> None:
    strip = hands.window.around.steps
    hands.window.around.offer_steps()
    assert strip.isVisible()
    hands.from_tray("Battery", -200, 0)
    assert strip.done == {"place"}
    hands.from_tray("Switch", 100, 0)
    hands.wire_up("G1.+", "S1.1")
    assert strip.done == {"place", "wire"}
    hands.window.details.focus_on("length_m")
    hands.type("1 m")
    hands.key(Qt.Key.Key_Return)
    assert strip.done == {"place", "wire", "value"}
    hands.window.view.setFocus()
    hands.key(Qt.Key.Key_F6)
    hands.click(hands.at_part("S1"))
    assert strip.done == {"place", "wire", "value", "operate"}
    hands.key(Qt.Key.Key_F5)
    assert "Ctrl+Z" in strip.hint.text()
    hands.undo()
    assert strip.done == set(STEPS)
    assert all(label.text().startswith("✓") for label in strip.labels.values())


def test_opening_a_file_or_looking_ticks_nothing(hands: Hands) -> None:
    strip = hands.window.around.steps
    hands.window.around.offer_steps()
    hands.window.files.show_circuit(load(CIRCUITS / "C07.voltwalk").circuit)
    hands.settle()
    hands.key(Qt.Key.Key_Home)
    hands.key(Qt.Key.Key_F6)
    assert strip.done == set()


def test_a_part_named_is_no_value_set(hands: Hands) -> None:
    strip = hands.window.around.steps
    hands.window.around.offer_steps()
    hands.from_tray("Battery", 0, 0)
    hands.window.details.focus_on("name")
    hands.type("rear")
    hands.key(Qt.Key.Key_Return)
    assert strip.done == {"place"}


def test_closed_once_it_stays_away_until_it_is_asked_for(hands: Hands) -> None:
    around = hands.window.around
    around.offer_steps()
    close = around.steps.findChild(QToolButton)
    assert isinstance(close, QToolButton)
    QTest.mouseClick(close, Qt.MouseButton.LeftButton)
    assert not around.steps.isVisible()
    around.offer_steps()
    assert not around.steps.isVisible()
    hands.window.actions_["first_steps"].trigger()
    assert around.steps.isVisible()
    assert around.steps.done == set()


def test_without_the_strip_nothing_is_shown_or_ticked(hands: Hands) -> None:
    hands.from_tray("Battery", 0, 0)
    assert not hands.window.around.steps.isVisible()
    assert hands.window.around.steps.done == set()


def test_a_template_is_none_of_the_gestures(hands: Hands) -> None:
    hands.window.around.do_first_steps()
    hands.window.around.lay("template:lesson-board")
    hands.settle()
    assert len(hands.circuit.parts) == 7
    assert not hands.window.around.steps.done


def test_a_newcomers_slips_are_answered(hands: Hands) -> None:
    """Silence leaves somebody new with nothing to go on: every slip gets a sentence."""
    hands.from_tray("Battery", 0, 0)
    hands.from_tray("Switch", 300, 0)
    told = hands.window.notice
    hands.drag(hands.at_terminal("S1.1"), hands.at_scene(150, 250))
    assert "Let go on a terminal" in told.text()
    assert not hands.circuit.wires
    hands.wire_up("G1.+", "S1.1")
    assert not told.isVisible()
    hands.key(Qt.Key.Key_F6)
    hands.window.tray.search.setFocus()
    hands.type("horn")
    hands.key(Qt.Key.Key_Return)
    assert "Go to Draw (F5)" in told.text()
    assert len(hands.circuit.parts) == 2
    hands.key(Qt.Key.Key_F5)
    hands.window.session.select(frozenset())
    hands.window.view.setFocus()
    hands.key(Qt.Key.Key_Delete)
    assert "Select parts or wires" in told.text()
