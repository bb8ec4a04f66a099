"""Drawing on the sheet by real mouse and key events: place, wire, move, turn, rename, delete."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import Qt

from model.edits import put
from model.file import load
from tests.app.hands import Hands


def _pair(hands: Hands) -> None:
    """Place a battery and a fuse."""
    hands.from_tray("Battery", -200, 0)
    hands.from_tray("Blade fuse", 100, 0)


def test_a_part_is_dragged_from_the_tray(hands: Hands) -> None:
    part = hands.from_tray("Battery", -204, 7)
    place = next(iter(hands.window.session.sheet.places.values()))
    assert (part.kind, part.reference) == ("battery", "G1")
    assert abs(place.x + 204) <= 6
    assert abs(place.y - 7) <= 6
    assert (place.x % 10, place.y % 10, place.pinned) == (0, 0, True)
    assert hands.window.session.selection == {part.id}


def test_a_part_dropped_beside_the_sheet_is_not_placed(hands: Hands) -> None:
    from PySide6.QtTest import QTest

    tray = hands.window.tray.list
    start = tray.visualItemRect(tray.item(1)).center()
    QTest.mousePress(tray.viewport(), Qt.MouseButton.LeftButton, pos=start)
    QTest.mouseMove(tray.viewport(), start * 3)
    QTest.mouseRelease(tray.viewport(), Qt.MouseButton.LeftButton, pos=start)
    hands.settle()
    assert not hands.circuit.parts


def test_enter_in_the_tray_places_parts_apart(hands: Hands) -> None:
    tray = hands.window.tray
    tray.search.setFocus()
    hands.type("relay, make")
    for _ in range(3):
        hands.key(Qt.Key.Key_Return)
    assert [p.reference for p in hands.circuit.parts.values()] == ["K1", "K2", "K3"]
    geometry = hands.window.scene.geometry
    boxes = [geometry.cards[k].outer.moved(p.x, p.y) for k, p in geometry.places.items()]
    assert not any(a.overlaps(b) for a in boxes for b in boxes if a is not b)


def test_a_wire_is_dragged_from_terminal_to_terminal(hands: Hands) -> None:
    _pair(hands)
    hands.wire_up("G1.+", "F1.1")
    assert hands.joins() == {frozenset(("G1.+", "F1.1"))}
    wire = hands.wire("W1")
    assert (wire.colour, wire.size, wire.length_m) == ("RD", None, None)
    assert hands.window.session.selection == {wire.id}


def test_a_wire_let_go_over_nothing_is_not_made(hands: Hands) -> None:
    _pair(hands)
    hands.drag(hands.at_terminal("G1.+"), hands.at_scene(0, 150))
    assert not hands.circuit.wires


def test_escape_gives_a_wire_up(hands: Hands) -> None:
    from PySide6.QtTest import QTest

    _pair(hands)
    port = hands.window.view.viewport()
    start, end = hands.at_terminal("G1.+"), hands.at_terminal("F1.1")
    QTest.mousePress(port, Qt.MouseButton.LeftButton, pos=start)
    QTest.mouseMove(port, end)
    hands.key(Qt.Key.Key_Escape)
    QTest.mouseRelease(port, Qt.MouseButton.LeftButton, pos=end)
    assert not hands.circuit.wires


def test_undo_and_redo_without_limit(hands: Hands) -> None:
    _pair(hands)
    hands.wire_up("G1.+", "F1.1")
    whole = hands.circuit
    for _ in range(3):
        hands.undo()
    assert not hands.circuit.parts
    assert not hands.window.scene.geometry.places
    for _ in range(3):
        hands.redo()
    assert hands.circuit == whole
    assert set(hands.window.scene.geometry.wires) == set(whole.wires)


def test_a_drag_is_one_step_of_undo(hands: Hands) -> None:
    hands.from_tray("Battery", -200, 0)
    before = hands.circuit
    start = hands.at_part("G1")
    hands.drag(start, start + hands.at_scene(100, 50) - hands.at_scene(0, 0))
    moved = next(iter(hands.window.session.sheet.places.values()))
    assert (moved.x, moved.y) == (-100, 50)
    hands.undo()
    assert hands.circuit == before


def test_escape_puts_a_dragged_part_back(hands: Hands) -> None:
    from PySide6.QtTest import QTest

    hands.from_tray("Battery", -200, 0)
    before, port, start = hands.circuit, hands.window.view.viewport(), hands.at_part("G1")
    QTest.mousePress(port, Qt.MouseButton.LeftButton, pos=start)
    QTest.mouseMove(port, start * 2)
    hands.key(Qt.Key.Key_Escape)
    QTest.mouseRelease(port, Qt.MouseButton.LeftButton, pos=start * 2)
    assert hands.circuit == before
    (place,) = hands.window.scene.geometry.places.values()
    assert (place.x, place.y) == (-200, 0)


def test_arrows_move_and_a_held_key_is_one_step(hands: Hands) -> None:
    from PySide6.QtGui import QKeyEvent
    from PySide6.QtWidgets import QApplication

    hands.from_tray("Battery", -200, 0)
    view, none = hands.window.view, Qt.KeyboardModifier.NoModifier
    view.setFocus()
    for repeat in (False, True, True):
        QApplication.sendEvent(
            view, QKeyEvent(QKeyEvent.Type.KeyPress, Qt.Key.Key_Right, none, "", repeat)
        )
    QApplication.sendEvent(view, QKeyEvent(QKeyEvent.Type.KeyRelease, Qt.Key.Key_Right, none))
    (place,) = hands.window.session.sheet.places.values()
    assert (place.x, place.y) == (-170, 0)
    hands.undo()
    (place,) = hands.window.session.sheet.places.values()
    assert (place.x, place.y) == (-200, 0)


def test_r_turns_a_quarter_and_its_wires_follow(hands: Hands) -> None:
    _pair(hands)
    hands.wire_up("G1.+", "F1.1")
    hands.select("F1")
    hands.key(Qt.Key.Key_Period)
    place = next(p for p in hands.window.session.sheet.places.values()
                 if p.part == hands.part("F1").id)  # fmt: skip
    assert place.turn == 90
    geometry = hands.window.scene.geometry
    end = geometry.wires[hands.wire("W1").id][-1]
    assert end == geometry.terminal(hands.wire("W1").second)


def test_f2_renames_and_links_stay(hands: Hands) -> None:
    _pair(hands)
    hands.wire_up("G1.+", "F1.1")
    hands.select("F1")
    hands.key(Qt.Key.Key_F2)
    hands.type("F7")
    hands.key(Qt.Key.Key_Return)
    assert hands.joins() == {frozenset(("G1.+", "F7.1"))}


def test_delete_takes_the_wires_along_and_undo_brings_all_back(hands: Hands) -> None:
    _pair(hands)
    hands.wire_up("G1.+", "F1.1")
    before = hands.circuit
    hands.select("F1")
    hands.key(Qt.Key.Key_Delete)
    assert [p.reference for p in hands.circuit.parts.values()] == ["G1"]
    assert not hands.circuit.wires
    hands.undo()
    assert hands.circuit == before
    assert list(hands.circuit.parts) == list(before.parts)


def test_a_band_selects_what_lies_in_it(hands: Hands) -> None:
    _pair(hands)
    hands.wire_up("G1.+", "F1.1")
    hands.drag(hands.at_scene(-320, -150), hands.at_scene(0, 150))
    assert hands.window.session.selection == {hands.part("G1").id}
    hands.drag(hands.at_scene(-320, -150), hands.at_scene(250, 150))
    everything = {*hands.circuit.parts, *hands.circuit.wires}
    assert hands.window.session.selection == everything


def test_the_end_of_a_selected_wire_is_dragged_to_another_terminal(hands: Hands) -> None:
    _pair(hands)
    hands.wire_up("G1.+", "F1.1")
    stroke = hands.window.scene.wire_item(hands.wire("W1").id).stroke
    assert stroke is not None
    handle = stroke.handles[1]
    hands.drag(hands.at_scene(handle.x(), handle.y()), hands.at_terminal("F1.2"))
    assert hands.joins() == {frozenset(("G1.+", "F1.2"))}


def test_tab_steps_through_parts_and_wires(hands: Hands) -> None:
    _pair(hands)
    hands.wire_up("G1.+", "F1.1")
    session = hands.window.session
    session.select(frozenset())
    hands.window.view.setFocus()
    seen = []
    for _ in range(3):
        hands.key(Qt.Key.Key_Tab)
        seen.append(next(iter(session.selection)))
    assert seen == [hands.part("G1").id, hands.part("F1").id, hands.wire("W1").id]


def test_a_second_sheet_shows_what_is_placed_on_it(hands: Hands) -> None:
    from dataclasses import replace

    from model.circuit import Sheet
    from model.edits import put

    _pair(hands)
    session = hands.window.session
    fuse = next(p for p in session.sheet.places.values() if p.part == hands.part("F1").id)
    second = Sheet("s2", "Tail", {"d1": replace(fuse, id="d1", x=0.0)})
    session.do(put(hands.circuit, "sheets", second, "Add a sheet"))
    hands.key(Qt.Key.Key_PageDown)
    assert [p.part for p in hands.window.scene.geometry.places.values()] == [fuse.part]
    assert "Tail (2 of 2)" in hands.window.status.text()
    hands.key(Qt.Key.Key_PageDown)
    assert len(hands.window.scene.geometry.places) == 2


def test_the_line_below_says_what_the_numbers_rest_on(hands: Hands) -> None:
    """A wire without a length counts with a metre: that is told as long as it is so."""
    pump = load(Path(__file__).parents[2] / "assets/examples/fuel-pump.voltwalk").circuit
    hands.window.files.show_circuit(pump)
    hands.settle()
    assert "assumed" not in hands.window.status.text()
    for number, said in (("W2", "of one wire"), ("W3", "of 2 wires")):
        bare = replace(hands.wire(number), length_m=None)
        hands.window.session.do(put(hands.circuit, "wires", bare, "Not known"))
        hands.settle()
        assert f"assumed: size or length {said}" in hands.window.status.text()
