"""Commands found by name, and their keys listed and changed, by real keys."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QKeySequenceEdit

from app.actions import ACTIONS
from app.commanding.finder import KEY
from app.commanding.keymap import SHEET_KEYS, KeyMap, normal
from app.commanding.page import KeysPage
from app.commanding.search import ALSO, find_commands
from app.desk import Desk
from app.keeping import Keep
from app.schedule.keys import FIXED, TABLE_KEYS
from tests.app.editing import CIRCUITS
from tests.app.hands import Hands

CONTROL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
ALT = Qt.KeyboardModifier.AltModifier
K = Qt.Key


def open_finder(hands: Hands) -> None:
    hands.key(K.Key_K, CONTROL)


def listed(hands: Hands) -> list[str]:
    finder = hands.window.commands.finder
    assert finder is not None
    rows = (finder.list.topLevelItem(i) for i in range(finder.list.topLevelItemCount()))
    return [str(row.data(0, KEY)) for row in rows if row is not None]


def in_hand(hands: Hands) -> str:
    finder = hands.window.commands.finder
    row = finder.list.currentItem() if finder else None
    return str(row.data(0, KEY)) if row else ""


@pytest.mark.parametrize(
    ("typed", "wanted"),
    [
        ("fit", "fit"),
        ("zoom all", "fit"),
        ("flip", "mirror"),
        ("earth", "select_ground"),
        ("distribute", "space_across"),
        ("clean", "tidy"),
        ("anticlokwise", "rotate_back"),
        ("simulate", "mode_operate"),
        ("pdf", "export"),
        ("projector", "theme_projector"),
        ("whole circuit", "select_circuit"),
        ("renumber", "number_wires"),
    ],
)
def test_what_people_call_it_finds_it(typed: str, wanted: str) -> None:
    found = [s.key for s in find_commands(ACTIONS, typed)]
    assert wanted in found[:3], found[:5]


def test_further_words_are_words_of_actions_there_are() -> None:
    assert set(ALSO) <= {s.key for s in ACTIONS}
    assert find_commands(ACTIONS, "qqqqzz") == []


def test_a_command_is_found_and_done_by_keys_alone(hands: Hands) -> None:
    open_finder(hands)
    finder = hands.window.commands.finder
    assert finder is not None and finder.isVisible() and finder.edit.hasFocus()
    QTest.keyClicks(finder.edit, "dark")
    QTest.keyClick(finder.edit, K.Key_Return)
    hands.settle()
    assert hands.window.session.look.theme.name == "dark"
    assert finder.isHidden()
    assert hands.window.view.hasFocus()
    open_finder(hands)
    assert listed(hands)[0] == "theme_dark"  # the last used first


def test_the_arrows_choose_and_escape_gives_the_keys_back(hands: Hands) -> None:
    hands.window.tray.search.setFocus()
    open_finder(hands)
    finder = hands.window.commands.finder
    assert finder is not None
    QTest.keyClicks(finder.edit, "zoom")
    first = in_hand(hands)
    QTest.keyClick(finder.edit, K.Key_Down)
    assert in_hand(hands) != first
    QTest.keyClick(finder.edit, K.Key_Escape)
    assert finder.isHidden()
    assert hands.window.tray.search.hasFocus()


def test_what_cannot_be_done_now_is_grey_and_not_done(hands: Hands) -> None:
    open_finder(hands)
    finder = hands.window.commands.finder
    assert finder is not None
    QTest.keyClicks(finder.edit, "undo")
    row = finder.list.topLevelItem(0)
    assert row is not None and row.isDisabled()
    QTest.keyClick(finder.edit, K.Key_Return)
    assert finder.isVisible()


def page_of(hands: Hands) -> KeysPage:
    hands.key(K.Key_6, ALT)
    page = hands.window.commands.page
    assert page is not None and page.isVisible()
    return page


def press_in_row(page: KeysPage, command: str, key: Qt.Key, keys: Qt.KeyboardModifier) -> None:
    """Go to the row of a command and press a new key for it."""
    page.filter.setText(command)
    row = page.table.topLevelItem(0)
    assert row is not None
    page.table.setCurrentItem(row, 2)
    page.table.setFocus()
    page.table.editItem(row, 2)
    edit = page.table.findChild(QKeySequenceEdit)
    assert edit is not None
    QTest.keyClick(edit, key, keys)
    page.table.setFocus()
    QApplication.processEvents()


def test_every_command_and_every_key_of_the_sheet_is_listed(hands: Hands) -> None:
    page = page_of(hands)
    of_tables = len(TABLE_KEYS) + len(FIXED)
    assert page.table.topLevelItemCount() == len(ACTIONS) + len(SHEET_KEYS) + of_tables
    page.filter.setText("tidy")
    assert 1 <= page.table.topLevelItemCount() <= 4
    QTest.mouseClick(page.copy, Qt.MouseButton.LeftButton)
    text = QGuiApplication.clipboard().text()
    assert "Ctrl+T\tTidy the sheet\tArrange" in text
    assert "Wheel" in text


def test_a_key_is_changed_by_pressing_it_and_works_at_once(hands: Hands) -> None:
    page = page_of(hands)
    press_in_row(page, "Fit the sheet", K.Key_F9, CONTROL)
    assert hands.window.commands.keymap.keys("fit") == ("Ctrl+F9",)
    hands.from_tray("Battery", 0, 0)
    hands.window.view.centerOn(5000, 0)
    hands.window.view.setFocus()
    hands.key(K.Key_F9, CONTROL)
    assert abs(hands.window.view.middle().x()) < 500
    assert "Ctrl+F9" in hands.window.actions_["fit"].toolTip()


def test_a_key_that_another_has_is_told_and_swapped(hands: Hands) -> None:
    page = page_of(hands)
    press_in_row(page, "Fit the sheet", K.Key_T, CONTROL)
    assert "Tidy the sheet" in page.said.text()
    assert hands.window.commands.keymap.keys("fit") == ("Home",)
    QTest.mouseClick(page.swap, Qt.MouseButton.LeftButton)
    keymap = hands.window.commands.keymap
    assert keymap.keys("fit") == ("Ctrl+T",)
    assert keymap.keys("tidy") == ("Home",)
    QTest.mouseClick(page.reset_all, Qt.MouseButton.LeftButton)
    assert keymap.keys("tidy") == ("Ctrl+T",) and keymap.is_default("fit")


@pytest.mark.parametrize("key", [K.Key_Q, K.Key_Left, K.Key_Space])
def test_keys_of_the_sheet_are_refused(hands: Hands, key: Qt.Key) -> None:
    page = page_of(hands)
    press_in_row(page, "Fit the sheet", key, Qt.KeyboardModifier.NoModifier)
    assert hands.window.commands.keymap.is_default("fit")
    assert page.said.text().endswith(".")


def test_a_key_of_the_tables_is_changed_and_works_there_alone(hands: Hands) -> None:
    hands.window.files.open_file(CIRCUITS / "C07.voltwalk")
    page = page_of(hands)
    press_in_row(page, "Hide the column", K.Key_K, CONTROL)
    assert "Ctrl+K" in page.said.text()
    hands.key(K.Key_4, ALT)
    rows = hands.window.schedule.wires
    rows.setFocus()
    hands.key(K.Key_Right)
    before = len(rows.heads.shown())
    hands.key(K.Key_Delete, ALT)
    assert len(rows.heads.shown()) == before
    hands.key(K.Key_K, CONTROL)
    assert len(rows.heads.shown()) == before - 1
    menu = rows.acts.menu()
    assert "&Hide the column\tCtrl+K" in [a.text() for a in menu.actions()]
    menu.deleteLater()
    QTest.mouseClick(page.reset_all, Qt.MouseButton.LeftButton)
    assert hands.window.commands.table_keys.is_default("table_hide_column")


NONE = Qt.KeyboardModifier.NoModifier


@pytest.mark.parametrize(
    ("key", "held"), [(K.Key_Q, NONE), (K.Key_Down, SHIFT), (K.Key_Tab, SHIFT)]
)
def test_keys_that_walk_or_type_in_a_table_are_refused(
    hands: Hands, key: Qt.Key, held: Qt.KeyboardModifier
) -> None:
    page = page_of(hands)
    press_in_row(page, "Delete the rows", key, held)
    assert hands.window.commands.table_keys.is_default("table_delete")
    assert page.said.text().endswith(".")


def test_other_windows_take_the_keys_too() -> None:
    desk = Desk(Keep())
    try:
        first, second = desk.open(), desk.open()
        first.commands.keymap.put("fit", ("F7",))
        first.keys_changed.emit()
        shortcuts = second.actions_["fit"].shortcuts()
        assert [s.toString() for s in shortcuts] == ["F7"]
    finally:
        desk.clear()
        QApplication.sendPostedEvents(None, 0)
        QApplication.processEvents()


@pytest.fixture
def keymap() -> KeyMap:
    return KeyMap(ACTIONS, Keep())


def test_a_key_given_is_taken_from_who_had_it(keymap: KeyMap) -> None:
    keymap.put("fit", ("Ctrl+S",))
    assert keymap.keys("save") == ()
    assert keymap.holder("ctrl+s") == "fit"
    keymap.reset("save")
    assert keymap.keys("save") == ("Ctrl+S",)
    assert keymap.keys("fit") == ()


@pytest.mark.parametrize("kept", ["", "no json", "[]", '{"fit": 3}', '{"gone": ["F7"]}'])
def test_what_was_kept_wrongly_is_left_out(kept: str) -> None:
    keep = Keep()
    keep.write("keys", kept)
    keymap = KeyMap(ACTIONS, keep)
    assert all(keymap.is_default(s.key) for s in ACTIONS)


def test_every_key_of_the_program_reads_as_a_key() -> None:
    for spec in ACTIONS:
        for key in spec.keys:
            assert normal(key), (spec.key, key)
