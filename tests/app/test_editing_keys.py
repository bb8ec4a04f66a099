"""Every act of editing by its key: one step of undo, with its name, byte for byte back again."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QContextMenuEvent, QGuiApplication, QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMenu

from app.actions import ACTIONS, ON_SELECTION
from app.actions.offered import offered
from app.clipboard import MIME
from model.edits import set_wire
from model.file import dumps
from tests.app.editing import choose, horn_in, places, selected, whole_undo
from tests.app.hands import Hands

K = Qt.Key
CONTROL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
KEYS = {spec.key: spec.keys for spec in ACTIONS}
CHANGES = {
    "cut": (("K1", "W05"), "Cut K1"),
    "duplicate": (("K1", "F1"), "Duplicate F2, K2"),
    "delete": (("K1",), "Delete K1"),
    "delete_heal": (("F1",), "Take out F1"),
    "remove_splice": (("SP1",), "Heal over SP1"),
    "splice": (("G2", "W05"), "Splice G2.g to W05"),
    "swap_ends": (("W05", "W07"), "Swap ends of W05, W07"),
    "number_parts": ((), "Give new references"),
    "number_wires": ((), "Number wires anew"),
    "rotate": (("K1",), "Turn K1"),
    "rotate_back": (("K1", "F1"), "Turn F1, K1"),
    "mirror": (("K1", "F1"), "Mirror F1, K1"),
    "mirror_down": (("K1",), "Mirror K1"),
    "align_left": (("K1", "F1"), "Align left: F1, K1"),
    "align_right": (("K1", "F1"), "Align right: F1, K1"),
    "align_top": (("K1", "F1"), "Align top: F1, K1"),
    "align_bottom": (("K1", "F1"), "Align bottom: F1, K1"),
    "align_centre": (("K1", "F1"), "Align centre: F1, K1"),
    "align_middle": (("K1", "F1"), "Align middle: F1, K1"),
    "space_across": (("BAT", "F1", "K1"), "Space across: BAT, F1, K1"),
    "space_down": (("F1", "K1", "G2"), "Space down: F1, K1, G2"),
    "tidy": ((), "Tidy the sheet"),
    "tidy_selected": (("K1", "F1"), "Tidy the sheet"),
}
SELECTS = {
    "select_circuit": ("K1", {"F1", "K1", "S1", "B1", "SP1"}, {"BAT", "G1", "G2"}),
    "select_fed": ("F1", {"F1", "K1", "B1", "SP1", "W05"}, {"BAT", "W01"}),
    "select_ground": ("G2", {"G2", "S1", "W08"}, {"BAT", "G1"}),
    "select_joined": ("S1", {"S1", "W07", "W08"}, {"K1"}),
    "select_kind": ("G1", {"G0", "G1", "G2"}, {"K1", "W06"}),
    "select_colour": ("W05", {"W05"}, {"W01", "K1"}),
    "select_size": ("W04", {"W04", "W07", "W08"}, {"W01", "K1"}),
    "select_others": ("K1", {"F1", "W01"}, {"K1"}),
}


@pytest.fixture
def horn(hands: Hands) -> Hands:
    """Hands on the horn circuit, its cards not in line any more."""
    return horn_in(hands)


def press(hands: Hands, action: str) -> None:
    """Press the first key of an action, on the sheet."""
    keys = QKeySequence.fromString(KEYS[action][0])
    combination = keys[0]  # type: ignore[index]
    hands.window.view.setFocus()
    hands.key(combination.key(), combination.keyboardModifiers())


def words(text: str) -> list[str]:
    """Return the words of an act's name; the parts stand in the order of their cards."""
    return sorted(text.replace(",", "").replace(":", "").split())


def apart(hands: Hands) -> str:
    """Move one card out of line, so that there is something to put in order; return the file."""
    choose(hands, "K1")
    for _ in range(3):
        hands.key(K.Key_Down, SHIFT)
        hands.key(K.Key_Right)
    return dumps(hands.circuit)


@pytest.mark.parametrize("action", CHANGES)
def test_an_act_is_one_step_with_a_name_and_undone_byte_for_byte(horn: Hands, action: str) -> None:
    before, undo = apart(horn), horn.window.session.undo
    names, text = CHANGES[action]
    choose(horn, *names)
    steps = undo.count()
    press(horn, action)
    assert dumps(horn.circuit) != before
    assert undo.count() == steps + 1
    assert words(undo.undoText()) == words(text)
    after = dumps(horn.circuit)
    whole_undo(horn, before)
    horn.redo()
    assert dumps(horn.circuit) == after


@pytest.mark.parametrize("action", [a for a, (names, _) in CHANGES.items() if names])
def test_with_nothing_or_the_wrong_thing_selected_one_sentence_says_so(
    horn: Hands, action: str
) -> None:
    before = dumps(horn.circuit)
    if action in ("rotate", "delete"):
        return
    horn.window.session.select(frozenset())
    press(horn, action)
    said = horn.window.notice.text()
    assert said.endswith(".") and horn.window.notice.isVisible()
    assert dumps(horn.circuit) == before


@pytest.mark.parametrize("action", SELECTS)
def test_selecting_by_key(horn: Hands, action: str) -> None:
    start, within, without = SELECTS[action]
    before = dumps(horn.circuit)
    choose(horn, start)
    press(horn, action)
    assert within <= selected(horn)
    assert not without & selected(horn)
    assert dumps(horn.circuit) == before
    assert horn.window.notice.text().startswith("Selected ")


def test_what_is_joined_grows_step_by_step(horn: Hands) -> None:
    choose(horn, "G2")
    sizes = [1]
    for _ in range(4):
        press(horn, "select_joined")
        sizes.append(len(selected(horn)))
    assert sizes == sorted(set(sizes))


def test_a_splice_stands_on_the_wire_and_joins_the_part(horn: Hands) -> None:
    choose(horn, "G2", "W05")
    press(horn, "splice")
    (splice,) = (p for p in horn.circuit.parts.values() if p.reference == "SP2")
    ends = {e for pair in horn.joins() for e in pair if "SP2" in e}
    assert ends == {"SP2.s"}
    assert frozenset(("G2.g", "SP2.s")) in horn.joins()
    assert frozenset(("K1.87", "SP2.s")) in horn.joins()
    assert splice.id in horn.window.session.selection


def test_an_open_end_is_spliced_to_the_other_wire(horn: Hands) -> None:
    wire = horn.wire("W08")
    horn.window.session.do(set_wire(horn.circuit, replace(wire, first=None)))
    choose(horn, "W08", "W05")
    press(horn, "splice")
    assert frozenset(("G2.g", "SP2.s")) in horn.joins()


def test_several_free_terminals_are_told_not_guessed(horn: Hands) -> None:
    at = horn.window.view.mapToScene(120, horn.window.view.height() - 120)
    part = horn.from_tray("Relay with resistor", at.x(), at.y())
    choose(horn, part.reference, "W05")
    before = dumps(horn.circuit)
    press(horn, "splice")
    assert "free terminals" in horn.window.notice.text()
    assert dumps(horn.circuit) == before


def test_a_paste_goes_where_the_mouse_is_else_to_the_middle_of_the_view(horn: Hands) -> None:
    choose(horn, "F1")
    press(horn, "copy")
    shown = horn.window.scene.geometry
    press(horn, "paste")
    (at,) = places(horn, "F2")
    middle = horn.window.view.middle()
    cards = [c.outer.moved(shown.places[k].x, shown.places[k].y) for k, c in shown.cards.items()]
    away = abs(at[0] - middle.x()) + abs(at[1] - middle.y())
    assert away < 320 or any(c.x < middle.x() < c.right for c in cards)
    after = horn.window.scene.geometry
    areas = [c.outer.moved(after.places[k].x, after.places[k].y) for k, c in after.cards.items()]
    assert not any(a.overlaps(b) for i, a in enumerate(areas) for b in areas[i + 1 :])


def test_a_paste_goes_to_the_mouse_where_that_is_over_the_sheet(horn: Hands) -> None:
    choose(horn, "F1")
    press(horn, "copy")
    port = horn.window.view.viewport()
    at = QPoint(port.width() - 200, port.height() - 90)
    QTest.mouseMove(port, at)
    horn.bot.waitUntil(horn.window.view.underMouse)
    press(horn, "paste")
    point = horn.window.view.mapToScene(at)
    ((x, y),) = places(horn, "F2")
    assert abs(x - point.x()) <= 60
    assert abs(y - point.y()) <= 60


def test_what_stands_in_line_already_is_told(horn: Hands) -> None:
    apart(horn)
    choose(horn, "K1", "F1")
    press(horn, "align_left")
    before = dumps(horn.circuit)
    choose(horn, "K1", "F1")
    press(horn, "align_left")
    assert horn.window.notice.text() == "They stand so already."
    assert dumps(horn.circuit) == before


def test_a_right_click_on_one_of_several_keeps_them_and_elsewhere_takes_that(horn: Hands) -> None:
    choose(horn, "K1", "F1")
    port = horn.window.view.viewport()
    QTest.mouseClick(port, Qt.MouseButton.RightButton, pos=horn.at_part("F1"))
    assert selected(horn) == {"K1", "F1"}
    QTest.mouseClick(port, Qt.MouseButton.RightButton, pos=horn.at_part("B1"))
    assert selected(horn) == {"B1"}


def test_text_around_a_piece_as_in_an_email_is_passed_over(horn: Hands) -> None:
    choose(horn, "K1", "F1")
    press(horn, "copy")
    text = QGuiApplication.clipboard().text()
    QGuiApplication.clipboard().setText(f"Hello,\nhere is the relay:\n\n{text}\n\nRegards")
    count = len(horn.circuit.parts)
    press(horn, "paste")
    assert len(horn.circuit.parts) == count + 2


def test_the_clipboard_holds_plain_text_and_our_own_form(horn: Hands) -> None:
    choose(horn, "K1")
    press(horn, "copy")
    data = QGuiApplication.clipboard().mimeData()
    assert data.hasText() and data.hasFormat(MIME)
    assert bytes(data.data(MIME).data()).decode() == data.text()


def test_a_line_that_is_typed_in_keeps_cut_copy_paste_and_select_all(horn: Hands) -> None:
    before = dumps(horn.circuit)
    press(horn, "find")
    line = horn.window.chooses.bar.edit
    QTest.keyClicks(line, "horn")
    for key in (K.Key_A, K.Key_X, K.Key_V, K.Key_A, K.Key_C):
        QTest.keyClick(line, key, CONTROL)
    assert line.text() == "horn"
    assert QGuiApplication.clipboard().text() == "horn"
    assert dumps(horn.circuit) == before


@pytest.mark.parametrize(
    ("names", "there", "missing"),
    [
        (("K1",), {"rename", "replace", "rotate", "&Arrange"}, {"swap_ends", "select_fed"}),
        (("F1",), {"select_fed", "delete_heal"}, {"select_ground", "remove_splice"}),
        (("SP1",), {"remove_splice"}, {"select_fed"}),
        (("G2", "W05"), {"splice", "swap_ends", "select_kind"}, {"rename"}),
        (("W05", "W07", "W08"), {"swap_ends", "select_colour"}, {"rotate", "replace", "splice"}),
        ((), {"paste", "find", "tidy"}, {"cut", "rotate"}),
    ],
)  # fmt: skip
def test_the_menu_where_the_mouse_is_offers_what_fits(
    horn: Hands, names: tuple[str, ...], there: set[str], missing: set[str]
) -> None:
    choose(horn, *names)
    found = set(offered(horn.circuit, horn.window.session.selection, ON_SELECTION))
    assert there <= found
    assert not missing & found
    assert found - {""} <= set(KEYS) | set(horn.window.menus)


def test_every_act_has_a_key_or_a_letter_in_its_menu() -> None:
    for spec in ACTIONS:
        if spec.menu in ("&Edit", "&Arrange", "&Choose"):
            assert "&" in spec.text, spec.key
            assert spec.keys or spec.key == "route_free", spec.key


@pytest.mark.qt_log_ignore("does not support", extend=True)
def test_a_right_click_opens_the_menu_and_an_act_is_done_from_it(horn: Hands) -> None:
    choose(horn, "W05", "W07")
    port = horn.window.view.viewport()
    at = port.rect().center()
    event = QContextMenuEvent(QContextMenuEvent.Reason.Mouse, at, port.mapToGlobal(at))
    QApplication.sendEvent(port, event)
    menu = next(m for m in horn.window.findChildren(QMenu) if m.isVisible())
    named = {a.text().replace("&", ""): a for a in menu.actions()}
    assert {"Swap the ends of wires", "Arrange", "Choose"} - set(named) == {"Arrange"}
    assert named["Choose"].menu() is not None
    first = horn.wire("W05").first
    named["Swap the ends of wires"].trigger()
    menu.close()
    horn.flush()
    assert horn.wire("W05").second == first
    assert horn.window.menus["&Choose"].actions()
