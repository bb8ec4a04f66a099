"""What the finder greys is really refused: each such action is tried, and nothing happens."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest

from app.actions import ACTIONS
from app.commanding.able import ONLY_IN_DRAW, why_not
from model.file import load
from tests.app.hands import Hands

PUMP = Path("assets/examples/fuel-pump.voltwalk")
KEYS = tuple(s.key for s in ACTIONS)


def opened(hands: Hands, mode: str, chosen: str) -> None:
    session = hands.window.session
    hands.window.files.show_circuit(load(PUMP).circuit)
    session.look_at(mode=mode)
    first = next(iter(session.circuit.parts))
    wire = next(iter(session.circuit.wires))
    every = frozenset((*session.circuit.parts, *session.circuit.wires))
    session.select({"none": frozenset(), "part": frozenset({first}), "wire": frozenset({wire}),
                    "all": every}[chosen])  # fmt: skip
    hands.settle()


@pytest.mark.parametrize(
    ("mode", "chosen"),
    [("draw", "none"), ("draw", "part"), ("draw", "wire"), ("operate", "none"), ("operate", "all")],
)
def test_what_is_grey_does_nothing_when_it_is_called_all_the_same(
    hands: Hands, mode: str, chosen: str
) -> None:
    opened(hands, mode, chosen)
    window, session = hands.window, hands.window.session
    grey = [k for k in KEYS if why_not(session, k, window.actions_[k].isEnabled())]
    assert len(grey) >= 5, grey
    for key in grey:
        before, selected, told = session.circuit, session.selection, window.notice.text()
        window.actions_[key].trigger()
        assert session.circuit is before, key
        assert session.selection == selected, (key, told)
        bars = (window.clips.change_bar, window.clips.replace_bar, window.typed.line)
        assert all(b.isHidden() for b in bars), key


def test_in_operate_every_act_that_changes_the_circuit_is_grey(hands: Hands) -> None:
    opened(hands, "operate", "all")
    assert {k for k in KEYS if why_not(hands.window.session, k)} >= ONLY_IN_DRAW


def test_with_everything_selected_in_draw_the_common_acts_can_be_done(hands: Hands) -> None:
    opened(hands, "draw", "all")
    for key in ("cut", "copy", "delete", "rotate", "align_left", "space_across", "change", "tidy"):
        assert why_not(hands.window.session, key) == "", key


def test_the_row_says_why_not(hands: Hands) -> None:
    opened(hands, "draw", "part")
    hands.key(Qt.Key.Key_K, Qt.KeyboardModifier.ControlModifier)
    finder = hands.window.commands.finder
    assert finder is not None
    QTest.keyClicks(finder.edit, "distribute")
    row = finder.list.topLevelItem(0)
    assert row is not None and row.isDisabled()
    assert row.text(1) == "Select at least 3 parts first."
    QTest.keyClick(finder.edit, Qt.Key.Key_Escape)


def test_reasons_are_of_actions_there_are() -> None:
    assert set(KEYS) >= ONLY_IN_DRAW


def test_pasting_from_a_clipboard_that_never_held_anything_is_told(hands: Hands) -> None:
    QGuiApplication.clipboard().clear()
    hands.window.actions_["paste"].trigger()
    assert not hands.circuit.parts
    assert hands.window.notice.text()
