"""The form for parts of one's own by keys and mouse: made, placed, changed, taken back."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractItemView, QComboBox, QLineEdit, QToolButton

from app.owning.draft import draft_of
from app.owning.form import WHOLE, OwnForm
from app.owning.rows import RowTable
from tests.app.hands import Hands

ENTER = Qt.Key.Key_Return


def opened(hands: Hands) -> OwnForm:
    """Open the form by its key."""
    hands.window.view.setFocus()
    hands.key(Qt.Key.Key_5, Qt.KeyboardModifier.AltModifier)
    form = hands.window.around.own
    assert form is not None
    assert form.isVisible()
    assert form.title.hasFocus()
    return form


def cell(hands: Hands, rows: RowTable, row: int, column: int, text: str, shown: str = "") -> None:
    """Type a text into a cell, or choose it where there is a list."""
    table = rows.table
    table.setFocus()
    table.setCurrentCell(row, column)
    table.edit(table.currentIndex())
    lists = [b for b in table.findChildren(QComboBox) if b.isVisible()]
    lines = [e for e in table.findChildren(QLineEdit) if e.isVisible()]
    if lists:
        lists[-1].setCurrentText(text)
        QTest.keyClick(lists[-1], ENTER)
    else:
        lines[-1].selectAll()
        QTest.keyClicks(lines[-1], text)
        QTest.keyClick(lines[-1], ENTER)
    hands.settle()
    assert table.item(row, column).text() == (shown or text)


def row(hands: Hands, rows: RowTable, *texts: str) -> None:
    """Add a row by its button and fill it."""
    rows.add.click()
    number = rows.table.rowCount() - 1
    for column, text in enumerate(texts):
        if text and rows.table.item(number, column).text() != text:
            cell(hands, rows, number, column, text)


def heated_seat(hands: Hands, form: OwnForm) -> None:
    """Make a part with a load between two terminals and a third to spare."""
    form.title.setFocus()
    hands.type("Heated seat")
    form.letter.selectAll()
    form.letter.setFocus()
    QTest.keyClicks(form.letter, "E")
    for name, side in (("1", "left"), ("2", "right"), ("T", "right")):
        row(hands, form.tabs.terminals, name, "", side)
    form.tabs.setCurrentIndex(1)
    row(hands, form.tabs.elements, "mat", "load", "1", "2", "resistive")


def test_a_part_is_made_placed_and_found_in_the_tray(hands: Hands) -> None:
    form = opened(hands)
    assert "Give the part a title." in form.told.text()
    assert not form.save.isEnabled()
    heated_seat(hands, form)
    assert form.told.text() == WHOLE
    assert form.preview.sheet.part_item("p1").card is not None
    form.save.click()
    hands.settle()
    (own,) = hands.circuit.own_kinds.values()
    assert (own.id, own.kind.title, own.kind.letter) == ("heated-seat", "Heated seat", "E")
    assert hands.window.session.undo.count() == 1
    form.place.click()
    hands.settle()
    assert hands.part("E1").kind == "heated-seat"
    rows = [hands.window.tray.list.item(i).text() for i in range(hands.window.tray.list.count())]
    assert rows[rows.index("YOUR OWN PARTS") + 1] == "Heated seat"


def test_a_rating_is_typed_with_its_unit_and_a_wrong_one_told(hands: Hands) -> None:
    form = opened(hands)
    heated_seat(hands, form)
    form.tabs.setCurrentIndex(3)
    titles = [form.tabs.ratings.table.item(i, 0).text() for i in range(
        form.tabs.ratings.table.rowCount())]  # fmt: skip
    at = titles.index("running current")
    cell(hands, form.tabs.ratings, at, 1, "4500 mA", "4.5 A")
    assert form.save.isEnabled()
    form.save.click()
    hands.settle()
    spec = hands.circuit.own_kinds["heated-seat"].kind.specs["current_a"]
    assert spec.default == 4.5
    form.tabs.ratings.table.setFocus()
    cell(hands, form.tabs.ratings, at, 1, "12 V")
    assert not form.save.isEnabled()
    assert "running current" in form.told.text()


def test_a_terminal_taken_away_cuts_its_wires_in_the_same_step(hands: Hands) -> None:
    form = opened(hands)
    heated_seat(hands, form)
    form.save.click()
    form.place.click()
    hands.settle()
    hands.from_tray("Battery", -200, 0)
    hands.wire_up("G1.+", "E1.T")
    assert hands.joins() == {frozenset(("G1.+", "E1.T"))}
    steps = hands.window.session.undo.count()
    form.tabs.terminals.table.setCurrentCell(2, 0)
    form.tabs.terminals.drop.click()
    form.save.click()
    hands.settle()
    assert hands.window.session.undo.count() == steps + 1
    assert hands.joins() == {frozenset(("G1.+", "open"))}
    assert "W1" in hands.window.notice.text()
    hands.undo()
    assert hands.joins() == {frozenset(("G1.+", "E1.T"))}
    assert form.tabs.terminals.table.rowCount() == 3


def test_the_form_opens_on_the_kind_of_the_selected_part(hands: Hands) -> None:
    form = opened(hands)
    heated_seat(hands, form)
    form.save.click()
    form.place.click()
    hands.settle()
    form.which.setCurrentIndex(0)
    form.which.activated.emit(0)
    assert form.title.text() == ""
    hands.window.view.setFocus()
    hands.key(Qt.Key.Key_5, Qt.KeyboardModifier.AltModifier)
    assert not hands.window.docks["own"].isVisible()
    hands.select("E1")
    assert opened(hands).title.text() == "Heated seat"
    assert form.draft() == draft_of(hands.circuit.own_kinds["heated-seat"])


def test_a_kind_in_use_is_not_removed_and_a_free_one_is(hands: Hands) -> None:
    form = opened(hands)
    heated_seat(hands, form)
    form.save.click()
    form.place.click()
    hands.settle()
    form.remove.click()
    assert "E1" in hands.window.notice.text()
    assert hands.circuit.own_kinds
    hands.undo()
    form.remove.click()
    assert not hands.circuit.own_kinds
    assert form.title.text() == "Heated seat"
    hands.undo()
    assert hands.circuit.own_kinds


def test_saving_what_is_saved_already_is_no_step(hands: Hands) -> None:
    form = opened(hands)
    heated_seat(hands, form)
    form.save.click()
    form.save.click()
    assert hands.window.session.undo.count() == 1


def test_undo_and_another_file_are_followed(hands: Hands) -> None:
    form = opened(hands)
    heated_seat(hands, form)
    form.save.click()
    assert form.which.count() == 2
    hands.undo()
    assert form.which.count() == 1
    assert form.save.isEnabled()
    hands.redo()
    assert form.which.count() == 2
    hands.window.session.undo.setClean()
    hands.window.files.do_new()
    assert form.which.count() == 1


def test_every_control_of_the_form_has_an_accessible_name(hands: Hands) -> None:
    form = opened(hands)
    for sort in (QLineEdit, QComboBox, QToolButton, QAbstractItemView):
        for widget in form.findChildren(sort):
            if widget.isVisible() and not widget.objectName().startswith("qt_"):
                assert widget.accessibleName(), widget


def test_the_sheet_keeps_half_of_the_window(hands: Hands) -> None:
    opened(hands)
    assert hands.window.view.height() > hands.window.height() * 0.4


def test_the_form_is_one_of_the_panes_gone_through_by_key(hands: Hands) -> None:
    form = opened(hands)
    hands.window.view.setFocus()
    seen = set()
    for _ in range(9):
        hands.key(Qt.Key.Key_Tab, Qt.KeyboardModifier.ControlModifier)
        seen.add(hands.window.focusWidget())
    assert form.which in seen
    assert hands.window.view in seen
