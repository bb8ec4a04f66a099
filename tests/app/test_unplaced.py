"""Files without positions: readable at once, kept as seen when saved, not rewritten by looking."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from model.circuit import Circuit
from model.edits import put, set_rating
from model.file import dumps, load, save
from tests.app.hands import Hands

ROOT = Path(__file__).parents[2]
PUMP = ROOT / "assets/examples/fuel-pump.voltwalk"
CTRL = Qt.KeyboardModifier.ControlModifier
Where = dict[str, tuple[float, float]]


@pytest.fixture
def bare(tmp_path: Path) -> Path:
    """A file of the pump circuit without any position."""
    path = tmp_path / "pump.voltwalk"
    shutil.copy(PUMP, path)
    assert not any(s.places for s in load(path).circuit.sheets.values())
    return path


def opened(hands: Hands, path: Path) -> None:
    assert hands.window.files.open_file(path)
    hands.settle()


def seen(hands: Hands) -> Where:
    """Return where each part stands on the sheet shown."""
    return {p.part: (p.x, p.y) for p in hands.window.scene.geometry.places.values()}


def filed(circuit: Circuit) -> Where:
    return {p.part: (p.x, p.y) for s in circuit.sheets.values() for p in s.places.values()}


def change_a_rating(hands: Hands) -> None:
    pump = hands.part("M1").id
    hands.window.session.do(set_rating(hands.circuit, pump, "current_a", 6.0))
    hands.settle()


def test_looking_changes_neither_the_document_nor_the_file(hands: Hands, bare: Path) -> None:
    before = (bare.read_bytes(), bare.stat().st_mtime_ns)
    opened(hands, bare)
    for key in ("fit", "zoom_in", "theme_projector", "theme_dark", "theme_light", "overlay_role"):
        hands.window.actions_[key].trigger()
        hands.settle()
    assert not hands.window.isWindowModified()
    assert hands.window.files.may_leave() and not hands.answers.asked
    assert (bare.read_bytes(), bare.stat().st_mtime_ns) == before


def test_saving_keeps_what_the_person_saw(hands: Hands, bare: Path) -> None:
    opened(hands, bare)
    was = seen(hands)
    change_a_rating(hands)
    assert seen(hands) == was
    hands.key(Qt.Key.Key_S, CTRL)
    assert not hands.window.isWindowModified()
    kept = load(bare).circuit
    assert filed(kept) == was
    assert kept.parts == hands.circuit.parts
    opened(hands, bare)
    assert seen(hands) == was


def test_a_wire_more_moves_no_part_in_the_file_that_is_saved(hands: Hands, bare: Path) -> None:
    """Laid out from nothing, the circuit with one wire more would be another drawing."""
    opened(hands, bare)
    was = seen(hands)
    wire = replace(hands.wire("W3"), id="w99", number="W99")
    hands.window.session.do(put(hands.circuit, "wires", wire, "More"))
    hands.settle()
    hands.key(Qt.Key.Key_S, CTRL)
    assert filed(load(bare).circuit) == was


def test_positions_kept_by_saving_are_no_step_of_undo(hands: Hands, bare: Path) -> None:
    opened(hands, bare)
    change_a_rating(hands)
    hands.key(Qt.Key.Key_S, CTRL)
    assert hands.window.session.undo.count() == 1
    was = seen(hands)
    hands.undo()
    assert seen(hands) == was and hands.window.isWindowModified()
    hands.redo()
    assert not hands.window.isWindowModified()


def test_a_file_with_all_its_positions_is_saved_byte_for_byte(
    hands: Hands, tmp_path: Path, bare: Path
) -> None:
    opened(hands, bare)
    hands.key(Qt.Key.Key_S, CTRL)
    first = bare.read_bytes()
    opened(hands, bare)
    hands.key(Qt.Key.Key_S, CTRL)
    assert bare.read_bytes() == first


@pytest.mark.parametrize("theme", ["light", "projector"])
def test_a_part_without_a_place_gets_the_one_it_is_seen_at_and_no_other_moves(
    hands: Hands, bare: Path, theme: str
) -> None:
    opened(hands, bare)
    hands.key(Qt.Key.Key_S, CTRL)
    kept = load(bare).circuit
    before = filed(kept)
    sheet = next(iter(kept.sheets.values()))
    pump = hands.part("M1").id
    left = {k: p for k, p in sheet.places.items() if p.part != pump}
    save(replace(kept, sheets={sheet.id: replace(sheet, places=left)}), bare)
    hands.window.actions_[f"theme_{theme}"].trigger()
    opened(hands, bare)
    hands.key(Qt.Key.Key_S, CTRL)
    after = filed(load(bare).circuit)
    assert {k: v for k, v in after.items() if k != pump} == {
        k: v for k, v in before.items() if k != pump
    }
    if theme == "light":
        assert after[pump] == seen(hands)[pump]


def test_a_drawing_that_is_exported_is_the_one_that_is_seen(
    hands: Hands, bare: Path, tmp_path: Path
) -> None:
    opened(hands, bare)
    change_a_rating(hands)
    wire = replace(hands.wire("W3"), id="w99", number="W99")
    hands.window.session.do(put(hands.circuit, "wires", wire, "More"))
    hands.settle()
    hands.window.ask.draw_path = lambda *_: tmp_path / "one.svg"  # type: ignore[method-assign]
    hands.window.actions_["export"].trigger()
    hands.window.session.saved(bare)
    save(hands.window.files._as_seen(), bare)
    opened(hands, bare)
    hands.window.ask.draw_path = lambda *_: tmp_path / "two.svg"  # type: ignore[method-assign]
    hands.window.actions_["export"].trigger()
    assert (tmp_path / "one.svg").read_text() == (tmp_path / "two.svg").read_text()


def test_a_blank_sheet_stays_blank(hands: Hands, tmp_path: Path) -> None:
    before = dumps(hands.circuit)
    hands.answers.path = tmp_path / "blank.voltwalk"
    hands.key(Qt.Key.Key_S, CTRL)
    assert dumps(load(tmp_path / "blank.voltwalk").circuit) == before
