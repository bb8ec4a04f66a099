"""Recent files, several windows, files dropped on a window."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QMimeData, QPoint, Qt, QUrl
from PySide6.QtGui import QAction, QDragEnterEvent, QDropEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.ask import LEAVE
from app.desk import Desk
from app.recent import known, note
from app.window import Window
from tests.app.hands import Answers, Hands

CIRCUITS = Path(__file__).parents[1] / "circuits"
HORN, PUMP = CIRCUITS / "C07.voltwalk", CIRCUITS / "C01.voltwalk"
CONTROL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier


@pytest.fixture
def desk(qtbot: QtBot) -> Iterator[Desk]:
    """Return a desk with one window shown; every window is gone afterwards."""
    answers = Answers()
    made = Desk(ask=answers)
    made.open().show()
    QApplication.processEvents()
    yield made
    answers.unsaved_answer = LEAVE
    made.clear()
    _flush()


def _flush() -> None:
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    QApplication.processEvents()


def _menu(window: Window) -> list[QAction]:
    menu = window.around.recent
    menu.fill()
    return menu.actions()


def _drop(window: Window, *paths: Path) -> bool:
    """Drag files onto the window and let go; return whether the window would take them."""
    mime = QMimeData()
    mime.setUrls([QUrl.fromLocalFile(str(p)) for p in paths])
    way = (Qt.DropAction.CopyAction, mime, Qt.MouseButton.LeftButton)
    keys = Qt.KeyboardModifier.NoModifier
    at = QPoint(500, 400)
    enter = QDragEnterEvent(at, *way, keys)
    enter.setAccepted(False)
    QApplication.sendEvent(window, enter)
    if enter.isAccepted():
        QApplication.sendEvent(window, QDropEvent(at, *way, keys))
    window.session.schedule.flush()
    return enter.isAccepted()


def test_files_opened_and_saved_are_offered_the_newest_first(hands: Hands) -> None:
    assert [a.text() for a in _menu(hands.window)] == ["No file yet"]
    for path in (HORN, PUMP, HORN):
        hands.window.files.open_file(path)
    hands.answers.path = hands.folder / "mine.voltwalk"
    hands.key(Qt.Key.Key_S, CONTROL | SHIFT)
    names = [a.text() for a in _menu(hands.window)]
    assert names == ["&1  mine.voltwalk", "&2  C07.voltwalk", "&3  C01.voltwalk"]
    _menu(hands.window)[2].trigger()
    hands.settle()
    assert hands.window.session.path == PUMP


def test_a_file_that_is_gone_is_not_offered_and_ten_are_kept(hands: Hands) -> None:
    keep = hands.window.keep
    for i in range(13):
        path = hands.folder / f"{i}.voltwalk"
        path.write_text("{}")
        note(keep, path)
    assert [p.name for p in known(keep)] == [f"{i}.voltwalk" for i in range(12, 2, -1)]
    (hands.folder / "12.voltwalk").unlink()
    assert known(keep)[0].stem == "11"


def test_two_files_of_one_name_are_told_apart(hands: Hands) -> None:
    for folder in ("a", "b"):
        path = hands.folder / folder / "x.voltwalk"
        path.parent.mkdir()
        path.write_text("{}")
        note(hands.window.keep, path)
    assert [str(hands.folder / f) in a.text() for f, a in
            zip("ba", _menu(hands.window), strict=True)] == [True, True]  # fmt: skip


def test_unsaved_work_is_asked_about_before_a_recent_file_opens(hands: Hands) -> None:
    note(hands.window.keep, HORN)
    hands.from_tray("Battery", 0, 0)
    before = hands.circuit
    _menu(hands.window)[0].trigger()
    assert hands.answers.asked == ["unsaved"]
    assert hands.circuit is before


def test_a_new_window_has_a_circuit_of_its_own_and_the_same_look(desk: Desk) -> None:
    (first,) = desk.windows
    first.session.look_at(theme="dark")
    QTest.keyClick(first.view, Qt.Key.Key_N, CONTROL | SHIFT)
    second = desk.windows[1]
    assert second.isVisible()
    assert second.session.look.theme.name == "dark"
    second.files.open_file(HORN)
    assert not first.session.circuit.parts
    assert [p.name for p in known(first.keep)] == ["C07.voltwalk"]
    second.close()
    _flush()
    assert desk.windows == [first]
    assert first.isVisible()


def test_each_window_undoes_its_own(desk: Desk) -> None:
    desk._on_another(desk.windows[0], HORN)
    first, second = desk.windows
    wire = next(iter(second.session.circuit.wires))
    second.session.select(frozenset({wire}))
    second.edits.do_delete()
    assert (first.session.undo.count(), second.session.undo.count()) == (0, 1)
    second.edits.do_undo()
    assert wire in second.session.circuit.wires


def test_the_last_window_closed_lets_every_window_go(desk: Desk) -> None:
    QTest.keyClick(desk.windows[0].view, Qt.Key.Key_N, CONTROL | SHIFT)
    assert QApplication.quitOnLastWindowClosed()
    desk.close()
    _flush()
    assert desk.windows == []
    assert not [w for w in QApplication.topLevelWidgets() if isinstance(w, Window)]


def test_a_sentence_is_told_in_a_window_that_is_open(desk: Desk) -> None:
    desk.tell("something")
    assert desk.windows[0].notice.text() == "something"


def test_a_file_dropped_on_a_clean_window_opens_there_others_beside_it(desk: Desk) -> None:
    (first,) = desk.windows
    assert _drop(first, HORN, PUMP)
    assert [w.session.path for w in desk.windows] == [HORN, PUMP]


def test_a_file_dropped_on_unsaved_work_opens_beside_it_without_a_question(desk: Desk) -> None:
    (first,) = desk.windows
    first.edits.place("battery")
    assert _drop(first, HORN)
    assert len(first.session.circuit.parts) == 1
    assert [w.session.path for w in desk.windows] == [None, HORN]
    assert isinstance(desk.ask, Answers)
    assert desk.ask.asked == []


def test_what_is_no_circuit_is_not_taken(desk: Desk, tmp_path: Path) -> None:
    other = tmp_path / "x.txt"
    other.write_text("x")
    assert not _drop(desk.windows[0], other)


def test_the_sheet_does_not_keep_a_dropped_file_from_the_window(desk: Desk) -> None:
    view = desk.windows[0].view
    assert desk.windows[0].acceptDrops()
    assert not view.acceptDrops()
    assert not view.viewport().acceptDrops()


def test_a_file_open_in_two_windows_is_told_at_opening_and_at_saving(
    desk: Desk, tmp_path: Path
) -> None:
    path = tmp_path / "twice.voltwalk"
    path.write_bytes(HORN.read_bytes())
    (first,) = desk.windows
    first.files.open_file(path)
    assert not first.notice.text()
    _drop(first, path)
    assert not first.notice.text()
    first.another.emit(first, path)
    second = desk.windows[1]
    assert "twice.voltwalk is open in another window too" in second.notice.text()
    second.tell("")
    assert second.files.do_save()
    assert "what is saved last is kept" in second.notice.text()
    first.close()
    _flush()
    assert second.files.do_save()
    assert not second.notice.text()


def test_a_recent_file_that_went_while_the_menu_was_open_is_told(hands: Hands) -> None:
    path = hands.folder / "gone.voltwalk"
    path.write_bytes(HORN.read_bytes())
    hands.window.files.open_file(path)
    hands.window.files.do_new()
    (entry,) = _menu(hands.window)
    path.unlink()
    entry.trigger()
    hands.settle()
    assert "gone.voltwalk" in hands.window.notice.text()
    assert not hands.circuit.parts
