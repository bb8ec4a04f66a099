"""The tables beside the sheet: sorting, filter, selection, columns, parts, and what is spoken."""

from __future__ import annotations

from pathlib import Path

import pytest

pytest.importorskip("PySide6")

from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QApplication

from app.docks.schedule import Schedule
from app.keeping import Keep
from app.session import Session
from model.editing import set_wires
from model.file import load
from model.wiresize import Size
from tests.app.hands import Hands
from tests.app.schedule.typist import ALT, CTRL, ENTER, ESCAPE, TAB, Typist

HORN = Path(__file__).parents[2] / "circuits" / "C07.voltwalk"
DOWN, UP = Qt.Key.Key_Down, Qt.Key.Key_Up


@pytest.fixture
def typist(hands: Hands) -> Typist:
    """Return a typist in the Schedule of the horn circuit."""
    return Typist(hands, HORN)


def _change(typist: Typist, numbers: str, **fields: object) -> None:
    ids = [typist.hands.wire(n).id for n in numbers.split()]
    typist.window.session.do(set_wires(typist.hands.circuit, ids, **fields).change)
    typist.hands.settle()


def test_sizes_sort_by_their_copper_and_lengths_by_value(typist: Typist) -> None:
    _change(typist, "W05", size=Size(awg=18))  # 0.823 mm² by ASTM B258
    _change(typist, "W06", size=None)
    typist.go(0, "size")
    typist.press(UP, ALT)
    sizes = typist.column("size")
    assert sizes[sizes.index("18 AWG") - 1] == "0.75 mm²"
    assert sizes[sizes.index("18 AWG") + 1] == "2 mm²"
    assert sizes[-1] == ""
    typist.go(0, "length_m")
    typist.press(DOWN, ALT)
    lengths = [float(t.split()[0]) for t in typist.column("length_m")]
    assert lengths == sorted(lengths, reverse=True)
    typist.press(Qt.Key.Key_Home, ALT)
    assert typist.column("number")[:3] == ["W01", "W02", "W03"]


def test_a_row_stays_where_it_is_while_it_is_typed_in(typist: Typist) -> None:
    typist.go(0, "length_m")
    typist.press(UP, ALT)
    number = typist.text(2, "number")
    typist.go(2, "length_m")
    typist.write("99 m", ENTER)
    assert typist.text(2, "number") == number
    typist.window.view.setFocus()
    _change(typist, "W01", note="x")
    assert typist.column("number")[-1] == number


def test_the_filter_looks_in_every_column_and_counts(typist: Typist) -> None:
    typist.go(0, "size")
    typist.press(Qt.Key.Key_F, CTRL)
    assert QApplication.focusWidget() is typist.schedule.filter
    typist.write("0,75 bk")
    assert typist.column("size") == ["0.75 mm²"] * len(typist.wires.table.ids)
    total = len(typist.hands.circuit.wires)
    shown = len(typist.wires.table.ids)
    assert 0 < shown < total
    assert typist.schedule.count.text() == f"{shown} of {total} wires"
    typist.press(ENTER)
    assert QApplication.focusWidget() is typist.wires
    typist.schedule.filter.setFocus()
    typist.press(ESCAPE)
    assert typist.schedule.count.text() == f"{total} wires"


def test_the_current_cell_is_kept_through_sort_filter_and_undo(typist: Typist) -> None:
    typist.go(3, "colour")
    number = typist.text(3, "number")
    typist.press(DOWN, ALT)
    assert typist.text(typist.cell[0], "number") == number
    typist.schedule.filter.setText("rd")
    assert typist.text(typist.cell[0], "number") == number
    typist.schedule.filter.setText("")
    _change(typist, "W01", note="x")
    typist.hands.undo()
    assert typist.text(typist.cell[0], "number") == number
    assert typist.cell[1] == "colour"


def test_the_selection_is_in_step_with_the_sheet_both_ways(typist: Typist) -> None:
    session = typist.window.session
    typist.go(1, "size")
    typist.press(DOWN, Qt.KeyboardModifier.ShiftModifier)
    assert session.selection == {typist.hands.wire(n).id for n in ("W02", "W03")}
    typist.window.view.setFocus()
    session.select(frozenset(typist.hands.wire(n).id for n in ("W01", "W05", "W06")))
    assert [typist.text(r, "number") for r in typist.wires.selected_rows()] == ["W01", "W05", "W06"]
    assert typist.schedule.count.text().endswith("3 selected")


def test_parts_selected_on_the_sheet_mark_their_wires_and_stay_selected(typist: Typist) -> None:
    typist.window.view.setFocus()
    relay = typist.hands.part("K1").id
    typist.hands.select("K1")
    marked = {typist.text(r, "number") for r in typist.wires.selected_rows()}
    assert marked == {"W03", "W04", "W05", "W07"}
    assert typist.window.session.selection == {relay}


def test_only_what_is_selected_on_the_sheet_is_shown(typist: Typist) -> None:
    typist.window.view.setFocus()
    typist.hands.select("S1")
    typist.schedule.only.click()
    assert set(typist.column("number")) == {"W07", "W08"}
    typist.window.view.setFocus()
    typist.hands.select("B1")
    assert set(typist.column("number")) == {"W05", "W06"}
    typist.go(0, "size")
    assert set(typist.column("number")) == {"W05", "W06"}
    typist.schedule.only.click()
    assert len(typist.wires.table.ids) == len(typist.hands.circuit.wires)


def test_live_columns_say_in_words_and_figures_what_the_state_is(typist: Typist) -> None:
    """Figures of the state table of this circuit: 6.792 A in the horn, 12.226 V across it."""
    row = typist.column("number").index("W05")
    assert (typist.text(row, "state"), typist.text(row, "current")) == ("dead", "–")
    assert typist.text(row, "role") == "relay output"
    typist.window.session.set_positions({typist.hands.part("S1").id: "PRESS"})
    typist.hands.settle()
    assert typist.text(row, "state") == "fed"
    assert typist.text(row, "current") == "6.8 A →"
    fed, back = (float(typist.text(row, k).split()[0]) for k in ("volt_a", "volt_b"))
    ground = typist.column("number").index("W06")
    across = back - float(typist.text(ground, "volt_a").split()[0])
    assert across == pytest.approx(12.226, abs=0.01)
    assert fed > back
    assert typist.text(row, "fuse") == "F1 15 A"
    assert typist.text(0, "fuse") == "no fuse"
    assert typist.text(0, "worst").startswith("Danger: ")


def test_a_part_is_placed_renamed_operated_and_deleted_in_the_table(typist: Typist) -> None:
    typist.to_parts()
    count = len(typist.hands.circuit.parts)
    typist.go(count, "kind")
    typist.write("fog lamp 55 W", ENTER)
    assert len(typist.hands.circuit.parts) == count + 1
    new = list(typist.hands.circuit.parts.values())[-1]
    typist.press(ESCAPE)
    typist.go(count, "reference")
    typist.write("E9", TAB)
    typist.write("left fog lamp", ENTER)
    part = typist.hands.circuit.parts[new.id]
    assert (part.reference, part.name) == ("E9", "left fog lamp")
    typist.press(ESCAPE)
    typist.go(typist.column("reference").index("S1"), "position")
    typist.press(Qt.Key.Key_Space)
    typist.hands.settle()
    assert typist.window.session.position(typist.hands.part("S1").id) == "PRESS"
    assert typist.text(typist.cell[0], "position") == "PRESS"
    horn = typist.column("reference").index("B1")
    assert typist.text(horn, "state") == "running"
    assert typist.text(horn, "through") == "6.8 A"
    typist.go(count, "reference")
    typist.press(Qt.Key.Key_Delete)
    assert new.id not in typist.hands.circuit.parts


def test_a_position_is_typed_cut_short_in_operate_too(typist: Typist) -> None:
    typist.window.session.look_at(mode="operate")
    typist.to_parts()
    typist.go(typist.column("reference").index("S1"), "position")
    typist.write("pr", ENTER)
    typist.hands.settle()
    assert typist.window.session.position(typist.hands.part("S1").id) == "PRESS"


def test_columns_are_chosen_and_kept_with_their_order_width_and_sorting(typist: Typist) -> None:
    heads, table = typist.wires.heads, typist.wires.table
    heads.show_column(table.place["insulation"], True)
    typist.go(0, "note")
    typist.press(Qt.Key.Key_Delete, ALT)
    typist.go(0, "size")
    typist.press(Qt.Key.Key_Left, ALT)
    typist.press(Qt.Key.Key_Right, ALT | Qt.KeyboardModifier.ShiftModifier)
    typist.press(DOWN, ALT)
    wide = heads.head.sectionSize(table.place["size"])
    other = Schedule(typist.window.session, typist.window.keep, typist.window)
    again = other.wires.heads
    assert [table.columns[i].key for i in again.shown()] == [
        table.columns[i].key for i in heads.shown()
    ]
    assert again.head.sectionSize(table.place["size"]) == wide
    assert (other.wires.table.wanted.sort, other.wires.table.wanted.down) == ("size", True)
    other.deleteLater()


def test_the_columns_are_in_a_menu_reached_by_key(typist: Typist) -> None:
    menu = typist.schedule.columns.menu()
    menu.aboutToShow.emit()
    texts = [a.text() for a in menu.actions() if a.text()]
    assert texts[:3] == ["Number", "From", "To"]
    insulation = next(a for a in menu.actions() if a.text() == "Insulation")
    insulation.trigger()
    assert not typist.wires.isColumnHidden(typist.wires.table.place["insulation"])
    assert typist.schedule.columns.focusPolicy() == Qt.FocusPolicy.StrongFocus


def test_a_screen_reader_hears_row_column_and_value(typist: Typist) -> None:
    table = typist.wires.table
    index = table.index(2, table.place["first"])
    said = "W03, From: SP1.s"
    assert index.data(Qt.ItemDataRole.AccessibleTextRole) == said
    read = QAccessible.queryAccessibleInterface(typist.wires)
    names = {read.child(i).text(QAccessible.Text.Name) for i in range(read.childCount())}
    assert said in names
    assert "W05, Amperes: no current" in names
    typist.go(0, "size")
    typist.press(UP, ALT)
    size = table.place["size"]
    head = table.headerData(size, Qt.Orientation.Horizontal, Qt.ItemDataRole.AccessibleTextRole)
    assert head == "Size, sorted upwards"


def test_what_is_worked_out_cannot_be_typed_and_says_so(typist: Typist) -> None:
    typist.go(0, "current")
    typist.write("5")
    assert not typist.is_typing
    assert typist.window.notice.text() == "Amperes is worked out here: it cannot be typed."


def test_a_space_does_not_empty_a_cell(typist: Typist) -> None:
    typist.go(0, "colour")
    typist.press(Qt.Key.Key_Space)
    typist.press(ENTER)
    assert typist.hands.wire("W01").colour == "RD"
    typist.go(0, "colour")
    typist.press(Qt.Key.Key_Backspace)
    assert typist.hands.wire("W01").colour == ""
    typist.press(Qt.Key.Key_Z, CTRL)
    assert typist.hands.wire("W01").colour == "RD"


def test_another_file_is_stood_on_at_its_beginning(typist: Typist) -> None:
    from app import acts

    typist.go(5, "note")
    typist.schedule.filter.setText("0.75")
    typist.schedule.tabs.setCurrentIndex(1)
    typist.window.files.show_circuit(acts.blank())
    typist.hands.settle()
    typist.schedule.tabs.setCurrentIndex(0)
    typist.schedule.filter.clear()
    typist.wires.setFocus()
    assert typist.schedule.count.text() == "0 wires"
    assert typist.cell == (0, "first")
    assert typist.text(0, "first") == "Type an end, such as S1.2"


def test_nothing_is_done_while_it_is_hidden(typist: Typist) -> None:
    typist.hands.key(Qt.Key.Key_4, ALT)
    shown = typist.wires.table.cells.look
    _change(typist, "W01", note="changed meanwhile")
    assert typist.wires.table.cells.look is shown
    typist.hands.key(Qt.Key.Key_4, ALT)
    assert typist.text(0, "note") == "changed meanwhile"


def test_only_cells_that_read_otherwise_are_signalled(qtbot: object) -> None:
    session = Session(load(HORN).circuit)
    session.schedule.flush()
    schedule = Schedule(session, Keep())
    qtbot.addWidget(schedule)  # type: ignore[attr-defined]
    schedule.resize(3000, 400)
    schedule.show()
    table, seen = schedule.wires.table, list[tuple[int, int, int, int]]()

    def note(first: object, last: object) -> None:
        seen.append((first.row(), first.column(), last.row(), last.column()))  # type: ignore[attr-defined]

    schedule.grab()
    table.dataChanged.connect(note)
    wire = next(iter(session.circuit.wires))
    session.do(set_wires(session.circuit, [wire], note="seen").change)
    schedule.refresh()
    place = table.place["note"]
    assert seen == [(0, place, 0, place)]
    table.dataChanged.disconnect(note)
    session.close()
