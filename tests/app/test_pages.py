"""Pages below the sheet: the keys come to them again; a sheet seen whole stays so beside them."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from model.file import load
from tests.app.hands import Hands

FAN = Path("assets/examples/radiator-fan.voltwalk")
PAGES = ("dock_loads", "dock_sizes", "dock_tables")


def opened(hands: Hands, page: str) -> None:
    """Open the fan's circuit, seen whole, and a page below it."""
    hands.window.files.show_circuit(load(FAN).circuit)
    hands.settle()
    hands.window.actions_["fit"].trigger()
    assert hands.window.view.shows_all()
    hands.window.actions_[page].trigger()
    hands.settle()


@pytest.mark.parametrize("page", PAGES)
def test_the_keys_come_to_a_page_again(hands: Hands, page: str) -> None:
    opened(hands, page)
    inside = QApplication.focusWidget()
    dock = hands.window.docks[page.removeprefix("dock_")]
    assert inside is not None and dock.isAncestorOf(inside)
    hands.key(Qt.Key.Key_Tab, Qt.KeyboardModifier.ControlModifier)
    left = QApplication.focusWidget()
    assert left is not None and not dock.isAncestorOf(left)
    for _ in range(40):
        if QApplication.focusWidget() is inside:
            return
        hands.key(Qt.Key.Key_Tab, Qt.KeyboardModifier.ControlModifier)
    pytest.fail("Ctrl+Tab never comes back to the page")


@pytest.mark.parametrize("page", PAGES)
def test_a_sheet_seen_whole_stays_so_when_a_page_comes(hands: Hands, page: str) -> None:
    opened(hands, page)
    assert hands.window.view.shows_all()


def test_a_sheet_seen_in_part_is_left_as_it_was_looked_at(hands: Hands) -> None:
    opened(hands, "dock_loads")
    hands.window.actions_["dock_loads"].trigger()
    for _ in range(6):
        hands.window.actions_["zoom_in"].trigger()
    zoom = hands.window.view.transform().m11()
    hands.window.actions_["dock_loads"].trigger()
    hands.settle()
    assert hands.window.view.transform().m11() == zoom
