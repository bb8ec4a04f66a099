"""The page of loads by keys and mouse: read, a share of time typed in place, kept in the file."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QTreeWidgetItem

from app.loads.page import LoadsPage
from checks.case import Case
from checks.energy import energy_of
from checks.sketch import sketch
from model.circuit import Circuit
from model.edits import set_part
from model.file import dumps, load, loads
from tests.app.hands import Hands
from tests.checks.test_energy import ALTERNATOR, PLAIN, TWO

PUMP = Path(__file__).parents[3] / "assets/examples/fuel-pump.voltwalk"
ALT_9 = (Qt.Key.Key_9, Qt.KeyboardModifier.AltModifier)


def opened(hands: Hands, circuit: Circuit) -> LoadsPage:
    """Open a circuit and its page of loads, by the key."""
    hands.window.session.open(circuit, None)
    hands.settle()
    hands.window.view.setFocus()
    hands.key(*ALT_9)
    page = hands.window.loads.page
    assert page is not None and page.isVisible()
    page.working.wait()
    return page


def texts(item: QTreeWidgetItem | None) -> list[str]:
    assert item is not None
    return [item.text(c) for c in range(item.columnCount())]


def at(page: LoadsPage, row: int) -> QTreeWidgetItem:
    item = page.loads.topLevelItem(row)
    assert item is not None
    return item


def rows(page: LoadsPage) -> list[list[str]]:
    return [texts(page.loads.topLevelItem(i)) for i in range(page.loads.topLevelItemCount())]


def scenarios(page: LoadsPage) -> dict[str, list[str]]:
    found = page.scenarios
    every = [texts(found.topLevelItem(i)) for i in range(found.topLevelItemCount())]
    return {row[0]: row[1:] for row in every}


def test_rows_and_sums_are_those_reckoned_by_hand(hands: Hands) -> None:
    """12 V through 2, 4 and 600 Ω: 6 A, 3 A starting at 9 A, 20 mA; 9.02 A of 60 A together.

    Half of 40 Ah lasts 20 Ah / 9.02 A = 2.22 h, and 20 Ah / 20 mA = 41.7 days.
    """
    page = opened(hands, sketch(TWO + ALTERNATOR, PLAIN))
    first, second, third = rows(page)
    assert first == ["E1", "6 A", "100 %", "6 A", "", "–"]
    assert second[0:2] + second[4:5] == ["M1", "3 A", "9 A, 0.5 s"]
    assert third[5] == "20 mA"
    now = scenarios(page)
    assert now["At rest"][:1] + now["At rest"][3:4] == ["20 mA", "42 days"]
    assert now["Most together"] == [
        "9.02 A", "51 A left", "21 A left", "2.22 h", "S1 ON, S2 ON",
    ]  # fmt: skip
    assert page.said.text() == (
        "Together the loads draw at most 9.02 A; of the alternator: 51 A left at speed, "
        "21 A left at idle."
    )


def test_too_small_an_alternator_is_told_with_what_is_missing(hands: Hands) -> None:
    page = opened(hands, sketch(TWO + ALTERNATOR.replace("60", "10"), PLAIN))
    assert scenarios(page)["Most together"][1:3] == ["0.98 A left", "4.02 A missing"]


@pytest.mark.parametrize("typed", ["25 %", "25", "25,0 %"])
def test_a_share_typed_in_place_is_kept_in_the_file_and_taken_back(
    hands: Hands, typed: str
) -> None:
    page = opened(hands, sketch(TWO, PLAIN))
    before = dumps(hands.circuit)
    assert QApplication.focusWidget() is page.loads
    QTest.keyClick(page.loads, Qt.Key.Key_Down)
    QTest.keyClick(page.loads, Qt.Key.Key_Up)
    QTest.keyClick(page.loads, Qt.Key.Key_F2)
    line = QApplication.focusWidget()
    assert isinstance(line, QLineEdit) and line.accessibleName() == "E1, share of time in use"
    QTest.keyClicks(line, typed)
    QTest.keyClick(line, Qt.Key.Key_Return)
    hands.settle()
    page.working.wait()
    assert rows(page)[0][2:4] == ["25 %", "1.5 A"]
    assert scenarios(page)["On average"][0] == "4.52 A"
    kept = loads(dumps(hands.circuit)).circuit
    assert energy_of(Case(kept)).rows[0].use == 0.25
    current = page.loads.currentItem()
    assert current is not None and current.text(0) == "E1"
    assert hands.window.session.undo.count() == 1
    hands.undo()
    assert dumps(hands.circuit) == before


def test_a_digit_begins_the_share_and_nothing_typed_goes_back_to_the_default(hands: Hands) -> None:
    page = opened(hands, sketch(TWO, PLAIN))
    page.loads.setCurrentItem(at(page, 1))
    QTest.keyClicks(page.loads, "4")
    line = QApplication.focusWidget()
    assert isinstance(line, QLineEdit) and line.text() == "4"
    QTest.keyClicks(line, "0")
    QTest.keyClick(line, Qt.Key.Key_Return)
    hands.settle()
    page.working.wait()
    assert hands.circuit.parts["M1"].ratings["use_share"] == pytest.approx(0.4)
    QTest.keyClick(page.loads, Qt.Key.Key_Return)
    line = QApplication.focusWidget()
    assert isinstance(line, QLineEdit)
    line.selectAll()
    QTest.keyClick(line, Qt.Key.Key_Delete)
    QTest.keyClick(line, Qt.Key.Key_Return)
    hands.settle()
    assert "use_share" not in hands.circuit.parts["M1"].ratings


@pytest.mark.parametrize(("typed", "told"), [("140 %", "type 0 to 100 %"), ("often", "share")])
def test_what_is_no_share_is_refused_in_words(hands: Hands, typed: str, told: str) -> None:
    page = opened(hands, sketch(TWO, PLAIN))
    before = hands.circuit
    page.loads.setCurrentItem(at(page, 0))
    QTest.keyClick(page.loads, Qt.Key.Key_F2)
    line = QApplication.focusWidget()
    assert line is not None
    QTest.keyClicks(line, typed)
    QTest.keyClick(line, Qt.Key.Key_Return)
    hands.settle()
    assert hands.circuit is before
    assert told in hands.window.notice.text()
    assert rows(page)[0][2] == "100 %"


def test_esc_leaves_the_share_as_it_was(hands: Hands) -> None:
    page = opened(hands, sketch(TWO, PLAIN))
    before = hands.circuit
    rect = page.loads.visualItemRect(at(page, 0))
    QTest.mouseClick(page.loads.viewport(), Qt.MouseButton.LeftButton, pos=rect.center())
    QTest.mouseDClick(page.loads.viewport(), Qt.MouseButton.LeftButton, pos=rect.center())
    line = QApplication.focusWidget()
    assert isinstance(line, QLineEdit)
    QTest.keyClicks(line, "7")
    QTest.keyClick(line, Qt.Key.Key_Escape)
    hands.settle()
    assert hands.circuit is before


def test_a_row_selects_its_part_and_the_part_its_row(hands: Hands) -> None:
    page = opened(hands, sketch(TWO, PLAIN))
    page.loads.setCurrentItem(at(page, 0))
    QTest.keyClick(page.loads, Qt.Key.Key_Down)
    assert hands.window.session.selection == frozenset({"M1"})
    hands.window.session.select(frozenset({"P1"}))
    current = page.loads.currentItem()
    assert current is not None and current.text(0) == "P1"


def test_it_says_what_it_rests_on(hands: Hands) -> None:
    page = opened(hands, load(PUMP).circuit)
    told = page.rests.toPlainText()
    assert "Battery: 60 Ah (assumed)." in told
    assert "There is no alternator" in told
    assert "Counted as in use all the time: M1" in told
    assert "Usual start current taken for M1" in told
    bare = sketch(TWO.replace("W4 S1.2 E1.+ 120 0.001", "W4 S1.2 E1.+"), PLAIN)
    page = opened_again(hands, bare)
    told = page.rests.toPlainText()
    assert "The length of W4 is not known; 1 m is assumed." in told
    assert "The size of W4 is not known; 1 mm² is assumed." in told


def opened_again(hands: Hands, circuit: Circuit) -> LoadsPage:
    page = hands.window.loads.page
    assert page is not None
    hands.window.session.open(circuit, None)
    page.working.wait()
    return page


def test_a_newer_circuit_wins_and_what_is_being_typed_is_not_lost(hands: Hands) -> None:
    page = opened(hands, sketch(TWO, PLAIN))
    page.loads.setCurrentItem(at(page, 0))
    QTest.keyClick(page.loads, Qt.Key.Key_F2)
    line = QApplication.focusWidget()
    assert line is not None
    QTest.keyClicks(line, "50 %")
    other = sketch(TWO.replace("resistance_ohm=4", "resistance_ohm=6"), PLAIN)
    hands.window.session.do(set_part(hands.circuit, other.parts["M1"]))
    page.working.wait()
    assert rows(page)[1][1] == "3 A"
    QTest.keyClick(line, Qt.Key.Key_Return)
    hands.settle()
    page.working.wait()
    assert rows(page)[0][2] == "50 %" and rows(page)[1][1] == "2 A"


def test_an_operated_circuit_is_not_changed(hands: Hands) -> None:
    page = opened(hands, sketch(TWO, PLAIN))
    before = hands.circuit
    hands.window.actions_["mode_operate"].trigger()
    page.loads.setCurrentItem(at(page, 0))
    QTest.keyClick(page.loads, Qt.Key.Key_F2)
    line = QApplication.focusWidget()
    assert line is not None
    QTest.keyClicks(line, "50 %")
    QTest.keyClick(line, Qt.Key.Key_Return)
    hands.settle()
    assert hands.circuit is before and "Draw" in hands.window.notice.text()


def test_the_same_key_puts_it_away_and_the_sheet_has_the_keys(hands: Hands) -> None:
    page = opened(hands, sketch(TWO, PLAIN))
    hands.key(*ALT_9)
    assert not page.isVisible() and QApplication.focusWidget() is hands.window.view


def test_charging_and_cranking_have_rows_of_their_own(hands: Hands) -> None:
    """A battery without inner resistance holds 12 V: 9.02 A, and 60 and 30 A less that are left."""
    page = opened(hands, sketch(TWO + ALTERNATOR, PLAIN))
    now = scenarios(page)
    assert now["Charging, most on"][:3] == ["9.02 A", "51 A left", "21 A left"]
    assert now["Cranking"][1:3] == ["–", "–"]
    assert now["Cranking"][4] == "S1 ON, S2 ON"
