"""Details follow the selection: once for all that happened, in widgets that are there already."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from app.docks.details import ROWS
from app.docks.page import Page
from model.circuit import Part
from model.edits import put
from model.kinds import KINDS
from tests.app.hands import Hands


def _drawn(hands: Hands) -> None:
    """Draw a battery, a lamp and two wires."""
    hands.from_tray("Battery", -200, 0)
    hands.from_tray("Lamp", 200, 0)
    hands.wire_up("G1.+", "E1.+")
    hands.wire_up("G1.-", "E1.-")
    hands.settle()


def _select(hands: Hands, key: str) -> None:
    hands.window.session.select(frozenset({key}))
    hands.settle()


def _widgets(hands: Hands) -> int:
    hands.flush()
    return len(hands.window.details.findChildren(QWidget))


def test_an_entry_is_followed_once(hands: Hands, monkeypatch: pytest.MonkeyPatch) -> None:
    """A typed wire is made, selected, solved and checked: its page is written once."""
    _drawn(hands)
    written: list[str] = []
    show = Page.show_fields

    def counted(page: Page, title: str, fields: object, behind: object) -> None:
        written.append(title)
        show(page, title, fields, behind)  # type: ignore[arg-type]

    monkeypatch.setattr(Page, "show_fields", counted)
    hands.window.view.setFocus()
    for letter in "G1.+ E1.+ 2.5 RD":
        focus = QApplication.focusWidget()
        assert focus is not None
        QTest.keyClicks(focus, letter)
    focus = QApplication.focusWidget()
    assert focus is not None
    QTest.keyClick(focus, Qt.Key.Key_Return)
    hands.settle()
    assert len(hands.circuit.wires) == 3
    assert written == [f"{hands.circuit.wires[max(hands.circuit.wires)].number} · Wire"]


def test_wires_share_their_widgets_and_each_shows_its_own(hands: Hands) -> None:
    _drawn(hands)
    first, second = hands.circuit.wires
    details = hands.window.details
    _select(hands, first)
    rows, ends = dict(details.rows), details.rows["first"].input
    before = _widgets(hands)
    _select(hands, second)
    assert dict(details.rows) == rows
    assert details.rows["first"].input is ends
    assert details.rows["number"].input.text() == hands.circuit.wires[second].number  # type: ignore[union-attr]
    assert _widgets(hands) == before


def test_a_page_is_kept_for_each_of_the_latest_shapes_only(hands: Hands) -> None:
    for i, key in enumerate(sorted(KINDS)[:14]):
        part = Part(f"p{i}", key, f"P{i}")
        hands.window.session.do(put(hands.circuit, "parts", part, "Place"))
    hands.settle()
    parts = list(hands.circuit.parts)
    asked = 0
    for _ in range(2):
        asked = 0
        for key in parts:
            _select(hands, key)
            asked += len(hands.window.details.rows)
    assert asked > 2 * ROWS
    once = _widgets(hands)
    for key in parts:
        _select(hands, key)
    assert abs(_widgets(hands) - once) < 5
    pages = hands.window.details.findChildren(Page)
    assert len(pages) > 1
    assert sum(len(p.rows) for p in pages) <= ROWS


def test_what_is_typed_and_not_given_goes_to_the_thing_it_was_typed_for(hands: Hands) -> None:
    _drawn(hands)
    first, second = hands.circuit.wires
    _select(hands, first)
    line = hands.window.details.rows["length_m"].input
    line.setFocus()
    QTest.keyClicks(line, "3 m")
    _select(hands, second)
    assert hands.circuit.wires[first].length_m == 3.0
    assert hands.circuit.wires[second].length_m != 3.0
    assert hands.window.session.undo.undoText().startswith("Change")


def test_what_is_typed_for_a_thing_that_is_gone_is_dropped(hands: Hands) -> None:
    _drawn(hands)
    first, second = hands.circuit.wires
    _select(hands, first)
    line = hands.window.details.rows["length_m"].input
    line.setFocus()
    QTest.keyClicks(line, "3 m")
    hands.window.actions_["delete"].trigger()
    _select(hands, second)
    assert list(hands.circuit.wires) == [second]
    assert hands.circuit.wires[second].length_m != 3.0


def test_the_keys_stay_in_the_row_from_one_wire_to_the_next(hands: Hands) -> None:
    _drawn(hands)
    first, second = hands.circuit.wires
    _select(hands, first)
    hands.window.details.focus_on("size")
    _select(hands, second)
    assert QApplication.focusWidget() is hands.window.details.rows["size"].input
    battery = next(iter(hands.circuit.parts))
    _select(hands, battery)  # it has no size: the keys stay in Details
    focus = QApplication.focusWidget()
    assert focus is hands.window.details


def test_hidden_details_wait_until_they_are_seen(hands: Hands) -> None:
    _drawn(hands)
    first, second = hands.circuit.wires
    _select(hands, first)
    dock = hands.window.docks["details"]
    dock.hide()
    _select(hands, second)
    page = hands.window.details._last()
    number = hands.circuit.wires[first].number
    assert page.heading.text() == f"{number} · Wire"
    dock.show()
    QApplication.processEvents()
    assert page.heading.text() == f"{hands.circuit.wires[second].number} · Wire"


def test_a_list_that_serves_another_thing_has_the_choices_of_that(hands: Hands) -> None:
    """A value that is none of the choices stands in its own list only."""
    _drawn(hands)
    first, second = hands.circuit.wires
    wires = hands.circuit.wires
    _select(hands, first)
    box = hands.window.details.rows["colour"].input
    plain = box.count()  # type: ignore[union-attr]
    odd = replace(wires[first], colour="XQ")
    hands.window.session.do(put(hands.circuit, "wires", odd, "Colour"))
    hands.settle()
    assert (box.count(), box.currentText()) == (plain + 1, "XQ")  # type: ignore[union-attr]
    _select(hands, second)
    assert box.count() == plain  # type: ignore[union-attr]


@pytest.mark.parametrize("text", ["150 %", "-1 %"])
def test_more_than_the_whole_is_refused_where_it_was_typed(hands: Hands, text: str) -> None:
    _drawn(hands)
    load = hands.part("E1").id
    hands.window.session.select(frozenset({load}))
    hands.settle()
    row = hands.window.details.rows["use_share"]
    QTest.keyClicks(row.input, text)
    QTest.keyClick(row.input, Qt.Key.Key_Return)
    assert "type 0 to 100 %" in row.note.text()
    assert "use_share" not in hands.circuit.parts[load].ratings
