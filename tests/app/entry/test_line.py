"""The typed line as a person uses it: real keys, the list, the preview, the change it gives."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.entry.line import EntryLine
from model.changes import Change
from model.circuit import Circuit
from model.document import Document
from model.lookup import parts_named
from tests.app.entry.typed import pump_parts


class Desk:
    """A line over a document, with hands that type."""

    def __init__(self, line: EntryLine, document: Document) -> None:
        self.line = line
        self.document = document
        self.changes: list[Change] = []
        self.left = 0
        line.entered.connect(self._on_entered)
        line.left.connect(self._on_left)

    def keys(self, text: str) -> None:
        """Type letters."""
        QTest.keyClicks(self.line.edit, text)

    def press(self, *keys: Qt.Key) -> None:
        """Press keys."""
        for key in keys:
            QTest.keyClick(self.line.edit, key)

    def enter(self, text: str) -> None:
        """Type a line and press Enter."""
        self.keys(text)
        self.press(Qt.Key.Key_Return)

    @property
    def text(self) -> str:
        """What stands in the line."""
        return self.line.edit.text()

    @property
    def said(self) -> str:
        """What the preview says."""
        return self.line.preview.text()

    def _on_entered(self, change: Change) -> None:
        self.changes.append(change)
        self.document.apply(change)

    def _on_left(self) -> None:
        self.left += 1


@pytest.fixture
def desk(qtbot: QtBot) -> Iterator[Desk]:
    document = Document(pump_parts().circuit)

    def now() -> Circuit:
        return document.circuit

    line = EntryLine(now)
    made = Desk(line, document)
    line.show()
    qtbot.waitExposed(line)
    line.start()
    yield made
    line.close()
    line.deleteLater()
    QApplication.sendPostedEvents(None, 0)


def test_a_wire_is_typed_previewed_and_given(desk: Desk) -> None:
    desk.keys("S1.2 K1.86 0.75 YE 1 m")
    assert desk.said == "W1: S1.2 to K1.86, 0.75 mm² YE, 1 m"
    assert desk.changes == []
    desk.press(Qt.Key.Key_Return)
    assert [c.label for c in desk.changes] == ["Wire W1"]
    assert desk.text == ""


def test_line_after_line_without_leaving_the_keyboard(desk: Desk) -> None:
    for line in ("lamp 21 W", "S1.2 K1.86 0,75 YE 1 m", "K1.87 E1", "E1 X1"):
        desk.enter(line)
    assert len(desk.changes) == 4
    assert len(desk.document.circuit.wires) == 3
    assert desk.line.recent.colour == "YE"


def test_tab_takes_the_best_suggestion_with_a_space_after(desk: Desk) -> None:
    desk.keys("cra")
    desk.press(Qt.Key.Key_Tab)
    assert desk.text == "crash "
    assert desk.line.edit.hasFocus()
    desk.press(Qt.Key.Key_Return)
    assert parts_named(desk.document.circuit, "S2")


def test_down_chooses_and_enter_takes_what_is_chosen(desk: Desk) -> None:
    desk.keys("S1.2 K1.")
    desk.press(Qt.Key.Key_Down, Qt.Key.Key_Return)
    assert desk.text == "S1.2 K1.86 "
    assert desk.changes == []
    desk.press(Qt.Key.Key_Return)
    assert len(desk.changes) == 1


def test_up_from_the_first_goes_back_to_the_line(desk: Desk) -> None:
    desk.keys("cra")
    desk.press(Qt.Key.Key_Down, Qt.Key.Key_Up, Qt.Key.Key_Up, Qt.Key.Key_Return)
    assert len(desk.changes) == 1


def test_escape_closes_the_list_then_leaves(desk: Desk) -> None:
    desk.keys("cra")
    assert desk.line.list.isVisible()
    desk.press(Qt.Key.Key_Escape)
    assert not desk.line.list.isVisible()
    assert (desk.left, desk.text) == (0, "cra")
    desk.press(Qt.Key.Key_Escape)
    assert (desk.left, desk.text) == (1, "")


def test_a_refusal_stays_in_the_line_with_its_word_selected(desk: Desk) -> None:
    desk.enter("S1.2 K1.99")
    assert desk.said == "K1 has no terminal “99”: it has 30, 86, 87 or 85."
    assert desk.line.edit.selectedText() == "K1.99"
    assert desk.line.preview.property("wrong") is True
    assert desk.changes == []


def test_up_brings_the_last_lines_back(desk: Desk) -> None:
    desk.enter("lamp 21 W")
    desk.enter("lamp 5 W")
    desk.press(Qt.Key.Key_Up)
    assert desk.text == "lamp 5 W"
    desk.press(Qt.Key.Key_Up, Qt.Key.Key_Up)
    assert desk.text == "lamp 21 W"


def test_tab_leaves_the_line_where_there_is_nothing_to_complete(desk: Desk) -> None:
    assert not desk.line.edit.completing
    desk.keys("zzzzqqqq")
    assert not desk.line.list.isVisible()


def test_the_list_follows_the_cursor(desk: Desk) -> None:
    desk.keys("S1.2 K1.")
    first = desk.line.list.item(0).text()
    desk.press(*[Qt.Key.Key_Left] * 4)
    assert first.startswith("K1.")
    assert desk.line.list.item(0).text().startswith("S1.")


def test_a_click_takes_a_suggestion(desk: Desk) -> None:
    desk.keys("S1.2 K1.")
    item = desk.line.list.item(2)
    spot = desk.line.list.visualItemRect(item).center()
    QTest.mouseClick(desk.line.list.viewport(), Qt.MouseButton.LeftButton, pos=spot)
    assert desk.text == "S1.2 K1.87 "


def test_parts_go_to_the_point_and_the_next_one_beside(desk: Desk) -> None:
    desk.line.move_to("s1", (100.0, 40.0))
    desk.enter("lamp")
    desk.enter("lamp")
    (sheet,) = desk.document.circuit.sheets.values()
    one, two = sheet.places.values()
    assert (one.x, one.y, two.y) == (100.0, 40.0, 40.0)
    assert two.x > one.x


def test_every_control_has_a_name_for_those_who_do_not_see_it(desk: Desk) -> None:
    for widget in (desk.line, desk.line.edit, desk.line.list, desk.line.preview):
        assert widget.accessibleName()
    desk.keys("cra")
    spoken = desk.line.list.item(0).data(Qt.ItemDataRole.AccessibleTextRole)
    assert spoken == "crash, Crash switch"
