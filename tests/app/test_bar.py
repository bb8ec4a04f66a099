"""The bar above the sheet: its buttons for undo and redo follow their actions, at a steady cost."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QToolBar

from app.bar import StepButton
from app.pictures.loader import icon
from app.theme import LIGHT
from tests.app.hands import Hands


def _buttons(hands: Hands) -> list[StepButton]:
    bar = hands.window.findChild(QToolBar, "bar")
    assert isinstance(bar, QToolBar)
    return bar.findChildren(StepButton)


def test_undo_and_redo_are_pressed_in_the_bar(hands: Hands) -> None:
    undo, redo = _buttons(hands)
    assert not undo.isEnabled()
    hands.from_tray("Battery", 0, 0)
    assert undo.isEnabled()
    assert undo.toolTip() == hands.window.actions_["undo"].toolTip()
    assert "G1" in undo.toolTip()
    QTest.mouseClick(undo, Qt.MouseButton.LeftButton)
    hands.settle()
    assert not hands.circuit.parts
    assert (undo.isEnabled(), redo.isEnabled()) == (False, True)
    QTest.mouseClick(redo, Qt.MouseButton.LeftButton)
    hands.settle()
    assert hands.circuit.parts


def test_the_buttons_take_the_icons_of_another_theme(hands: Hands) -> None:
    undo = _buttons(hands)[0]
    light = undo.icon().cacheKey()
    hands.window.session.look_at(theme="dark")
    hands.settle()
    assert undo.icon().cacheKey() != light
    assert undo.icon().cacheKey() == hands.window.actions_["undo"].icon().cacheKey()


def test_an_action_that_changes_with_every_act_is_tied_to_no_button_of_the_bar(
    hands: Hands,
) -> None:
    """A button that Qt ties to an action is tied once more at each change of it."""
    bar = hands.window.findChild(QToolBar, "bar")
    assert isinstance(bar, QToolBar)
    for key in ("undo", "redo"):
        tied = hands.window.actions_[key].associatedObjects()
        assert bar not in tied
        assert not [o for o in tied if o.parent() is bar]


def test_an_icon_is_the_same_each_time_and_its_owner_may_add_to_it() -> None:
    red = LIGHT.severity("danger")
    first, second = icon("actions/danger", red), icon("actions/danger", red)
    assert first.cacheKey() == second.cacheKey()
    second.addPixmap(icon("actions/fault", red).pixmap(32, 32))
    assert icon("actions/danger", red).cacheKey() == first.cacheKey() != second.cacheKey()
