"""Keys of the sheet beside the typed line: Space, the focus, what a newcomer types first."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from tests.app.hands import Hands
from tests.app.test_typed_sheet import Keyboard

CIRCUITS = Path(__file__).parents[1] / "circuits"
SPACE = Qt.Key.Key_Space
SHIFT, CONTROL = Qt.KeyboardModifier.ShiftModifier, Qt.KeyboardModifier.ControlModifier


def choose(hands: Hands, reference: str) -> None:
    """Select a part by Tab alone."""
    hands.window.view.setFocus()
    wanted = frozenset({hands.part(reference).id})
    for _ in range(60):
        if hands.window.session.selection == wanted:
            return
        hands.key(Qt.Key.Key_Tab)
    raise AssertionError(f"Tab does not come to {reference}")


def pulled(hands: Hands) -> bool:
    """Tell whether any relay has pulled."""
    state = hands.window.session.analysis.state
    return bool(state and state.pulled)


@pytest.fixture
def horn(hands: Hands) -> Hands:
    """Return hands on the horn circuit in Operate, its button selected by key."""
    hands.window.files.open_file(CIRCUITS / "C07.voltwalk")
    hands.key(Qt.Key.Key_F6)
    choose(hands, "S1")
    return hands


def test_control_space_keeps_a_button_held(horn: Hands) -> None:
    horn.key(SPACE, CONTROL)
    assert pulled(horn)
    horn.key(SPACE)
    assert not pulled(horn)


def test_space_holds_a_button_as_long_as_it_is_down(horn: Hands) -> None:
    QTest.keyPress(horn.window.view, SPACE)
    horn.settle()
    assert pulled(horn)
    QTest.keyRelease(horn.window.view, SPACE)
    horn.settle()
    assert not pulled(horn)


def test_shift_space_steps_back(hands: Hands) -> None:
    Keyboard(hands).line("ignition")
    hands.key(Qt.Key.Key_Escape)
    hands.key(Qt.Key.Key_F6)
    choose(hands, "S1")
    names = [hands.window.session.position(hands.part("S1").id)]
    for keys in (None, SHIFT):
        hands.key(SPACE, keys or Qt.KeyboardModifier.NoModifier)
        names.append(hands.window.session.position(hands.part("S1").id))
    assert names[0] == names[2] != names[1]


def test_space_without_a_control_takes_hold_of_the_sheet(hands: Hands) -> None:
    view = hands.window.view
    view.setFocus()
    before = view.mapToScene(view.rect().center())
    QTest.keyPress(view, SPACE)
    hands.drag(view.rect().center(), view.rect().center() / 2)
    QTest.keyRelease(view, SPACE)
    assert view.mapToScene(view.rect().center()) != before
    assert hands.window.session.undo.count() == 0


def test_from_a_dock_the_line_takes_the_keys_and_gives_them_to_the_sheet(hands: Hands) -> None:
    hands.window.tray.search.setFocus()
    hands.key(Qt.Key.Key_L, CONTROL)
    assert QApplication.focusWidget() is hands.window.typed.line.edit
    Keyboard(hands).line("relay")
    hands.key(Qt.Key.Key_Escape)
    assert hands.window.view.hasFocus()


def test_the_last_choices_come_first(hands: Hands) -> None:
    keyboard = Keyboard(hands)
    for text in ("battery", "fuse 15 A", "lamp", "G1.+ F1 0.75 YE 1 m"):
        keyboard.line(text)
    line = hands.window.typed.line
    hands.type("F1 E1 ")
    words = [line.list.item(i).text() for i in range(3)]
    assert words == ["0.75 mm²", "YE", "1 m"]
    assert "as the last wire" in line.preview.text()
    keyboard.key(Qt.Key.Key_Return)
    wire = hands.wire("W2")
    assert (wire.colour, wire.length_m) == ("YE", 1.0)


FIRST_WORDS = [
    ("add a relay", "K1"),
    ("4 pin relay", "K1"),
    ("fuse 7,5", "F1"),
    ("Battery 12,6 V", "G1"),
]


@pytest.mark.parametrize(("text", "reference"), FIRST_WORDS)
def test_what_a_newcomer_types_first(hands: Hands, text: str, reference: str) -> None:
    hands.key(Qt.Key.Key_Return)
    Keyboard(hands).line(text)
    assert hands.part(reference)


def test_a_newcomer_wires_by_name(hands: Hands) -> None:
    keyboard = Keyboard(hands)
    for text in ("battery", "fuse 15", "switch", "pump", "earth"):
        keyboard.line(text)
    for text in ("battery to fuse", "wire f1 s1", "connect switch to pump", "pump to ground"):
        keyboard.line(text)
    keyboard.line("ground to battery, 6 mm², black, 0,3 m")
    assert hands.joins() == {
        frozenset(pair)
        for pair in (
            ("G1.+", "F1.1"), ("F1.2", "S1.1"), ("S1.2", "M1.+"), ("M1.-", "X1.g"),
            ("X1.g", "G1.-"),
        )
    }  # fmt: skip
    assert hands.wire("W5").length_m == 0.3


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("help", "Type a part"),
        ("switch to relay", "There is no switch yet"),
        ("wire s1 k1", "No part is called"),
        ("save", "is a command"),
    ],
)
def test_a_refusal_says_what_to_type(hands: Hands, text: str, told: str) -> None:
    Keyboard(hands).line(text)
    line = hands.window.typed.line
    assert line.edit.text() == text
    assert told in line.preview.text()
    assert line.preview.property("wrong") is True
    assert hands.window.session.undo.count() == 0
