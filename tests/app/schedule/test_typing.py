"""Wires entered and changed in the Schedule by real keys: where they lead, what is refused."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

pytest.importorskip("PySide6")

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from model.wiresize import Size
from tests.app.hands import Hands
from tests.app.schedule.typist import ALT, CTRL, ENTER, ESCAPE, SHIFT, TAB, Typist

HORN = Path(__file__).parents[2] / "circuits" / "C07.voltwalk"
PARTS = ("BAT battery", "F1 fuse 15 A", "K1 relay", "B1 horn", "S1 horn button", "G1 ground")
ROWS = (
    ("BAT.+", "F1.1", "2.5", "0,3 m", "RD"),
    ("F1.2", "K1.30", "1.5", "1 m", "RD"),
    ("F1.2", "K1.86", "0.75", "1 m", "RD/GN"),
    ("K1.87", "B1.+", "1.5", "2,5 m", "BU"),
    ("K1.85", "S1.1", "0.75", "1.2 m", "YE"),
    ("S1.2", "G1", "0.75", "40 cm", "BK"),
    ("B1.-", "G1", "1.5", "40 cm", "BK"),
    ("BAT.-", "G1", "10", "30 cm", "BK"),
)


@pytest.fixture
def typist(hands: Hands) -> Typist:
    """Return a typist in the Schedule of the horn circuit."""
    return Typist(hands, HORN)


def test_a_circuit_is_entered_in_the_tables_by_keys_alone_and_counted(
    hands: Hands, record_property: Callable[[str, object], None]
) -> None:
    typist = Typist(hands)
    typist.to_parts()
    for text in PARTS:
        typist.write(text, ENTER)
    typist.press(ESCAPE)
    assert [p.reference for p in hands.circuit.parts.values()] == [t.split()[0] for t in PARTS]
    typist.schedule.tabs.setFocus()
    typist.press(Qt.Key.Key_Left)
    typist.wires.setFocus()
    typist.keys = 0
    for row in ROWS:
        for text in row[:-1]:
            typist.write(text, TAB)
        typist.write(row[-1], ENTER)
    typist.press(ESCAPE)
    wires = list(hands.circuit.wires.values())
    assert [w.number for w in wires] == [f"W{i + 1}" for i in range(len(ROWS))]
    assert hands.joins() == {
        frozenset(("BAT.+", "F1.1")), frozenset(("F1.2", "K1.30")), frozenset(("F1.2", "K1.86")),
        frozenset(("K1.87", "B1.+")), frozenset(("K1.85", "S1.1")), frozenset(("S1.2", "G1.g")),
        frozenset(("B1.-", "G1.g")), frozenset(("BAT.-", "G1.g")),
    }  # fmt: skip
    assert [w.size for w in wires[:3]] == [Size(mm2=2.5), Size(mm2=1.5), Size(mm2=0.75)]
    assert [w.length_m for w in wires] == pytest.approx([0.3, 1, 1, 2.5, 1.2, 0.4, 0.4, 0.3])
    assert (wires[2].colour, wires[2].tracer) == ("RD", "GN")
    a_row = typist.keys / len(ROWS)
    record_property("said", f"Schedule: {a_row:.1f} keys a wire (at most 45)")
    assert a_row <= 45


def test_enter_goes_down_to_where_the_row_was_begun(typist: Typist) -> None:
    typist.go(1, "size")
    typist.write("1", TAB)
    assert typist.cell == (1, "length_m")
    typist.write("2 m", ENTER)
    assert typist.cell == (2, "size")
    assert not typist.is_typing
    wire = typist.hands.wire("W02")
    assert (wire.size, wire.length_m) == (Size(mm2=1.0), 2.0)
    typist.write("1.5", ENTER)
    assert typist.cell == (3, "size")


def test_tab_passes_over_what_is_worked_out_and_goes_on_in_the_next_row(typist: Typist) -> None:
    typist.go(0, "circuit")
    typist.write("horn", TAB)
    assert typist.cell == (0, "confidence")
    typist.write("seen", TAB)
    typist.write("found so", TAB)
    assert typist.cell == (1, "number")
    typist.press(TAB, SHIFT)
    assert typist.cell == (0, "note")
    assert typist.hands.wire("W01").note == "found so"


def test_a_refused_text_keeps_the_cell_open_with_the_sentence(typist: Typist) -> None:
    typist.go(4, "second")
    before = typist.hands.circuit
    typist.write("K1.99", ENTER)
    assert typist.is_typing
    assert typist.said == "K1 has no terminal “99”: it has 30, 86, 87 or 85."
    focus = QApplication.focusWidget()
    assert focus is not None and typist.said == focus.accessibleDescription()
    assert typist.hands.circuit == before
    typist.write("G1", ENTER)
    assert not typist.is_typing and not typist.said
    assert frozenset(("K1.87", "G1.g")) in typist.hands.joins()
    typist.hands.undo()
    assert typist.hands.circuit == before


def test_escape_leaves_the_cell_as_it_was(typist: Typist) -> None:
    typist.go(0, "note")
    before = typist.hands.circuit
    typist.write("something", ESCAPE)
    assert not typist.is_typing
    assert typist.hands.circuit == before
    assert QApplication.focusWidget() is typist.wires


def test_an_end_is_completed_from_the_terminals_of_the_circuit(typist: Typist) -> None:
    typist.go(4, "second")
    typist.write("B1.")
    offered = typist.wires.beside.list
    assert offered.isVisible()
    texts = [offered.item(i).text().split()[0] for i in range(offered.count())]
    assert set(texts) == {"B1.+", "B1.-"}
    typist.press(Qt.Key.Key_Down)
    typist.press(Qt.Key.Key_Down)
    chosen = typist.wires.beside.in_hand
    typist.press(ENTER)
    assert frozenset(("K1.87", chosen)) in typist.hands.joins()
    assert not offered.isVisible()


def test_a_colour_begun_by_its_name_is_finished_by_enter(typist: Typist) -> None:
    typist.go(0, "colour")
    typist.write("gree", ENTER)
    assert typist.hands.wire("W01").colour == "GN"


def test_what_is_typed_is_no_shortcut_of_the_window(typist: Typist) -> None:
    """Digits show overlays and full stops turn parts, but not while a table has the keys."""
    overlay = typist.window.session.overlay
    typist.go(0, "length_m")
    typist.write("2", ENTER)
    assert typist.window.session.overlay == overlay
    assert typist.hands.wire("W01").length_m == 2.0
    typist.go(0, "number")
    typist.press(Qt.Key.Key_End)
    assert typist.cell[0] == 0


def test_rows_are_deleted_by_key_and_the_current_cell_stays(typist: Typist) -> None:
    typist.go(2, "size")
    count = len(typist.hands.circuit.wires)
    typist.press(Qt.Key.Key_Down, SHIFT)
    typist.press(Qt.Key.Key_Delete)
    assert len(typist.hands.circuit.wires) == count - 2
    assert "W03" not in typist.column("number")
    assert typist.cell[1] == "size"
    typist.hands.undo()
    assert typist.column("number")[2] == "W03"


def test_a_block_is_pasted_from_a_spreadsheet_as_one_change(typist: Typist) -> None:
    rows = len(typist.hands.circuit.wires)
    before, undo = typist.hands.circuit, typist.window.session.undo
    steps = undo.count()
    QApplication.clipboard().setText("4\t3 m\tWH\n6\t4,5 m\tVT/GN\n10\t5\tPK\n")
    typist.go(rows - 1, "size")
    typist.press(Qt.Key.Key_V, CTRL)
    assert undo.count() == steps + 1
    assert typist.column("size")[-3:] == ["4 mm²", "6 mm²", "10 mm²"]
    assert typist.column("length_m")[-3:] == ["3 m", "4.5 m", "5 m"]
    assert typist.column("tracer")[-2] == "GN"
    assert typist.wires.selected_rows() == [rows - 1, rows, rows + 1]
    typist.hands.undo()
    assert typist.hands.circuit == before


def test_a_bad_block_changes_nothing_and_says_where(typist: Typist) -> None:
    before = typist.hands.circuit
    QApplication.clipboard().setText("4\n3 mm\n")
    typist.go(0, "size")
    typist.press(Qt.Key.Key_V, CTRL)
    assert typist.hands.circuit == before
    assert typist.window.notice.text().startswith("Line 2, Size:")


def test_selected_rows_are_copied_with_their_heading_and_go_back_in(typist: Typist) -> None:
    typist.go(0, "number")
    typist.press(Qt.Key.Key_Down, SHIFT)
    typist.press(Qt.Key.Key_C, CTRL)
    lines = QApplication.clipboard().text().splitlines()
    assert lines[0].split("\t")[:6] == ["Number", "From", "To", "Size", "Length", "Colour"]
    assert [line.split("\t")[0] for line in lines[1:]] == ["W01", "W02"]
    before = typist.hands.circuit
    typist.press(Qt.Key.Key_V, CTRL)
    assert typist.hands.circuit == before


def test_a_column_is_filled_down_in_one_change(typist: Typist) -> None:
    typist.go(0, "size")
    steps = typist.window.session.undo.count()
    for _ in range(3):
        typist.press(Qt.Key.Key_Down, SHIFT)
    typist.press(Qt.Key.Key_D, CTRL | SHIFT)
    assert typist.column("size")[:4] == ["2 mm²"] * 4
    assert typist.window.session.undo.count() == steps + 1


def test_one_row_alone_takes_the_value_above(typist: Typist) -> None:
    typist.go(6, "colour")
    above = typist.column("colour")[5]
    typist.press(Qt.Key.Key_D, CTRL | SHIFT)
    assert typist.column("colour")[6] == above


def test_nothing_is_typed_in_operate_but_it_says_so(typist: Typist) -> None:
    typist.window.session.look_at(mode="operate")
    before = typist.hands.circuit
    typist.go(0, "size")
    typist.write("4", ENTER)
    assert typist.said == "Go to Draw (F5) to change the circuit."
    typist.press(ESCAPE)
    assert typist.hands.circuit == before


def test_alt_arrows_sort_and_move_columns(typist: Typist) -> None:
    typist.go(0, "size")
    typist.press(Qt.Key.Key_Down, ALT)
    heads = typist.wires.heads
    assert typist.wires.table.wanted.sort == "size"
    place = heads.shown().index(typist.wires.table.place["size"])
    typist.press(Qt.Key.Key_Left, ALT)
    assert heads.shown().index(typist.wires.table.place["size"]) == place - 1
