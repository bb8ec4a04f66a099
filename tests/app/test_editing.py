"""Editing in the window by keys: clipboard, arranging, selecting, finding, replacing, bulk."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app import acts
from app.session import Session
from app.window import Window
from model.file import dumps
from model.lookup import kind_of, rating
from tests.app.editing import choose, horn_in, places, selected, to_front, whole_undo
from tests.app.hands import Answers, Hands

CONTROL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
ALT = Qt.KeyboardModifier.AltModifier
K = Qt.Key


@pytest.fixture
def horn(hands: Hands) -> Hands:
    """Hands on the horn circuit with its relay selected."""
    return horn_in(hands)


@pytest.fixture
def second(qtbot: QtBot, tmp_path: Path) -> Iterator[Hands]:
    """Hands on another window with a blank sheet."""
    answers = Answers()
    window = Window(Session(acts.blank()), answers)
    window.show()
    qtbot.waitExposed(window)
    made = Hands(qtbot, window, answers, tmp_path)
    yield made
    answers.unsaved_answer = "leave"
    window.close()
    window.deleteLater()
    made.flush()


def test_copy_and_paste_across_windows_and_as_text(horn: Hands, second: Hands) -> None:
    to_front(horn)
    choose(horn, "K1", "F1")
    horn.key(K.Key_C, CONTROL)
    text = QGuiApplication.clipboard().text()
    assert '"relay' in text and "voltwalk" in text
    to_front(second)
    second.key(K.Key_V, CONTROL)
    assert sorted(p.reference for p in second.circuit.parts.values()) == ["F1", "K1"]
    assert selected(second) >= {"F1", "K1"}
    second.key(K.Key_Z, CONTROL)
    assert not second.circuit.parts


def test_pasted_text_that_is_none_of_ours_is_refused(horn: Hands) -> None:
    before = dumps(horn.circuit)
    QGuiApplication.clipboard().setText("Dear all, please find attached")
    horn.key(K.Key_V, CONTROL)
    assert dumps(horn.circuit) == before
    assert horn.window.notice.isVisible()
    assert horn.window.notice.text().endswith(".")


def test_cut_and_paste_brings_it_back(horn: Hands) -> None:
    before = dumps(horn.circuit)
    count = len(horn.circuit.parts)
    choose(horn, "K1")
    horn.key(K.Key_X, CONTROL)
    assert len(horn.circuit.parts) == count - 1
    assert not selected(horn)
    horn.key(K.Key_V, CONTROL)
    assert len(horn.circuit.parts) == count
    horn.undo()
    whole_undo(horn, before)


def test_duplicate_stands_over_no_other_card(horn: Hands) -> None:
    before = dumps(horn.circuit)
    choose(horn, "K1", "F1")
    horn.key(K.Key_D, CONTROL)
    shown = horn.window.scene.geometry
    cards = [shown.cards[k].outer.moved(p.x, p.y) for k, p in shown.places.items()]
    assert len(selected(horn) & {p.reference for p in horn.circuit.parts.values()}) >= 2
    assert not any(a.overlaps(b) for i, a in enumerate(cards) for b in cards[i + 1 :])
    whole_undo(horn, before)


def test_a_field_keeps_its_own_copy_and_paste(horn: Hands) -> None:
    horn.key(K.Key_F2)
    field = QApplication.focusWidget()
    assert field is not None
    QTest.keyClick(field, K.Key_A, CONTROL)
    QTest.keyClick(field, K.Key_C, CONTROL)
    assert QGuiApplication.clipboard().text() == "K1"


@pytest.mark.parametrize(
    ("key", "axis", "same"),
    [
        (K.Key_C, 0, True),
        (K.Key_M, 1, True),
    ],
)
def test_cards_are_aligned_by_key(horn: Hands, key: Qt.Key, axis: int, same: bool) -> None:
    before = dumps(horn.circuit)
    choose(horn, "K1", "F1")
    (a, b) = places(horn, "K1", "F1")
    assert a[0] != b[0] and a[1] != b[1], "the test needs cards apart"
    horn.key(key, CONTROL | ALT)
    (a, b) = places(horn, "K1", "F1")
    assert abs(a[axis] - b[axis]) <= 10
    whole_undo(horn, before)


def test_three_cards_are_spaced_alike(horn: Hands) -> None:
    names = [p.reference for p in horn.circuit.parts.values()][:3]
    choose(horn, *names)
    horn.key(K.Key_H, CONTROL | ALT)
    shown = horn.window.scene.geometry
    spans = sorted(
        (shown.cards[k].body.moved(p.x, p.y).x, shown.cards[k].body.w)
        for k, p in shown.places.items()
        if horn.circuit.parts[p.part].reference in names
    )
    gaps = [b[0] - a[0] - a[1] for a, b in itertools.pairwise(spans)]
    assert max(gaps) - min(gaps) <= 20


def test_too_few_cards_are_told(horn: Hands) -> None:
    choose(horn, "K1")
    horn.key(K.Key_H, CONTROL | ALT)
    assert "at least 3 parts" in horn.window.notice.text()


def test_turning_back_undoes_turning_and_mirroring_twice_is_nothing(horn: Hands) -> None:
    choose(horn, "K1")
    key = next(k for k, p in horn.window.scene.geometry.places.items()
               if p.part == horn.part("K1").id)  # fmt: skip

    def pose() -> tuple[int, bool]:
        place = horn.window.scene.geometry.places[key]
        return place.turn, place.mirrored

    start = pose()
    horn.key(K.Key_Period)
    assert pose() == ((start[0] + 90) % 360, start[1])
    horn.key(K.Key_Comma)
    assert pose() == start
    horn.key(K.Key_M, CONTROL)
    assert pose()[1] is not start[1]
    horn.key(K.Key_M, CONTROL)
    assert pose() == start


def test_tidying_is_one_step_of_undo(horn: Hands) -> None:
    before = dumps(horn.circuit)
    steps = horn.window.session.undo.count()
    horn.key(K.Key_T, CONTROL)
    assert horn.window.session.undo.count() == steps + 1
    assert horn.window.session.undo.undoText() == "Tidy the sheet"
    whole_undo(horn, before)


def test_selecting_by_what_belongs_together(horn: Hands) -> None:
    choose(horn, "F1")
    horn.key(K.Key_F, CONTROL | SHIFT)
    assert {"F1", "K1"} <= selected(horn)
    assert not {"BAT", "G1"} & selected(horn)
    choose(horn, "K1")
    horn.key(K.Key_J, CONTROL)
    assert "K1" in selected(horn) and any(n.startswith("W") for n in selected(horn))
    wires = {w.number for w in horn.circuit.wires.values()}
    horn.key(K.Key_A, CONTROL | SHIFT)
    assert "K1" not in selected(horn)
    assert selected(horn) & wires


def test_what_is_no_fuse_is_told(horn: Hands) -> None:
    choose(horn, "K1")
    horn.key(K.Key_F, CONTROL | SHIFT)
    assert "no fuse" in horn.window.notice.text()


def test_finding_as_one_types_and_from_hit_to_hit(horn: Hands) -> None:
    horn.key(K.Key_F, CONTROL)
    bar = horn.window.chooses.bar
    assert bar.isVisible() and bar.edit.hasFocus()
    QTest.keyClicks(bar.edit, "K1")
    assert selected(horn) == {"K1"}
    assert bar.said.text().startswith("1 of ")
    bar.edit.selectAll()
    QTest.keyClicks(bar.edit, "W0")
    first = selected(horn)
    QTest.keyClick(bar.edit, K.Key_Return)
    second = selected(horn)
    assert first != second
    horn.key(K.Key_F3, SHIFT)
    assert selected(horn) == first
    QTest.keyClick(bar.edit, K.Key_Escape)
    assert bar.isHidden() and horn.window.view.hasFocus()
    horn.key(K.Key_F3)
    assert selected(horn) == second


def test_finding_selects_all_and_says_when_there_is_none(horn: Hands) -> None:
    horn.key(K.Key_F, CONTROL)
    bar = horn.window.chooses.bar
    QTest.keyClicks(bar.edit, "red")
    QTest.mouseClick(bar.extra, Qt.MouseButton.LeftButton)
    reds = {w.number for w in horn.circuit.wires.values() if w.colour == "RD"}
    assert reds and reds <= selected(horn)
    bar.edit.selectAll()
    QTest.keyClicks(bar.edit, "zzz")
    assert "Nothing" in bar.said.text()


def test_a_part_is_replaced_and_keeps_what_fits(horn: Hands) -> None:
    before = dumps(horn.circuit)
    joins = horn.joins()
    choose(horn, "F1")
    horn.key(K.Key_H, CONTROL)
    bar = horn.window.clips.replace_bar
    QTest.keyClicks(bar.edit, "strip fuse")
    assert "Strip fuse" in bar.said.text()
    QTest.keyClick(bar.edit, K.Key_Return)
    horn.settle()
    part = horn.part("F1")
    assert kind_of(horn.circuit, part).key == "fuse-strip"
    assert rating(horn.circuit, part, "rating_a").number == 15
    assert horn.joins() == joins
    assert bar.isHidden()
    whole_undo(horn, before)


def test_a_word_that_names_no_kind_is_told_in_the_bar(horn: Hands) -> None:
    choose(horn, "F1")
    horn.key(K.Key_H, CONTROL)
    bar = horn.window.clips.replace_bar
    QTest.keyClicks(bar.edit, "qqqq")
    QTest.keyClick(bar.edit, K.Key_Return)
    assert "no kind" in bar.said.text()
    assert bar.isVisible()


def test_all_that_is_selected_is_changed_in_one_step(horn: Hands) -> None:
    before = dumps(horn.circuit)
    wires = [w.number for w in horn.circuit.wires.values()][:3]
    choose(horn, *wires)
    steps = horn.window.session.undo.count()
    horn.key(K.Key_G, CONTROL)
    bar = horn.window.clips.change_bar
    QTest.keyClicks(bar.edit, "4 mm² GN 1,5 m")
    assert not bar.said.property("wrong")
    QTest.keyClick(bar.edit, K.Key_Return)
    horn.settle()
    for number in wires:
        wire = horn.wire(number)
        assert (wire.size.text() if wire.size else "", wire.colour) == ("4 mm²", "GN")
        assert wire.length_m == 1.5
    assert horn.window.session.undo.count() == steps + 1
    whole_undo(horn, before)


def test_a_change_that_one_of_them_refuses_changes_none(horn: Hands) -> None:
    before = dumps(horn.circuit)
    choose(horn, "F1", "K1")
    horn.key(K.Key_G, CONTROL)
    bar = horn.window.clips.change_bar
    QTest.keyClicks(bar.edit, "5 bar")
    QTest.keyClick(bar.edit, K.Key_Return)
    assert dumps(horn.circuit) == before
    assert bar.said.property("wrong")


def test_a_part_in_a_wire_is_deleted_and_the_wire_joined_again(horn: Hands) -> None:
    choose(horn, "F1")
    wires = len(horn.circuit.wires)
    horn.key(K.Key_Delete, SHIFT)
    assert "F1" not in {p.reference for p in horn.circuit.parts.values()}
    assert len(horn.circuit.wires) == wires - 1


def test_wires_are_numbered_anew_in_one_step(horn: Hands) -> None:
    before = dumps(horn.circuit)
    choose(horn, "K1")
    horn.window.session.select(frozenset())
    horn.window.actions_["number_wires"].trigger()
    horn.settle()
    numbers = {w.number for w in horn.circuit.wires.values()}
    assert numbers == {f"W{i}" for i in range(1, len(numbers) + 1)}
    whole_undo(horn, before)


def test_operate_changes_nothing(horn: Hands) -> None:
    before = dumps(horn.circuit)
    QGuiApplication.clipboard().setText("")
    choose(horn, "K1", "F1")
    horn.key(K.Key_F6)
    for key in (K.Key_X, K.Key_D, K.Key_M, K.Key_T):
        horn.key(key, CONTROL)
        assert dumps(horn.circuit) == before
    assert "F5" in horn.window.notice.text()


def test_no_mnemonic_twice_in_a_menu() -> None:
    from app.actions import ACTIONS

    for menu in {spec.menu for spec in ACTIONS}:
        letters = [
            s.text[s.text.index("&") + 1].casefold()
            for s in ACTIONS
            if s.menu == menu and "&" in s.text
        ]
        assert len(letters) == len(set(letters)), (menu, sorted(letters))
