"""Details, Schedule, Findings and Tray by keys and mouse; each goes with one key, all with one."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget

from app.actions import ACTIONS
from app.docks.rows import TypedLine
from model.circuit import Part
from model.file import load
from model.wiresize import Size
from tests.app.hands import Hands

CIRCUITS = Path(__file__).parents[1] / "circuits"


def _fuse(hands: Hands) -> Part:
    """Place a fuse, which is then selected."""
    return hands.from_tray("Blade fuse", 0, 0)


def _line(hands: Hands, key: str) -> TypedLine:
    line = hands.window.details.rows[key].input
    assert isinstance(line, TypedLine)
    return line


def _type_into(hands: Hands, key: str, text: str) -> None:
    hands.window.details.focus_on(key)
    hands.type(text)
    hands.key(Qt.Key.Key_Return)


def test_defaults_are_shown_as_defaults_with_their_source(hands: Hands) -> None:
    _fuse(hands)
    line = _line(hands, "rating_a")
    assert (line.text(), line.placeholderText()) == ("", "15 A")
    assert (
        hands.window.details.rows["rating_a"].note.text() == "default · common practice, no source"
    )


@pytest.mark.parametrize(("typed", "amperes"), [("7,5", 7.5), ("20 A", 20.0), ("7500 mA", 7.5)])
def test_a_rating_is_typed_with_its_unit(hands: Hands, typed: str, amperes: float) -> None:
    part = _fuse(hands)
    _type_into(hands, "rating_a", typed)
    assert hands.circuit.parts[part.id].ratings["rating_a"] == pytest.approx(amperes)
    _type_into(hands, "rating_a", "")
    QTest.keyClick(_line(hands, "rating_a"), Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    QTest.keyClick(_line(hands, "rating_a"), Qt.Key.Key_Delete)
    hands.key(Qt.Key.Key_Return)
    assert "rating_a" not in hands.circuit.parts[part.id].ratings


def test_a_text_that_is_no_rating_is_told_under_its_row(hands: Hands) -> None:
    part = _fuse(hands)
    _type_into(hands, "rating_a", "12 V")
    assert not hands.circuit.parts[part.id].ratings
    assert "current" in hands.window.details.rows["rating_a"].note.text()
    assert hands.window.session.undo.count() == 1


def test_three_millimetres_asks_which_is_meant(hands: Hands) -> None:
    """A size in plain mm may be mm² or the outside of a cable sold by its diameter."""
    _fuse(hands)
    hands.wire_up("F1.1", "F1.2")
    _type_into(hands, "size", "3 mm")
    assert hands.wire("W1").size is None
    note = hands.window.details.rows["size"].note.text()
    assert "3 mm²" in note
    assert "1.13 mm²" in note
    _type_into(hands, "size", "18 AWG")
    assert hands.wire("W1").size == Size(awg=18)


def test_a_duty_is_chosen_from_a_list_by_key(hands: Hands) -> None:
    part = hands.from_tray("Fan", 0, 0)
    hands.window.details.focus_on("critical")
    hands.key(Qt.Key.Key_Down)
    hands.key(Qt.Key.Key_Down)
    duty = hands.circuit.parts[part.id].duty.critical
    assert duty is False
    hands.key(Qt.Key.Key_Up)
    assert hands.circuit.parts[part.id].duty.critical is True


def test_the_position_table_of_a_control_is_shown(hands: Hands) -> None:
    hands.from_tray("Key switch", 0, 0)
    box = hands.window.details.operate
    assert box is not None
    model = box.table.model()
    rows = [[model.index(r, c).data() for c in (0, 1)] for r in range(model.rowCount())]
    assert rows == [["OFF", "open"], ["ON", "30–15"], ["START", "30–15, 30–50"]]


def test_the_schedule_lists_and_edits_wires_in_step_with_the_sheet(hands: Hands) -> None:
    hands.window.files.open_file(CIRCUITS / "C07.voltwalk")
    hands.key(Qt.Key.Key_4, Qt.KeyboardModifier.AltModifier)
    table = hands.window.schedule.wires
    assert table.isVisible()
    model = table.table
    shown = [model.place[k] for k in ("number", "first", "second", "size", "length_m", "colour")]
    assert [model.index(0, c).data() for c in shown] == [
        "W01", "BAT.+", "F1.1", "2 mm²", "0.5 m", "RD",
    ]  # fmt: skip
    table.setFocus()
    table.setCurrentIndex(model.index(4, model.place["size"]))
    hands.settle()
    assert hands.window.session.selection == {hands.wire("W05").id}
    hands.key(Qt.Key.Key_F2)
    hands.type("2.5")
    hands.key(Qt.Key.Key_Return)
    assert hands.wire("W05").size == Size(mm2=2.5)
    hands.undo()
    assert hands.wire("W05").size == Size(mm2=2.0)


def test_an_end_typed_into_the_schedule_moves_the_wire(hands: Hands) -> None:
    hands.window.files.open_file(CIRCUITS / "C07.voltwalk")
    hands.key(Qt.Key.Key_4, Qt.KeyboardModifier.AltModifier)
    model = hands.window.schedule.wires.table
    before = hands.circuit
    assert model.setData(model.index(5, 2), "G2.g")
    assert frozenset(("B1.-", "G2.g")) in hands.joins()
    assert not model.setData(model.index(5, 2), "K9.1")
    assert "K9" in hands.window.notice.text()
    hands.undo()
    assert hands.circuit == before


@pytest.mark.parametrize(
    ("key", "dock"),
    [(Qt.Key.Key_1, "tray"), (Qt.Key.Key_2, "details"), (Qt.Key.Key_3, "findings"),
     (Qt.Key.Key_4, "schedule")],
)  # fmt: skip
def test_each_dock_goes_and_comes_with_one_key(hands: Hands, key: Qt.Key, dock: str) -> None:
    widget = hands.window.docks[dock]
    before = widget.isVisible()
    hands.key(key, Qt.KeyboardModifier.AltModifier)
    assert widget.isVisible() is not before
    hands.key(key, Qt.KeyboardModifier.AltModifier)
    assert widget.isVisible() is before


def test_one_key_hides_every_dock(hands: Hands) -> None:
    hands.key(Qt.Key.Key_4, Qt.KeyboardModifier.AltModifier)
    hands.key(Qt.Key.Key_F8)
    assert not any(d.isVisible() for d in hands.window.docks.values())
    hands.key(Qt.Key.Key_F8)
    assert [k for k, d in hands.window.docks.items() if d.isVisible()] == [
        "tray", "details", "findings",
    ]  # fmt: skip


@pytest.mark.parametrize("dock", ["schedule", "own", "keys", "tables", "sizes", "loads", "details"])
def test_a_dock_that_is_put_away_gives_the_keys_to_the_sheet(hands: Hands, dock: str) -> None:
    _fuse(hands)
    action = hands.window.actions_[f"dock_{dock}"]
    if hands.window.docks[dock].isHidden():
        action.trigger()
    inside = hands.window.docks[dock].findChildren(QWidget)
    next(
        w for w in inside if w.isVisible() and w.focusPolicy() & Qt.FocusPolicy.TabFocus
    ).setFocus()
    action.trigger()
    assert hands.window.focusWidget() is hands.window.view


def test_a_sheet_seen_whole_is_seen_whole_in_the_room_of_hidden_docks(hands: Hands) -> None:
    view = hands.window.view
    hands.window.files.show_circuit(load(Path("assets/examples/horn.voltwalk")).circuit)
    hands.settle()
    view.fit()
    before = view.transform().m11()
    hands.key(Qt.Key.Key_F8)
    hands.settle()
    assert view.shows_all()
    middle = hands.window.scene.contents().center()
    assert abs(view.middle().x() - middle.x()) < 5
    assert view.transform().m11() > before
    view.zoom(3.0)
    assert not view.shows_all()
    kept = view.transform().m11()
    hands.key(Qt.Key.Key_F8)
    hands.settle()
    assert view.transform().m11() == kept  # a person chose it


def test_a_letter_typed_into_a_line_is_a_letter(hands: Hands) -> None:
    """Single keys are the sheet's; a line that is being typed in keeps them."""
    part = _fuse(hands)
    _type_into(hands, "name", "trd wgs 123")
    assert hands.circuit.parts[part.id].name == "trd wgs 123"
    assert hands.window.docks["tray"].isVisible()


def test_every_control_has_an_accessible_name_and_no_key_means_two_things(hands: Hands) -> None:
    from PySide6.QtWidgets import QAbstractButton, QAbstractItemView, QComboBox, QLineEdit

    _fuse(hands)
    kinds = (QLineEdit, QComboBox, QAbstractItemView, QAbstractButton)
    for kind in kinds:
        for widget in hands.window.findChildren(kind):
            if widget.isVisible() and not widget.objectName().startswith("qt_"):
                assert widget.accessibleName() or widget.parent() is None, widget
    keys = [k for spec in ACTIONS for k in spec.keys]
    assert len(keys) == len(set(keys))
    assert not [k for k in keys if len(k) == 1 and k.isalpha()]  # letters begin the typed line


def test_the_themes_and_overlays_are_taken_by_key(hands: Hands) -> None:
    for key, name in (
        (Qt.Key.Key_F10, "dark"),
        (Qt.Key.Key_F11, "projector"),
        (Qt.Key.Key_F9, "light"),
    ):
        hands.key(key)
        assert hands.window.session.look.theme.name == name
        assert hands.window.actions_[f"theme_{name}"].isChecked()
    for key, name in ((Qt.Key.Key_2, "findings"), (Qt.Key.Key_3, "none"), (Qt.Key.Key_1, "state")):
        hands.key(key)
        assert hands.window.session.overlay == name


def test_the_table_of_currents_is_chosen_and_its_source_stands_below(hands: Hands) -> None:
    row = hands.window.details.rows["ampacity"]
    assert "33 CFR 183.425" in row.note.text()
    hands.window.details.focus_on("ampacity")
    hands.key(Qt.Key.Key_Down)
    chosen = hands.circuit.settings.chosen.ampacity
    assert chosen != "vehicle"
    hands.undo()
    assert hands.circuit.settings.chosen.ampacity == "vehicle"


def test_the_circuit_is_given_a_title_and_a_zone(hands: Hands) -> None:
    _type_into(hands, "title", "Tail lamps")
    _type_into(hands, "zone_c", "158 °F")
    assert hands.circuit.settings.title == "Tail lamps"
    assert hands.circuit.settings.conditions.zone_c == pytest.approx(70.0)


def test_what_holds_now_is_told_of_a_wire_and_a_relay(hands: Hands) -> None:
    """Figures of the state table of this circuit: 6.792 A in the horn, 12.226 V across it."""
    hands.window.files.open_file(CIRCUITS / "C07.voltwalk")
    session = hands.window.session
    session.set_positions({hands.part("S1").id: "PRESS"})
    session.select(frozenset({hands.wire("W05").id}))
    hands.settle()
    assert "6.8 A from K1.87 to B1.+." in hands.window.details.now.text()
    session.select(frozenset({hands.part("B1").id}))
    assert "Load: 12.23 V, 6.8 A." in hands.window.details.now.text()
    session.select(frozenset({hands.part("K1").id}))
    assert "armature in" in hands.window.details.now.text()


def test_a_wire_is_added_from_the_keyboard_alone(hands: Hands) -> None:
    hands.from_tray("Battery", -200, 0)
    hands.from_tray("Blade fuse", 100, 0)
    hands.window.view.setFocus()
    hands.key(Qt.Key.Key_Insert)
    hands.type("G1.+")
    hands.key(Qt.Key.Key_Tab)
    hands.type("F1.1")
    hands.key(Qt.Key.Key_Return)
    assert hands.joins() == {frozenset(("G1.+", "F1.1"))}


def test_a_fuse_is_put_into_a_slot_and_shown_there(hands: Hands) -> None:
    hands.from_tray("Fuse box", 0, 0)
    hands.from_tray("Blade fuse", 300, 0)
    hands.window.details.focus_on("host")
    hands.key(Qt.Key.Key_Down)
    fuse = hands.part("F1")
    assert (fuse.host, fuse.slot) == (hands.part("X1").id, "1")
    assert hands.window.scene.part_item(hands.part("X1").id).ids() == (fuse.host, fuse.id)
