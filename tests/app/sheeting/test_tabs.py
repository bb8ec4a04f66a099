"""Sheets by real keys and mouse: tabs, names, order, removal, parts on other sheets."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.sheeting.tabs import SheetTabs
from app.whereabouts import GONE
from model.editing import EditError, add_sheet, move_to_sheet
from model.file import dumps
from tests.app.hands import LEFT, NONE, Hands

CONTROL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier


def _tabs(hands: Hands) -> SheetTabs:
    return hands.window.sheets.tabs


def _names(hands: Hands) -> list[str]:
    return [_tabs(hands).tabText(i) for i in range(_tabs(hands).count())]


def _do(hands: Hands, key: str) -> None:
    hands.window.actions_[key].trigger()
    hands.settle()


def _with_two(hands: Hands) -> None:
    """Draw a battery and a lamp joined by a wire, the lamp on a second sheet."""
    hands.from_tray("Battery", -200, 0)
    hands.from_tray("Lamp", 200, 0)
    hands.wire_up("G1.+", "E1.+")
    hands.select("E1")
    _do(hands, "sheet_move")


def _click_tab(hands: Hands, at: int) -> None:
    QTest.mouseClick(_tabs(hands), LEFT, NONE, _tabs(hands).tabRect(at).center())
    hands.settle()


def test_one_sheet_has_no_tabs_and_the_second_brings_them(hands: Hands) -> None:
    strip = hands.window.sheets.strip
    assert not strip.isVisible()
    _do(hands, "sheet_add")
    assert strip.isVisible()
    assert _names(hands) == ["Sheet 1", "Sheet 2"]
    assert hands.window.session.sheet.name == "Sheet 2"
    hands.undo()
    assert not strip.isVisible()
    assert hands.window.session.sheet.name == "Sheet 1"


def test_a_tab_shows_its_sheet_by_mouse_and_by_arrow(hands: Hands) -> None:
    _with_two(hands)
    assert list(hands.window.scene.geometry.cards) == ["c1"]
    _click_tab(hands, 1)
    places = hands.window.scene.geometry.places.values()
    assert [p.part for p in places] == [hands.part("E1").id]
    _tabs(hands).setFocus()
    hands.key(Qt.Key.Key_Left)
    assert hands.window.session.sheet.name == "Sheet 1"


def test_each_sheet_keeps_its_zoom_and_middle(hands: Hands) -> None:
    _with_two(hands)
    view = hands.window.view
    view.zoom(1.7)
    view.centerOn(-300.0, 40.0)
    zoom, middle = view.transform().m11(), view.middle()
    _click_tab(hands, 1)
    assert view.transform().m11() != zoom
    _click_tab(hands, 0)
    assert view.transform().m11() == zoom
    assert (view.middle() - middle).manhattanLength() < 3 / zoom


def test_a_name_is_typed_in_the_tab(hands: Hands) -> None:
    _with_two(hands)
    tabs = _tabs(hands)
    QTest.mouseDClick(tabs, LEFT, NONE, tabs.tabRect(1).center())
    assert tabs.edit.isVisible()
    hands.type("Rear & tail")
    hands.key(Qt.Key.Key_Return)
    assert hands.window.session.sheet.name == "Rear & tail"
    assert tabs.hasFocus()
    hands.key(Qt.Key.Key_F2)
    hands.type("not this")
    hands.key(Qt.Key.Key_Escape)
    assert hands.window.session.sheet.name == "Rear & tail"
    hands.key(Qt.Key.Key_F2)
    hands.type("Sheet 1")
    hands.key(Qt.Key.Key_Return)
    assert "another sheet" in hands.window.notice.text()
    hands.undo()
    assert [s.name for s in hands.circuit.sheets.values()] == ["Sheet 1", "Sheet 2"]


def test_tabs_are_put_in_order_by_key_and_by_drag(hands: Hands) -> None:
    _with_two(hands)
    _do(hands, "sheet_add")
    assert _names(hands) == ["Sheet 1", "Sheet 2", "Sheet 3"]
    hands.window.view.setFocus()
    hands.key(Qt.Key.Key_PageUp, CONTROL | SHIFT)
    assert _names(hands) == ["Sheet 1", "Sheet 3", "Sheet 2"]
    tabs = _tabs(hands)
    start, end = tabs.tabRect(2).center(), tabs.tabRect(0).center() - QPoint(20, 0)
    count = hands.window.session.undo.count()
    QTest.mousePress(tabs, LEFT, NONE, start)
    for step in range(1, 9):
        QTest.mouseMove(tabs, start + (end - start) * step / 8)
        QApplication.processEvents()
    QTest.mouseRelease(tabs, LEFT, NONE, end)
    hands.settle()
    assert [s.name for s in hands.circuit.sheets.values()] == ["Sheet 2", "Sheet 1", "Sheet 3"]
    assert hands.window.session.undo.count() == count + 1
    assert _names(hands) == ["Sheet 2", "Sheet 1", "Sheet 3"]


def test_delete_on_a_tab_removes_the_sheet_and_loses_no_part(hands: Hands) -> None:
    _with_two(hands)
    before = dumps(hands.circuit)
    _click_tab(hands, 1)
    _tabs(hands).setFocus()
    hands.key(Qt.Key.Key_Delete)
    assert [*hands.circuit.sheets] == ["s1"]
    assert "stood on Sheet 2 only: now on Sheet 1" in hands.window.notice.text()
    shown = {p.part for p in hands.window.scene.geometry.places.values()}
    assert shown == {hands.part("G1").id, hands.part("E1").id}
    hands.undo()
    assert dumps(hands.circuit) == before
    hands.window.sheets.do_sheet_remove()
    assert len(hands.circuit.sheets) == 1
    hands.window.sheets.do_sheet_remove()
    assert "only sheet" in hands.window.notice.text()


@pytest.mark.qt_log_ignore("grabbing the keyboard")
def test_the_menu_of_other_sheets_is_asked_where_there_are_several(hands: Hands) -> None:
    _with_two(hands)
    hands.select("G1")
    hands.key(Qt.Key.Key_F12, SHIFT)
    menu = hands.window.sheets.whither
    assert menu.isVisible()
    QTest.keyClick(menu, Qt.Key.Key_Return)
    hands.settle()
    shown = {p.part for p in hands.circuit.sheets["s2"].places.values()}
    assert shown == {hands.part("G1").id, hands.part("E1").id}
    assert len(hands.circuit.parts) == 2
    hands.window.session.show_sheet("s2")
    hands.window.session.select(frozenset({hands.part("G1").id}))
    _do(hands, "sheet_off")
    assert {p.part for p in hands.circuit.sheets["s2"].places.values()} == {hands.part("E1").id}


def test_undo_shows_the_sheet_where_it_is_seen(hands: Hands) -> None:
    _with_two(hands)
    _click_tab(hands, 1)
    hands.select("E1")
    hands.key(Qt.Key.Key_Right)
    _click_tab(hands, 0)
    hands.undo()
    assert hands.window.session.sheet.name == "Sheet 2"


def test_what_is_selected_elsewhere_brings_its_sheet(hands: Hands) -> None:
    _with_two(hands)
    assert hands.window.session.sheet.name == "Sheet 1"
    hands.window.session.select(frozenset({hands.part("E1").id}))
    assert hands.window.session.sheet.name == "Sheet 2"
    hands.window.session.select(frozenset({hands.wire("W1").id}))
    assert hands.window.session.sheet.name == "Sheet 2"


def test_a_finding_brings_its_sheet(hands: Hands) -> None:
    hands.from_tray("Battery", -200, 0)
    session = hands.window.session
    session.do(add_sheet(session.circuit).change)
    session.show_sheet("s2")
    hands.settle()
    about = next(f for f in session.analysis.findings if hands.part("G1").id in f.ids)
    session.show_finding(about)
    assert session.sheet.id == "s1"


def test_the_layout_of_a_sheet_is_kept_while_another_is_shown(hands: Hands) -> None:
    _with_two(hands)
    before = hands.window.scene.geometry
    _click_tab(hands, 1)
    _click_tab(hands, 0)
    assert hands.window.scene.geometry is before


def test_moving_to_the_sheet_one_is_on_is_refused_in_words(hands: Hands) -> None:
    _with_two(hands)
    session = hands.window.session
    hands.select("G1")
    shown = hands.window.scene.geometry.sheet
    with pytest.raises(EditError, match="on this sheet already"):
        move_to_sheet(session.circuit, shown, [hands.part("G1").id], "s1")


def test_of_sheets_that_are_gone_only_the_latest_few_are_remembered(hands: Hands) -> None:
    """Sheets made and removed all day take no room; one that undo brings back lies as it lay."""
    _with_two(hands)
    for _ in range(8):
        _do(hands, "sheet_add")
        _do(hands, "sheet_remove")
    layouts, sights = hands.window.presenter._layouts, hands.window.sheets.sights._kept
    for kept in (layouts, sights):
        assert len(kept.keys() - hands.circuit.sheets.keys()) <= GONE
    assert layouts.keys() & hands.circuit.sheets.keys()
