"""Every act of the mouse in Draw: shown beforehand, given up by Escape, undone byte for byte."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from model.changes import Change
from model.circuit import Part, Place
from model.edits import add_part
from model.file import dumps
from tests.app.gestures.drawn import (
    ALT,
    CONTROL,
    as_seen,
    branch_handle,
    check,
    handle,
    held,
    pull,
    word,
)
from tests.app.hands import LEFT, NONE, Hands

Points = Callable[[Hands], tuple[QPoint, QPoint, Qt.KeyboardModifier]]


@pytest.fixture
def desk(hands: Hands) -> Hands:
    """A fuse and a lamp with a wire between, a ground point and a switch without wires below."""
    hands.from_tray("Blade fuse", -300, 0)
    hands.from_tray("Lamp", 200, 0)
    hands.from_tray("Ground point", -50, 200)
    hands.from_tray("Switch", 200, 280)
    hands.wire_up("F1.2", "E1.+")
    hands.click(hands.at_wire("W1"))
    return hands


def _splice(desk: Hands) -> tuple[QPoint, QPoint, Qt.KeyboardModifier]:
    return desk.at_terminal("X1.g"), desk.at_wire("W1"), NONE


def _join(desk: Hands) -> tuple[QPoint, QPoint, Qt.KeyboardModifier]:
    return desk.at_terminal("X1.g"), desk.at_terminal("E1.-"), NONE


def _end(desk: Hands) -> tuple[QPoint, QPoint, Qt.KeyboardModifier]:
    return handle(desk, "W1"), desk.at_terminal("S1.1"), NONE


def _open(desk: Hands) -> tuple[QPoint, QPoint, Qt.KeyboardModifier]:
    return handle(desk, "W1"), desk.at_scene(0, -200), ALT


def _branch(desk: Hands) -> tuple[QPoint, QPoint, Qt.KeyboardModifier]:
    return branch_handle(desk, "W1"), desk.at_terminal("X1.g"), NONE


def _branch_by_key(desk: Hands) -> tuple[QPoint, QPoint, Qt.KeyboardModifier]:
    return desk.at_wire("W1"), desk.at_terminal("S1.1"), CONTROL


def _bend(desk: Hands) -> tuple[QPoint, QPoint, Qt.KeyboardModifier]:
    return desk.at_wire("W1"), desk.at_wire("W1") + QPoint(0, -90), NONE


def _insert(desk: Hands) -> tuple[QPoint, QPoint, Qt.KeyboardModifier]:
    return desk.at_part("S1"), desk.at_wire("W1"), NONE


def _move(desk: Hands) -> tuple[QPoint, QPoint, Qt.KeyboardModifier]:
    return desk.at_part("E1"), desk.at_part("E1") + QPoint(60, 50), NONE


def _copy(desk: Hands) -> tuple[QPoint, QPoint, Qt.KeyboardModifier]:
    return desk.at_part("E1"), desk.at_scene(-100, -200), CONTROL


ACTS: dict[str, tuple[Points, str]] = {
    "splice": (_splice, "splice"),
    "join": (_join, "join"),
    "end": (_end, "join"),
    "open": (_open, "Alt: leave open"),  # the moves that the test sends carry no keys
    "branch": (_branch, "splice and join"),
    "branch by key": (_branch_by_key, "splice and join"),
    "bend": (_bend, "bend"),
    "insert": (_insert, "insert"),
    "move": (_move, ""),
    "copy": (_copy, "duplicate"),
}


@pytest.mark.parametrize("act", ACTS)
def test_an_act_is_announced_done_once_and_undone_byte_for_byte(desk: Hands, act: str) -> None:
    find, says = ACTS[act]
    before, steps = dumps(desk.circuit), desk.window.session.undo.count()
    start, end, keys = find(desk)
    with held(desk, start, end, keys):
        assert word(desk) == says
        assert dumps(desk.circuit) == before
    assert word(desk) == ""
    after = dumps(desk.circuit)
    assert after != before
    assert desk.window.session.undo.count() == steps + 1
    check(desk)
    desk.undo()
    assert dumps(desk.circuit) == before
    check(desk)
    desk.redo()
    assert dumps(desk.circuit) == after
    check(desk)


@pytest.mark.parametrize("act", ACTS)
def test_escape_gives_an_act_up_and_nothing_has_moved(desk: Hands, act: str) -> None:
    before, seen = dumps(desk.circuit), as_seen(desk.window.scene)
    start, end, keys = ACTS[act][0](desk)
    with held(desk, start, end, keys):
        QTest.keyClick(desk.window.view, Qt.Key.Key_Escape)
        assert word(desk) == ""
        assert as_seen(desk.window.scene) == seen
    assert dumps(desk.circuit) == before
    assert as_seen(desk.window.scene) == seen


def test_what_acts_leave(desk: Hands) -> None:
    pull(desk, *_branch(desk))
    assert frozenset({"X1.g", "SP1.s"}) in desk.joins()
    splice, bolt = desk.at_part("SP1"), desk.at_terminal("X1.g")
    assert splice.x() == bolt.x()
    desk.undo()
    pull(desk, *_copy(desk))
    assert [p.reference for p in desk.circuit.parts.values() if p.kind == "lamp"] == ["E1", "E2"]
    desk.undo()
    pull(desk, *_insert(desk))
    assert frozenset({"F1.2", "S1.1"}) in desk.joins()
    assert desk.wire("W2").first is not None


def test_a_branch_may_be_drawn_where_ctrl_pressed_the_wire(desk: Hands) -> None:
    start, end, keys = _branch_by_key(desk)
    pull(desk, start, end, keys)
    assert abs(desk.at_part("SP1").x() - start.x()) <= 10


def test_an_end_let_go_over_nothing_says_how_to_leave_it_open(desk: Hands) -> None:
    before = dumps(desk.circuit)
    with held(desk, handle(desk, "W1"), desk.at_scene(0, -200)):
        assert word(desk) == "Alt: leave open"
    assert dumps(desk.circuit) == before


def test_ctrl_click_adds_and_takes_away(desk: Hands) -> None:
    wire, lamp = desk.wire("W1").id, desk.part("E1").id
    desk.click(desk.at_part("E1"), CONTROL)
    assert desk.window.session.selection == {wire, lamp}
    desk.click(desk.at_wire("W1"), CONTROL)
    assert desk.window.session.selection == {lamp}
    desk.click(desk.at_part("E1"), CONTROL)
    assert not desk.window.session.selection


def test_arrows_never_put_a_part_in_line(desk: Hands) -> None:
    desk.click(desk.at_part("S1"))
    for key in (Qt.Key.Key_Right, Qt.Key.Key_Left, Qt.Key.Key_Left, Qt.Key.Key_Up):
        desk.key(key)
    assert len(desk.circuit.wires) == 1
    assert len(desk.window.session.sheet.places) == 4


def test_a_part_dropped_on_an_upright_piece_is_turned_to_lie_in_it(desk: Hands) -> None:
    desk.wire_up("X1.g", "E1.-")
    way = desk.window.scene.geometry.wires[desk.wire("W2").id]
    pull(desk, desk.at_part("E1"), desk.at_scene(200, -320))
    way = desk.window.scene.geometry.wires[desk.wire("W2").id]
    a, b = max(pairwise(way), key=lambda p: abs(p[1][1] - p[0][1]))
    desk.from_tray("Blade fuse", a[0], (a[1] + b[1]) / 2)
    fuse = desk.part("F2").id
    (place,) = (p for p in desk.window.session.sheet.places.values() if p.part == fuse)
    assert place.turn in (90, 270)
    assert abs(place.x - a[0]) <= 10
    check(desk)


def test_a_part_is_not_put_in_line_with_what_ends_at_it(desk: Hands) -> None:
    desk.wire_up("S1.1", "X1.g")
    before = dumps(desk.circuit)
    pull(desk, desk.at_part("S1"), desk.at_wire("W1"))
    assert len(desk.circuit.wires) == 2
    desk.undo()
    assert dumps(desk.circuit) == before


def test_no_segment_is_let_go_on_a_card(desk: Hands) -> None:
    before = dumps(desk.circuit)
    start = desk.at_wire("W1")
    with held(desk, start, QPoint(start.x(), desk.at_part("X1").y())):
        assert word(desk) == "not through X1"
    assert dumps(desk.circuit) == before
    assert "X1" in desk.window.notice.text()


def test_bends_go_along_when_everything_is_moved(desk: Hands) -> None:
    pull(desk, *_bend(desk))
    wire = desk.wire("W1").id
    bends = desk.window.session.sheet.routes[wire].bends
    before = dumps(desk.circuit)
    desk.key(Qt.Key.Key_A, CONTROL)
    start = desk.at_part("F1")
    pull(desk, start, start + desk.at_scene(60, 40) - desk.at_scene(0, 0))
    moved = desk.window.session.sheet.routes[wire].bends
    assert moved == tuple((x + 60, y + 40) for x, y in bends)
    check(desk)
    desk.undo()
    assert dumps(desk.circuit) == before
    check(desk)


def test_a_card_let_go_on_kept_bends_sends_the_wire_round_until_it_leaves(desk: Hands) -> None:
    pull(desk, *_bend(desk))
    wire = desk.wire("W1").id
    kept = desk.window.scene.geometry.wires[wire]
    desk.wire_up("S1.1", "X1.g")
    middle = desk.at_wire("W1")
    pull(desk, desk.at_part("S1"), middle)
    check(desk)
    assert desk.window.scene.geometry.wires[wire] != kept
    pull(desk, desk.at_part("S1"), desk.at_scene(200, 280))
    assert desk.window.scene.geometry.wires[wire] == kept
    check(desk)


def test_a_part_carried_from_the_tray_is_given_up_with_escape(desk: Hands) -> None:
    tray, view = desk.window.tray.list, desk.window.view
    before, row = dumps(desk.circuit), tray.item(1)
    start = tray.visualItemRect(row).center()
    aim = view.viewport().mapToGlobal(desk.at_wire("W1"))
    end = tray.viewport().mapFromGlobal(aim)
    QTest.mousePress(tray.viewport(), LEFT, NONE, start)
    for step in range(1, 5):
        QTest.mouseMove(tray.viewport(), start + (end - start) * step / 4)
    assert desk.window.view.gesture is not None
    desk.key(Qt.Key.Key_Escape)
    assert desk.window.view.gesture is None
    assert not desk.window.view.stage._draft.draft.ghosts
    QTest.mouseRelease(tray.viewport(), LEFT, NONE, end)
    desk.settle()
    assert dumps(desk.circuit) == before


def test_another_button_does_not_let_go(desk: Hands) -> None:
    start, end, keys = _join(desk)
    port, right = desk.window.view.viewport(), Qt.MouseButton.RightButton
    with held(desk, start, end, keys):
        QTest.mousePress(port, right, NONE, end)
        QTest.mouseRelease(port, right, NONE, end)
        assert len(desk.circuit.wires) == 1
    assert frozenset({"X1.g", "E1.-"}) in desk.joins()


def test_the_wheel_zooms_while_a_wire_is_drawn(desk: Hands) -> None:
    view, port = desk.window.view, desk.window.view.viewport()
    QTest.mousePress(port, LEFT, NONE, desk.at_terminal("X1.g"))
    QTest.mouseMove(port, desk.at_scene(0, 250))
    zoom = view.transform().m11()
    at = QPointF(desk.at_scene(0, 250))
    for _ in range(3):
        QApplication.sendEvent(
            port,
            QWheelEvent(
                at, port.mapToGlobal(at), QPoint(), QPoint(0, -120), Qt.MouseButton.LeftButton,
                NONE, Qt.ScrollPhase.NoScrollPhase, False,
            ),
        )  # fmt: skip
    assert view.transform().m11() < zoom * 0.7
    end = desk.at_terminal("E1.-")
    QTest.mouseMove(port, end)
    QTest.mouseRelease(port, LEFT, NONE, end)
    desk.settle()
    assert frozenset({"X1.g", "E1.-"}) in desk.joins()


def test_a_wire_is_drawn_to_a_terminal_that_was_out_of_sight(desk: Hands) -> None:
    desk.window.session.do(_far_lamp(desk))
    view, port = desk.window.view, desk.window.view.viewport()
    assert desk.at_terminal("E9.+").x() > view.width()
    edge = QPoint(view.width() - 5, view.height() // 2)
    QTest.mousePress(port, LEFT, NONE, desk.at_terminal("X1.g"))
    QTest.mouseMove(port, edge)
    desk.bot.waitUntil(lambda: desk.at_terminal("E9.+").x() < view.width() - 60, timeout=20000)
    end = desk.at_terminal("E9.+")
    QTest.mouseMove(port, end)
    QTest.mouseRelease(port, LEFT, NONE, end)
    desk.settle()
    assert frozenset({"X1.g", "E9.+"}) in desk.joins()
    check(desk)


def _far_lamp(desk: Hands) -> Change:
    sheet = desk.window.session.sheet
    return add_part(
        desk.circuit, Part("p99", "lamp", "E9"), sheet.id, Place("c99", "p99", 1500.0, 0.0)
    )


def test_the_sheet_stands_still_under_what_is_taken_hold_of_at_the_edge(desk: Hands) -> None:
    view, port = desk.window.view, desk.window.view.viewport()
    view.centerOn(view.mapToScene(QPoint(desk.at_part("F1").x() + view.width() // 2 - 12, 400)))
    start, still = desk.at_part("F1"), view.mapToScene(0, 0)
    assert 0 < start.x() < 26
    QTest.mousePress(port, LEFT, NONE, start)
    QTest.mouseMove(port, start + QPoint(0, 30))
    desk.bot.wait(120)
    assert view.mapToScene(0, 0) == still
    QTest.keyClick(view, Qt.Key.Key_Escape)
    QTest.mouseRelease(port, LEFT, NONE, start)


@pytest.mark.parametrize("zoom", [0.3, 2.0])
def test_wires_are_drawn_and_spliced_at_any_zoom(desk: Hands, zoom: float) -> None:
    desk.window.view.zoom(zoom / desk.window.view.transform().m11())
    if zoom > 1:
        desk.window.view.centerOn(QPointF(-50, 100))
    pull(desk, *_splice(desk))
    assert frozenset({"X1.g", "SP1.s"}) in desk.joins()
    check(desk)
