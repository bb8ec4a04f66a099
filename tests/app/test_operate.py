"""Operating by real events: clicks and keys move controls, the state follows on the sheet."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from app.scene.painted import PaintedWire
from tests.app.hands import Hands

CIRCUITS = Path(__file__).parents[1] / "circuits"
LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def horn(hands: Hands) -> Hands:
    """Return hands on the horn circuit in Operate."""
    hands.window.files.open_file(CIRCUITS / "C07.voltwalk")
    hands.key(Qt.Key.Key_F6)
    hands.window.view.fit()
    hands.settle()
    return hands


def _pulled(hands: Hands) -> frozenset[tuple[str, str]]:
    state = hands.window.session.analysis.state
    return state.pulled if state else frozenset()


def _wire(hands: Hands, number: str) -> PaintedWire:
    return hands.window.scene.wire_item(hands.wire(number).id).painted


def test_a_button_sounds_the_horn_only_while_it_is_pressed(horn: Hands) -> None:
    at, port = horn.at_part("S1"), horn.window.view.viewport()
    assert not _wire(horn, "W05").carrying
    QTest.mousePress(port, LEFT, pos=at)
    horn.settle()
    assert _wire(horn, "W05").current_a == pytest.approx(6.792, abs=0.002)  # state table C07
    QTest.mouseRelease(port, LEFT, pos=at)
    horn.settle()
    assert not _wire(horn, "W05").carrying
    assert _wire(horn, "W05").side == "none"


def test_space_presses_the_selected_control(horn: Hands) -> None:
    horn.window.session.select(frozenset({horn.part("S1").id}))
    horn.window.view.setFocus()
    QTest.keyPress(horn.window.view, Qt.Key.Key_Space)
    horn.settle()
    assert _wire(horn, "W05").carrying
    QTest.keyRelease(horn.window.view, Qt.Key.Key_Space)
    horn.settle()
    assert not _wire(horn, "W05").carrying


def test_operating_changes_nothing_in_the_file(horn: Hands) -> None:
    before = horn.circuit
    horn.click(horn.at_part("S1"))
    horn.key(Qt.Key.Key_Delete)
    horn.key(Qt.Key.Key_Period)
    assert horn.circuit is before
    assert horn.window.session.undo.count() == 0


def test_a_key_springs_back_and_then_goes_on_to_off(hands: Hands) -> None:
    hands.from_tray("Key switch", 0, 0)
    hands.key(Qt.Key.Key_F6)
    seen = []
    for _ in range(3):
        hands.click(hands.at_part("S1"))
        seen.append(hands.window.session.position(hands.part("S1").id))
    assert seen == ["ON", "ON", "OFF"]  # the second press went to START and sprang back


def test_in_draw_the_position_word_is_the_button(hands: Hands) -> None:
    hands.from_tray("Switch", 0, 0)
    (card,) = hands.window.scene.geometry.cards.values()
    (place,) = hands.window.scene.geometry.places.values()
    assert card.word is not None
    x, y = card.word.centre
    hands.click(hands.at_scene(place.x + x, place.y + y))
    assert hands.window.session.position(hands.part("S1").id) == "ON"
    assert hands.window.session.undo.count() == 1


def test_relays_remember_and_rest_makes_them_forget(hands: Hands) -> None:
    """A self-holding relay stays in when its button is let go (circuit of the start button)."""
    hands.window.files.open_file(CIRCUITS / "C13.voltwalk")
    hands.key(Qt.Key.Key_F6)
    hands.window.view.fit()
    session = hands.window.session
    session.set_positions({hands.part("S0").id: "ON"})
    hands.settle()
    hands.click(hands.at_part("S1"))
    assert (hands.part("K1").id, "coil") in _pulled(hands)
    hands.key(Qt.Key.Key_0, Qt.KeyboardModifier.ControlModifier)
    assert not _pulled(hands)
