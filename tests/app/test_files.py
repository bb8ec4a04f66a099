"""Saving, opening, leaving: the file is the same byte for byte, a bad one touches nothing."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from app.ask import LEAVE, SAVE, STAY
from tests.app.hands import Hands

CONTROL = Qt.KeyboardModifier.ControlModifier


def _drawn(hands: Hands) -> Path:
    """Draw a battery and a fuse joined by a wire; return where to save it."""
    hands.from_tray("Battery", -200, 0)
    hands.from_tray("Blade fuse", 100, 0)
    hands.wire_up("G1.+", "F1.1")
    hands.answers.path = hands.folder / "feed.voltwalk"
    return hands.answers.path


def test_save_close_open_and_save_is_byte_identical(hands: Hands) -> None:
    path = _drawn(hands)
    hands.key(Qt.Key.Key_S, CONTROL)
    first, circuit = path.read_bytes(), hands.circuit
    assert not hands.window.isWindowModified()
    hands.key(Qt.Key.Key_N, CONTROL)
    assert not hands.circuit.parts
    hands.answers.path = path
    hands.key(Qt.Key.Key_O, CONTROL)
    assert hands.circuit == circuit
    hands.answers.path = hands.folder / "again.voltwalk"
    hands.key(Qt.Key.Key_S, CONTROL | Qt.KeyboardModifier.ShiftModifier)
    assert hands.answers.path.read_bytes() == first


@pytest.mark.parametrize(
    "text", ['{"voltwalk": 1, "parts": [', "[]", "", '{"voltwalk": 1, "parts": 3}', "\x00\x01"]
)
def test_a_bad_file_leaves_the_open_circuit_untouched(hands: Hands, text: str) -> None:
    path = _drawn(hands)
    hands.key(Qt.Key.Key_S, CONTROL)
    before, undo = hands.circuit, hands.window.session.undo.count()
    bad = hands.folder / "bad.voltwalk"
    bad.write_text(text)
    hands.answers.path = bad
    hands.key(Qt.Key.Key_O, CONTROL)
    assert hands.circuit is before
    assert (hands.window.session.undo.count(), hands.window.session.path) == (undo, path)
    assert hands.window.notice.isVisible()
    told = hands.window.notice.text()
    assert "bad.voltwalk" in told
    assert "\n" not in told


def test_a_folder_or_a_missing_file_is_told_in_one_sentence(hands: Hands) -> None:
    for path in (hands.folder, hands.folder / "none.voltwalk"):
        hands.answers.path = path
        hands.key(Qt.Key.Key_O, CONTROL)
        assert hands.window.notice.text()
        assert not hands.circuit.parts


def test_leaving_unsaved_work_is_asked_and_may_be_refused(hands: Hands) -> None:
    _drawn(hands)
    before = hands.circuit
    hands.answers.unsaved_answer = STAY
    hands.key(Qt.Key.Key_N, CONTROL)
    assert hands.circuit is before
    hands.answers.unsaved_answer = LEAVE
    hands.key(Qt.Key.Key_N, CONTROL)
    assert not hands.circuit.parts
    assert hands.answers.asked == ["unsaved", "unsaved"]


def test_leaving_may_save_first(hands: Hands) -> None:
    path = _drawn(hands)
    hands.answers.unsaved_answer = SAVE
    hands.key(Qt.Key.Key_N, CONTROL)
    assert path.is_file()
    assert not hands.circuit.parts


def test_a_place_that_cannot_be_written_is_told(hands: Hands) -> None:
    _drawn(hands)
    hands.answers.path = hands.folder / "no folder" / "x.voltwalk"
    hands.key(Qt.Key.Key_S, CONTROL)
    assert hands.window.notice.text()
    assert hands.window.isWindowModified()


def test_a_copy_of_a_file_without_positions_has_them_as_seen(hands: Hands) -> None:
    """All else is as it was, and the file that was looked at is not written."""
    source = Path(__file__).parents[1] / "circuits" / "C07.voltwalk"
    before = source.read_bytes()
    hands.answers.path = source
    hands.key(Qt.Key.Key_O, CONTROL)
    seen = hands.window.scene.geometry.places
    assert len(seen) == len(hands.circuit.parts)
    copy = hands.answers.path = hands.folder / "copy.voltwalk"
    hands.key(Qt.Key.Key_S, CONTROL | Qt.KeyboardModifier.ShiftModifier)
    from model.file import dumps, load

    kept = load(copy).circuit
    (sheet,) = kept.sheets.values()
    assert sheet.places == seen
    assert dumps(replace(kept, sheets={})) == dumps(replace(load(source).circuit, sheets={}))
    assert source.read_bytes() == before


@pytest.mark.parametrize("ending", ["svg", "pdf", "png"])
def test_the_sheet_is_drawn_to_a_file(hands: Hands, ending: str) -> None:
    _drawn(hands)
    out = hands.answers.path = hands.folder / f"feed.{ending}"
    hands.key(Qt.Key.Key_E, CONTROL)
    heads = {"svg": b"<?xml", "pdf": b"%PDF", "png": b"\x89PNG"}
    assert out.read_bytes().startswith(heads[ending])
    assert hands.window.notice.text() == f"Drawn to feed.{ending}."
