"""The slim bars by key: finding over sheets, replacing with what is lost, changing several."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel

from model.circuit import Place, Sheet
from model.edits import put
from model.file import dumps
from model.lookup import kind_of
from tests.app.editing import choose, horn_in, selected, whole_undo
from tests.app.hands import Hands

K = Qt.Key
CONTROL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier


@pytest.fixture
def horn(hands: Hands) -> Hands:
    """Hands on the horn circuit with its relay selected."""
    return horn_in(hands)


def two_sheets(hands: Hands) -> None:
    """Put the cards on two sheets: the horn on the second one."""
    shown = hands.window.scene.geometry.sheet
    horn = hands.part("B1").id
    first = replace(shown, places={k: p for k, p in shown.places.items() if p.part != horn})
    session = hands.window.session
    session.do(put(session.circuit, "sheets", first, "One"))
    second = Sheet("s9", "Engine bay", {"c900": Place("c900", horn, 4000, 3000, pinned=True)})
    session.do(put(session.circuit, "sheets", second, "Two"))
    hands.settle()


def find(hands: Hands, text: str) -> QLabel:
    """Type into the bar in place of what is there, and return what it says."""
    hands.window.view.setFocus()
    hands.key(K.Key_F, CONTROL)
    bar = hands.window.chooses.bar
    bar.edit.selectAll()
    QTest.keyClicks(bar.edit, text)
    return bar.said


def in_view(hands: Hands, reference: str) -> bool:
    """Tell whether a part's card is on the screen."""
    view = hands.window.view
    seen = view.mapToScene(view.viewport().rect()).boundingRect()
    area = hands.window.scene.area_of([hands.part(reference).id])
    return not area.isEmpty() and seen.contains(area)


def test_no_bar_is_open_until_it_is_asked_for(horn: Hands) -> None:
    bars = (horn.window.chooses.bar, horn.window.clips.replace_bar, horn.window.clips.change_bar)
    assert all(bar.isHidden() for bar in bars)
    for bar in bars:
        for widget in (bar.edit, bar.close_button, bar):
            assert widget.accessibleName()


def test_a_hit_is_brought_into_view_on_its_sheet(horn: Hands) -> None:
    two_sheets(horn)
    assert "B1" in find(horn, "B1").text()
    assert horn.window.session.sheet.id == "s9"
    horn.settle()
    assert in_view(horn, "B1")
    find(horn, "F1")
    assert horn.window.session.sheet.id != "s9"
    assert in_view(horn, "F1")


def test_the_next_hit_is_shown_with_the_bar_closed_too(horn: Hands) -> None:
    two_sheets(horn)
    assert find(horn, "horn").text().startswith("1 of ")
    horn.key(K.Key_Escape)
    bar = horn.window.chooses.bar
    assert bar.isHidden()
    seen = set()
    for _ in bar.hits:
        horn.key(K.Key_F3)
        (one,) = selected(horn)
        seen.add(one)
        on = horn.window.session.sheet.id
        assert one != "B1" or (on == "s9" and in_view(horn, "B1"))
    assert {"F1", "K1", "S1", "B1"} <= seen
    assert len(seen) == len(bar.hits)


def test_a_terminal_is_found_with_its_wires_and_all_are_selected(horn: Hands) -> None:
    said = find(horn, "K1.86").text()
    assert said.startswith("1 of 2 · K1 · terminal K1.86")
    button = horn.window.chooses.bar.extra
    button.setFocus()
    horn.key(K.Key_Space)
    assert selected(horn) == {"K1", "W04"}
    assert horn.window.chooses.bar.said.text() == "All 2 are selected."


def test_replacing_foretells_what_does_not_fit(horn: Hands) -> None:
    before = dumps(horn.circuit)
    horn.key(K.Key_H, CONTROL)
    bar = horn.window.clips.replace_bar
    QTest.keyClicks(bar.edit, "blade fuse")
    assert "K1 → Blade fuse." in bar.said.text()
    assert "is open where it ended at" in bar.said.text()
    assert dumps(horn.circuit) == before
    QTest.keyClick(bar.edit, K.Key_Return)
    assert kind_of(horn.circuit, horn.circuit.parts["p3"]).key == "fuse-blade"
    assert "is open where it ended at" in horn.window.notice.text()
    assert [w.number for w in horn.circuit.wires.values() if None in (w.first, w.second)]
    whole_undo(horn, before)


def test_a_long_sentence_takes_no_room_from_the_docks(horn: Hands) -> None:
    wide = [dock.width() for dock in horn.window.docks.values()]
    horn.key(K.Key_H, CONTROL)
    bar = horn.window.clips.replace_bar
    QTest.keyClicks(bar.edit, "blade fuse")
    horn.settle()
    assert len(bar.said.text()) > 100
    assert [dock.width() for dock in horn.window.docks.values()] == wide


def test_kinds_are_stepped_through_and_several_parts_replaced(horn: Hands) -> None:
    before = dumps(horn.circuit)
    choose(horn, "F1", "K1")
    horn.key(K.Key_H, CONTROL)
    bar = horn.window.clips.replace_bar
    QTest.keyClicks(bar.edit, "relay")
    titles = [k.title for k in bar.found]
    assert len(titles) > 3
    QTest.keyClick(bar.edit, K.Key_Down)
    assert bar.said.text().startswith(f"2 of {len(titles)} · F1, K1 → {titles[1]}.")
    QTest.keyClick(bar.edit, K.Key_Return)
    made = {kind_of(horn.circuit, horn.circuit.parts[p]).title for p in ("p2", "p3")}
    assert made == {titles[1]}
    whole_undo(horn, before)


def test_a_part_of_this_kind_already_is_told(horn: Hands) -> None:
    choose(horn, "F1")
    horn.key(K.Key_H, CONTROL)
    bar = horn.window.clips.replace_bar
    QTest.keyClicks(bar.edit, "blade fuse")
    assert "already" in bar.said.text()
    QTest.keyClick(bar.edit, K.Key_Return)
    assert bar.isVisible() and "Nothing to do" in bar.said.text()


def test_the_bars_need_draw_and_something_selected(horn: Hands) -> None:
    for key in (K.Key_H, K.Key_G):
        horn.window.session.select(frozenset())
        horn.key(key, CONTROL)
        assert horn.window.notice.text().startswith("Select ")
    choose(horn, "K1")
    horn.key(K.Key_F6)
    for key in (K.Key_H, K.Key_G):
        horn.key(key, CONTROL)
        assert "F5" in horn.window.notice.text()
    assert horn.window.clips.replace_bar.isHidden() and horn.window.clips.change_bar.isHidden()


def test_what_differs_is_called_several_and_what_is_not_typed_stays(horn: Hands) -> None:
    before = dumps(horn.circuit)
    choose(horn, "W05", "W07")
    horn.key(K.Key_G, CONTROL)
    bar = horn.window.clips.change_bar
    assert "size several, colour several, length several" in bar.said.text()
    choose(horn, "W06", "W08")
    assert "size several, colour BK, length 0.3 m" in bar.said.text()
    bar.edit.setFocus()
    QTest.keyClicks(bar.edit, "1.5 mm²")
    QTest.keyClick(bar.edit, K.Key_Return)
    for number in ("W06", "W08"):
        wire = horn.wire(number)
        assert wire.size is not None and wire.size.mm2 == 1.5
        assert (wire.colour, wire.length_m) == ("BK", 0.3)
    assert bar.isHidden() and selected(horn) == {"W06", "W08"}
    whole_undo(horn, before)


def test_escape_leaves_each_bar_and_changes_nothing(horn: Hands) -> None:
    before = dumps(horn.circuit)
    for key in (K.Key_F, K.Key_H, K.Key_G):
        choose(horn, "K1")
        horn.key(key, CONTROL)
        QTest.keyClicks(horn.window.focusWidget(), "5 A")
        horn.key(K.Key_Escape)
        assert horn.window.view.hasFocus()
    assert dumps(horn.circuit) == before
