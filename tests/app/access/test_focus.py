"""Whoever works by keyboard always sees where the keys go: measured on the pixels.

3 to 1 is what WCAG 2.1, success criterion 1.4.11, asks of a sign of focus against what it stands
on; here the pixels that change must change by that much, and enough of them to be seen.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget

from model.file import load
from tests.app.access.ring import compared, difference, focusable, grabbed
from tests.app.hands import Hands

PUMP = Path("tests/circuits/C01.voltwalk")
LEAST_PIXELS, LEAST_CONTRAST = 40, 3.0


def opened(hands: Hands, shown: str) -> None:
    window = hands.window
    QApplication.setCursorFlashTime(0)  # a caret that blinks would change pixels by itself
    window.activateWindow()
    window.files.show_circuit(load(PUMP).circuit)
    hands.settle()
    if shown == "control":
        parts = window.session.circuit.parts.values()
        window.session.select(frozenset(p.id for p in parts if p.reference == "S1"))
    elif shown == "finding":
        window.actions_["finding_next"].trigger()
    elif shown:
        window.actions_[shown].trigger()
    hands.settle()


SHOWN = (
    "control",
    "finding",
    "dock_keys",
    "dock_own",
    "dock_schedule",
    "dock_loads",
    "gallery",
    "find",
)
CASES = [("light", s) for s in SHOWN] + [(t, "finding") for t in ("dark", "projector")]
CASES += [("dark", "dock_keys"), ("projector", "dock_own")]


@pytest.mark.parametrize(("theme", "shown"), CASES)
def test_the_focus_is_seen_on_every_control(hands: Hands, theme: str, shown: str) -> None:
    opened(hands, shown)
    hands.window.session.look_at(theme=theme)
    hands.settle()
    controls = focusable(hands.window)
    assert len(controls) >= 15
    park, faint = hands.window.tray.search, list[str]()
    for widget in controls:
        elsewhere = park if widget is not park else hands.window.tray.list
        pixels, most = difference(hands.window, widget, elsewhere)
        if pixels < LEAST_PIXELS or most < LEAST_CONTRAST:
            faint.append(f"{type(widget).__name__} “{widget.accessibleName()}”: {pixels}, {most}")
    assert not faint, faint


def test_the_measure_finds_a_focus_that_is_not_drawn(hands: Hands) -> None:
    opened(hands, "")
    window = hands.window
    window.setStyleSheet("QToolButton { border: none; outline: none; }")
    hands.settle()
    button = next(w for w in focusable(window) if w.accessibleName().startswith("List only"))
    assert difference(window, button, window.tray.search)[0] < LEAST_PIXELS
    assert compared(grabbed(window, button.rect()), grabbed(window, button.rect())) == (0, 1.0)


CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
MOST_PANES, MOST_TABS = 16, 60


def to_pane(hands: Hands, steps: int) -> QWidget | None:
    """Go back to the sheet, and from there this many panes on."""
    hands.key(Qt.Key.Key_Return, CTRL)
    for _ in range(steps):
        hands.key(Qt.Key.Key_Tab, CTRL)
    return QApplication.focusWidget()


def reached_by_tab(hands: Hands) -> set[str]:
    """Return the names of all controls that Ctrl+Tab and then Tab come to, by these keys alone."""
    home, found = to_pane(hands, 0), set[str]()
    for steps in range(1, MOST_PANES):
        pane = focus = to_pane(hands, steps)
        if pane is home:
            break
        for _ in range(MOST_TABS):
            if focus is None or focus is hands.window.view:
                break
            found.add(focus.accessibleName())
            hands.key(Qt.Key.Key_Tab)
            focus = QApplication.focusWidget()
            if focus is pane:
                break
    return found


def test_panes_are_gone_through_both_ways(hands: Hands) -> None:
    opened(hands, "dock_schedule")
    there = [to_pane(hands, n) for n in range(MOST_PANES)]
    round_ = there.index(there[0], 1)
    assert len(set(there)) == round_ >= 8
    to_pane(hands, 0)
    back = []
    for _ in range(round_):
        hands.key(Qt.Key.Key_Backtab, CTRL | SHIFT)
        back.append(QApplication.focusWidget())
    assert back == [*reversed(there[1:round_]), there[0]]


@pytest.mark.parametrize(
    "shown",
    [
        *(
            "control",
            "finding",
            "dock_keys",
            "dock_own",
            "dock_schedule",
            "dock_loads",
            "gallery",
            "find",
        ),
        *("change", "replace", "overview", "sheet_add", "first_steps"),
    ],
)
def test_every_control_is_reached_by_keys(hands: Hands, shown: str) -> None:
    opened(hands, shown)
    wanted = {w.accessibleName() for w in focusable(hands.window) if w is not hands.window.view}
    assert wanted - reached_by_tab(hands) == set()
