"""A wire bent by keys alone: piece by piece, one change for each move, told in words."""

from __future__ import annotations

from itertools import pairwise

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest

from app.gestures.piece import PieceGesture
from model.file import dumps, load, loads
from model.layout.geometry import Point
from tests.app.hands import Hands
from tests.app.loads.test_page import PUMP

CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
KEY = Qt.Key


@pytest.fixture
def bending(hands: Hands) -> Hands:
    """The pump circuit with W8 selected, the keys at the sheet."""
    hands.window.files.show_circuit(load(PUMP).circuit)
    hands.settle()
    hands.window.session.select(frozenset({hands.wire("W8").id}))
    hands.window.view.setFocus()
    return hands


def points(hands: Hands) -> tuple[Point, ...]:
    return tuple(hands.window.scene.geometry.wires[hands.wire("W8").id])


def held(hands: Hands) -> tuple[Point, Point]:
    """Return the ends of the piece that is held."""
    pieces = hands.window.view.pieces
    return list(pairwise(points(hands)))[pieces.piece]


def told(hands: Hands) -> str:
    return hands.window.view.accessibleDescription()


def test_a_key_steps_through_the_pieces_and_says_which_is_held(bending: Hands) -> None:
    count = len(points(bending)) - 1
    seen = []
    for at in range(count):
        bending.key(KEY.Key_W, CTRL)
        assert told(bending).startswith(f"W8, piece {at + 1} of {count} from S2.NC:")
        (ax, ay), (bx, by) = held(bending)
        assert ("level" in told(bending)) == (ay == by)
        assert ("Left and Right" in told(bending)) == (ax == bx)
        seen.append(held(bending))
    assert seen == list(pairwise(points(bending)))
    bending.key(KEY.Key_W, CTRL)
    assert bending.window.view.pieces.piece == 0
    bending.key(KEY.Key_W, CTRL | SHIFT)
    assert bending.window.view.pieces.piece == count - 1
    assert bending.window.notice.text() == told(bending)
    reader = QAccessible.queryAccessibleInterface(bending.window.view)
    assert reader.text(QAccessible.Text.Description) == told(bending)


def across(hands: Hands) -> Qt.Key:
    """Return an arrow that moves the piece held."""
    return KEY.Key_Down if held(hands)[0][1] == held(hands)[1][1] else KEY.Key_Right


def test_arrows_move_the_piece_each_as_one_change(bending: Hands) -> None:
    bending.key(KEY.Key_W, CTRL)
    before, (a, b) = dumps(bending.circuit), held(bending)
    arrow, undo = across(bending), bending.window.session.undo
    bending.key(arrow)
    assert (undo.count(), undo.undoText()) == (1, "Bend W8")
    first = held(bending)
    assert abs(first[0][0] - a[0]) + abs(first[0][1] - a[1]) >= 10.0
    bending.key(arrow, SHIFT)
    assert undo.count() == 2
    level = a[1] == b[1]
    moved = held(bending)
    assert moved[0][1] == a[1] + 60.0 if level else moved[0][0] == a[0] + 60.0
    route = bending.window.session.sheet.routes[bending.wire("W8").id]
    assert (
        loads(dumps(bending.circuit))
        .circuit.sheets[bending.window.session.sheet.id]
        .routes[route.wire]
        == route
    )
    bending.undo()
    bending.undo()
    assert dumps(bending.circuit) == before


def test_an_arrow_held_is_one_change(bending: Hands) -> None:
    bending.key(KEY.Key_W, CTRL)
    view, arrow = bending.window.view, across(bending)
    start = held(bending)
    for _ in range(4):
        QTest.keyPress(view, arrow)
    QTest.keyRelease(view, arrow)
    bending.settle()
    assert bending.window.session.undo.count() == 1
    (ax, ay), (bx, by) = start[0], held(bending)[0]
    assert (by - ay if arrow == KEY.Key_Down else bx - ax) == 40.0


def test_along_its_way_nothing_moves_and_it_says_so(bending: Hands) -> None:
    bending.key(KEY.Key_W, CTRL)
    before = bending.circuit
    bending.key(KEY.Key_Right if across(bending) == KEY.Key_Down else KEY.Key_Down)
    assert bending.circuit is before
    assert "This piece moves" in bending.window.notice.text()


def test_esc_gives_up_a_move_then_lets_go_of_the_piece_then_of_the_wire(bending: Hands) -> None:
    bending.key(KEY.Key_W, CTRL)
    before, view = bending.circuit, bending.window.view
    QTest.keyPress(view, across(bending))
    bending.key(KEY.Key_Escape)
    assert bending.circuit is before and view.pieces.wire
    bending.key(KEY.Key_Escape)
    assert not view.pieces.wire and bending.window.session.selection
    assert "drawing of the circuit" in told(bending) and not bending.window.notice.text()
    bending.key(KEY.Key_Escape)
    assert not bending.window.session.selection


def test_enter_ends_and_opens_no_line(bending: Hands) -> None:
    bending.key(KEY.Key_W, CTRL)
    bending.key(KEY.Key_Return)
    assert not bending.window.view.pieces.wire
    assert not bending.window.view.cursor_at.typing


def test_a_wire_found_by_tab_is_bent_without_a_mouse(bending: Hands) -> None:
    bending.window.session.select(frozenset())
    wanted = bending.wire("W8").id
    for _ in range(60):
        bending.key(KEY.Key_Tab)
        if bending.window.session.selection == frozenset({wanted}):
            break
    bending.key(KEY.Key_W, CTRL)
    assert bending.window.view.pieces.wire == wanted


def test_where_it_cannot_go_it_says_why_and_goes_on_holding(bending: Hands) -> None:
    """W2 runs level above S2: far enough down that is in its way."""
    bending.window.session.select(frozenset({bending.wire("W2").id}))
    bending.key(KEY.Key_W, CTRL)
    view, before, blocked = bending.window.view, bending.circuit, False
    for _ in range(30):
        QTest.keyPress(view, KEY.Key_Down)
        gesture = view.gesture
        assert isinstance(gesture, PieceGesture)
        if blocked := gesture.is_blocked:
            break
    assert blocked
    QTest.keyRelease(view, KEY.Key_Down)
    bending.settle()
    assert bending.circuit is before and view.pieces.wire
    assert "A wire cannot run through" in bending.window.notice.text()


def test_a_piece_cannot_be_moved_into_a_card(bending: Hands) -> None:
    """Far enough down the first piece would run through some card: it is refused."""
    bending.key(KEY.Key_W, CTRL)
    view, arrow = bending.window.view, across(bending)
    geometry = bending.window.scene.geometry
    for _ in range(40):
        QTest.keyPress(view, arrow)
        QTest.keyRelease(view, arrow)
        bending.settle()
        bodies = [geometry.cards[k].body.moved(p.x, p.y) for k, p in geometry.places.items()]
        assert not any(r.crossed_by(a, b) for r in bodies for a, b in pairwise(points(bending)))


@pytest.mark.parametrize("chosen", ["", "F1"])
def test_without_one_wire_it_says_what_to_do(bending: Hands, chosen: str) -> None:
    ids = frozenset({bending.part(chosen).id}) if chosen else frozenset[str]()
    bending.window.session.select(ids)
    bending.key(KEY.Key_W, CTRL)
    assert bending.window.notice.text().startswith("Select one wire first")
    assert not bending.window.view.pieces.wire


def test_other_selections_modes_and_taking_back_leave_no_stale_piece(bending: Hands) -> None:
    pieces = bending.window.view.pieces
    bending.key(KEY.Key_W, CTRL)
    bending.key(across(bending))
    bending.undo()
    assert pieces.piece <= len(points(bending)) - 2 and pieces.wire
    bending.window.actions_["mode_operate"].trigger()
    assert not pieces.wire
    bending.window.actions_["mode_draw"].trigger()
    bending.key(KEY.Key_W, CTRL)
    bending.window.session.select(frozenset({bending.part("F1").id}))
    assert not pieces.wire
