"""The overview and the ways to zoom, by keys and mouse."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from app import files
from app.sheeting.overview import Overview
from model.file import load
from tests.app.hands import LEFT, NONE, Hands
from tests.bench.circuits import cells

CIRCUITS = Path(__file__).parents[2] / "circuits"
KEYS = Qt.KeyboardModifier


def _open(hands: Hands) -> Overview:
    hands.window.files.show_circuit(load(files.EXAMPLES / "fuel-pump.voltwalk").circuit)
    hands.settle()
    hands.window.view.zoom(2.0)
    hands.window.view.setFocus()
    hands.key(Qt.Key.Key_0, KEYS.AltModifier)
    return hands.window.sheets.overview


def test_its_key_shows_it_and_gives_it_the_keys(hands: Hands) -> None:
    overview = hands.window.sheets.overview
    assert not overview.isVisible()
    _open(hands)
    assert overview.isVisible()
    assert overview.hasFocus()
    assert hands.window.actions_["overview"].isChecked()
    before = hands.window.view.middle()
    hands.key(Qt.Key.Key_Right)
    assert hands.window.view.middle().x() > before.x()
    hands.key(Qt.Key.Key_Escape)
    assert hands.window.view.hasFocus()
    hands.key(Qt.Key.Key_0, KEYS.AltModifier)
    assert not overview.isVisible()


def test_the_frame_is_dragged_and_the_picture_is_not_made_for_it(hands: Hands) -> None:
    overview = _open(hands)
    made, middle = overview.painted, hands.window.view.middle()
    start = overview.frame().center().toPoint()
    QTest.mousePress(overview, LEFT, NONE, start)
    QTest.mouseMove(overview, start + QPoint(40, 10))
    QTest.mouseRelease(overview, LEFT, NONE, start + QPoint(40, 10))
    hands.settle()
    moved = hands.window.view.middle() - middle
    assert moved.x() > 100
    away = overview.frame().center() - start.toPointF()
    assert abs(away.x() - 40) < 2 and abs(away.y() - 10) < 2
    assert overview.painted == made


def test_its_picture_follows_a_change_once_the_hand_is_still(hands: Hands) -> None:
    overview = _open(hands)
    made = overview.painted
    hands.window.view.fit()
    port, start = hands.window.view.viewport(), hands.at_part("K1")
    QTest.mousePress(port, LEFT, NONE, start)
    for step in range(1, 30):
        QTest.mouseMove(port, start + QPoint(0, step * 4))
        hands.bot.wait(10)
    assert overview.painted == made
    QTest.mouseRelease(port, LEFT, NONE, start + QPoint(0, 116))
    hands.settle()
    hands.bot.waitUntil(lambda: overview.painted == made + 1, timeout=3000)


def test_the_zoom_is_told_and_chosen_in_the_status_bar(hands: Hands) -> None:
    _open(hands)
    button, view = hands.window.sheets.zoom_button, hands.window.view
    view.setFocus()
    hands.key(Qt.Key.Key_Home, KEYS.AltModifier)
    assert button.text() == "100 %"
    assert button.accessibleDescription() == "100 percent"
    hands.key(Qt.Key.Key_Plus)
    assert button.text() == "125 %"
    button.menu().aboutToShow.emit()
    assert hands.window.actions_["fit"] in button.menu().actions()


def test_what_is_selected_and_the_width_fill_the_view(hands: Hands) -> None:
    _open(hands)
    view, scene = hands.window.view, hands.window.scene
    part = hands.part("K1").id
    hands.window.session.select(frozenset({part}))
    view.setFocus()
    hands.key(Qt.Key.Key_Home, KEYS.ShiftModifier)
    seen = view.mapToScene(view.viewport().rect()).boundingRect()
    assert seen.contains(scene.area_of([part]))
    assert view.transform().m11() == 2.5
    hands.key(Qt.Key.Key_Home, KEYS.ControlModifier)
    seen = view.mapToScene(view.viewport().rect()).boundingRect()
    assert seen.left() <= scene.contents().left()
    assert seen.right() >= scene.contents().right()


def test_a_sheet_too_large_for_the_back_row_starts_where_its_numbers_are_read(
    hands: Hands,
) -> None:
    """One of nine parts stays whole, though beside the docks its numbers are smaller than 20 px."""
    session, view = hands.window.session, hands.window.view
    session.look_at(theme="projector")
    hands.window.files.show_circuit(load(files.EXAMPLES / "fuel-pump.voltwalk").circuit)
    seen = view.mapToScene(view.viewport().rect()).boundingRect()
    assert seen.contains(hands.window.scene.contents())
    hands.window.files.show_circuit(cells(60))
    sizes, area = hands.window.scene.sizes, hands.window.scene.contents()
    assert sizes is not None
    assert view.transform().m11() * sizes.number_px == pytest.approx(20.0)
    seen = view.mapToScene(view.viewport().rect()).boundingRect()
    assert seen.left() < area.left() < seen.right() < area.right()
    assert seen.top() < area.top()
    view.setFocus()
    hands.key(Qt.Key.Key_Home)
    seen = view.mapToScene(view.viewport().rect()).boundingRect()
    assert seen.contains(area)
