"""A decimal comma is a decimal point at every door through which a person types; the file names it.

ISO 80000-1, 7.3.1, allows both signs; 1,5 m is one and a half metres and never fifteen.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit

from model.errors import ModelError
from model.file import load
from model.wiresize import Size
from tests.app.editing import choose, horn_in
from tests.app.hands import Hands
from tests.app.owning.test_form import cell, heated_seat, opened
from tests.app.schedule.typist import ENTER, ESCAPE, TAB, Typist

PUMP = Path("assets/examples/fuel-pump.voltwalk")
CTRL = Qt.KeyboardModifier.ControlModifier


def line(hands: Hands, text: str) -> str:
    """Type a line on the sheet by keys and return what it said."""
    hands.window.view.setFocus()
    hands.key(Qt.Key.Key_Return)
    hands.type(text)
    said = hands.window.typed.line.preview.text()
    hands.key(Qt.Key.Key_Return)
    hands.key(Qt.Key.Key_Escape)
    hands.key(Qt.Key.Key_Escape)
    return said


def test_in_the_typed_line(hands: Hands) -> None:
    for text in ("battery 12,6 V", "switch", "fuse 7,5 A", "G1.+ F1.1 0,75 YE 1,5 m"):
        line(hands, text)
    (wire,) = hands.circuit.wires.values()
    assert (wire.size, wire.length_m, wire.colour) == (Size(mm2=0.75), 1.5, "YE")
    assert hands.part("G1").ratings["voltage_v"] == 12.6
    assert hands.part("F1").ratings["rating_a"] == 7.5


def test_a_comma_between_words_of_a_typed_line_still_separates_them(hands: Hands) -> None:
    for text in ("battery", "fuse, 7,5 A", "G1.+ F1.1, 0,75, 1,5 m"):
        line(hands, text)
    (wire,) = hands.circuit.wires.values()
    assert (wire.size, wire.length_m) == (Size(mm2=0.75), 1.5)
    assert hands.part("F1").ratings["rating_a"] == 7.5


@pytest.mark.parametrize(
    ("key", "text", "field", "value"),
    [
        ("size", "0,75", "size", Size(mm2=0.75)),
        ("size", "2,5 mm²", "size", Size(mm2=2.5)),
        ("length_m", "1,5 m", "length_m", 1.5),
        ("length_m", "12,5 cm", "length_m", 0.125),
    ],
)
def test_in_details_of_a_wire(hands: Hands, key: str, text: str, field: str, value: object) -> None:
    hands.window.files.show_circuit(load(PUMP).circuit)
    wire = next(iter(hands.circuit.wires.values()))
    hands.window.session.select(frozenset({wire.id}))
    hands.settle()
    typed(hands, key, text)
    assert getattr(hands.circuit.wires[wire.id], field) == value


@pytest.mark.parametrize(
    ("reference", "key", "text", "value"),
    [("G1", "voltage_v", "12,8 V", 12.8), ("F1", "rating_a", "7,5", 7.5)],
)
def test_in_details_of_a_part(
    hands: Hands, reference: str, key: str, text: str, value: float
) -> None:
    hands.window.files.show_circuit(load(PUMP).circuit)
    hands.window.session.select(frozenset({hands.part(reference).id}))
    hands.settle()
    typed(hands, key, text)
    assert hands.part(reference).ratings[key] == value


def test_in_details_of_the_circuit(hands: Hands) -> None:
    hands.window.session.select(frozenset())
    hands.settle()
    typed(hands, "temperature_c", "36,6 °C")
    assert hands.circuit.settings.conditions.temperature_c == pytest.approx(36.6)


def typed(hands: Hands, key: str, text: str) -> None:
    """Type a text over a row of Details, and Enter."""
    row = hands.window.details.rows[key]
    assert isinstance(row.input, QLineEdit)
    row.input.setFocus()
    row.input.selectAll()
    hands.type(text)
    hands.key(Qt.Key.Key_Return)
    assert not row.note.property("wrong"), row.note.text()


def test_in_the_schedule(hands: Hands) -> None:
    typist = Typist(hands)
    typist.to_parts()
    for text in ("BAT battery 12,6 V", "F1 fuse 7,5 A"):
        typist.write(text, ENTER)
    typist.press(ESCAPE)
    typist.schedule.tabs.setFocus()
    typist.press(Qt.Key.Key_Left)
    typist.wires.setFocus()
    for text in ("BAT.+", "F1.1", "0,75", "1,5 m"):
        typist.write(text, TAB)
    typist.write("RD", ENTER)
    typist.press(ESCAPE)
    (wire,) = hands.circuit.wires.values()
    assert (wire.size, wire.length_m) == (Size(mm2=0.75), 1.5)
    assert hands.part("BAT").ratings["voltage_v"] == 12.6
    assert hands.part("F1").ratings["rating_a"] == 7.5


def test_in_cells_pasted_into_the_schedule(hands: Hands) -> None:
    hands.window.files.show_circuit(load(PUMP).circuit)
    typist = Typist(hands)
    table = typist.wires.table
    typist.wires.setCurrentIndex(table.index(0, table.place["size"]))
    QApplication.clipboard().setText("0,75 mm²\n2,5\n")
    typist.press(Qt.Key.Key_V, CTRL)
    hands.settle()
    sizes = [hands.circuit.wires[i].size for i in table.ids[:2]]
    assert sizes == [Size(mm2=0.75), Size(mm2=2.5)], hands.window.notice.text()


def test_in_the_form_of_a_part_of_ones_own(hands: Hands) -> None:
    form = opened(hands)
    heated_seat(hands, form)
    form.tabs.setCurrentIndex(3)
    table = form.tabs.ratings.table
    titles = [table.item(i, 0).text() for i in range(table.rowCount())]
    at = titles.index("running current")
    cell(hands, form.tabs.ratings, at, 1, "4,5 A", "4.5 A")
    form.save.click()
    hands.settle()
    spec = hands.circuit.own_kinds["heated-seat"].kind.specs["current_a"]
    assert spec.default == 4.5


def test_in_the_bar_that_changes_all_that_is_selected(hands: Hands) -> None:
    horn_in(hands)
    choose(hands, "W01", "W02")
    hands.window.actions_["change"].trigger()
    hands.type("0,75 1,5 m")
    QTest.keyClick(hands.window.clips.change_bar.edit, Qt.Key.Key_Return)
    hands.settle()
    for number in ("W01", "W02"):
        assert (hands.wire(number).size, hands.wire(number).length_m) == (Size(mm2=0.75), 1.5)


@pytest.mark.parametrize(
    ("mine", "line_of"),
    [('"voltage_v": 12,6', '"voltage_v": 12.6'), ('"voltage_v": "12,6"', '"voltage_v": 12.6')],
)
def test_the_file_says_clearly_that_it_takes_points(
    tmp_path: Path, mine: str, line_of: str
) -> None:
    text = PUMP.read_text(encoding="utf-8")
    assert line_of in text
    path = tmp_path / "comma.voltwalk"
    path.write_text(text.replace(line_of, mine), encoding="utf-8")
    with pytest.raises(ModelError) as told:
        load(path)
    assert "line 7" in str(told.value)
    assert "point" in str(told.value)
    assert "12.6" in str(told.value)
