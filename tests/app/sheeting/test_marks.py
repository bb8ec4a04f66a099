"""Wires that leave a sheet: a mark says where they go, clear of cards, in every output."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from pathlib import Path

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtTest import QTest

from app import files
from app.export import export
from app.scene.geometry import SheetGeometry, lay_out
from model.circuit import Circuit, Sheet
from model.editing import move_to_sheet, rename_sheet
from model.edits import set_wire
from model.file import load
from model.lookup import kind_of
from tests.app.hands import LEFT, NONE, Hands


def split(circuit: Circuit) -> Circuit:
    """Return a circuit with its loads and ground points on a second sheet."""
    first = next(iter(circuit.sheets.values()), Sheet("s1", "Sheet 1"))
    shown = lay_out(circuit, first, SheetGeometry()).sheet
    far = [p.id for p in circuit.parts.values() if kind_of(circuit, p).family in ("load", "ground")]
    return move_to_sheet(circuit, shown, far).change.apply(circuit)


EXAMPLES = sorted(files.EXAMPLES.glob("*.voltwalk"))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_every_wire_is_whole_or_marked_and_marks_are_clear(path: Path) -> None:
    circuit = split(load(path).circuit)
    seen = set()
    for sheet in circuit.sheets.values():
        geometry = lay_out(circuit, sheet, SheetGeometry())
        here = {p.part for p in geometry.places.values()}
        here |= {k for k, p in circuit.parts.items() if p.host in here}
        for key, wire in circuit.wires.items():
            ends = [e.part in here for e in (wire.first, wire.second) if e]
            whole = len(ends) == 2 and all(ends)
            assert (key in geometry.marks) == (len(ends) == 2 and any(ends) and not whole)
            seen |= {key} if any(ends) else set()
        rects = [m.rect for m in geometry.marks.values()]
        assert not any(a.overlaps(b) for a, b in combinations(rects, 2))
        for key, card in geometry.cards.items():
            place = geometry.places[key]
            body = card.body.moved(place.x, place.y)
            assert not any(body.overlaps(r) for r in rects)
    assert seen == set(circuit.wires)


def test_a_mark_names_sheet_and_terminal_and_follows_a_new_name(hands: Hands) -> None:
    hands.window.files.show_circuit(split(load(files.EXAMPLES / "fuel-pump.voltwalk").circuit))
    hands.settle()
    scene = hands.window.scene
    texts = {m.text for m in scene.geometry.marks.values()}
    assert "W3 → Sheet 2, M1.+" in texts
    hands.window.session.do(rename_sheet(hands.circuit, "s2", "Tail").change)
    assert "W3 → Tail, M1.+" in {m.text for m in scene.geometry.marks.values()}


def test_a_double_click_on_a_mark_goes_there_and_the_key_back(hands: Hands) -> None:
    hands.window.files.show_circuit(split(load(files.EXAMPLES / "fuel-pump.voltwalk").circuit))
    hands.settle()
    wire = hands.wire("W3")
    rect = hands.window.scene.geometry.marks[wire.id].rect
    at = hands.window.view.mapFromScene(QPointF(rect.x + rect.w / 2, rect.y + rect.h / 2))
    QTest.mouseDClick(hands.window.view.viewport(), LEFT, NONE, at)
    hands.settle()
    assert hands.window.session.sheet.id == "s2"
    assert hands.window.session.selection == {wire.id}
    hands.window.view.setFocus()
    hands.key(Qt.Key.Key_F7)
    assert hands.window.session.sheet.id == "s1"


def test_a_mark_follows_its_part_while_it_is_dragged(hands: Hands) -> None:
    hands.window.files.show_circuit(split(load(files.EXAMPLES / "fuel-pump.voltwalk").circuit))
    hands.settle()
    key = hands.wire("W3").id
    before = hands.window.scene.geometry.marks[key].rect
    hands.drag(hands.at_part("K1"), hands.at_part("K1") + hands.at_scene(0, 100)
               - hands.at_scene(0, 0))  # fmt: skip
    geometry = hands.window.scene.geometry
    after = geometry.marks[key].rect
    assert after.y == before.y + 100
    assert geometry.wires[key] == geometry.marks[key].path.points
    hands.undo()
    assert hands.window.scene.geometry.marks[key].rect == before


def test_a_drawing_in_a_file_has_the_marks(tmp_path: Path) -> None:
    circuit = split(load(files.EXAMPLES / "fuel-pump.voltwalk").circuit)
    out = tmp_path / "one.svg"
    export(circuit, out)
    text = out.read_text(encoding="utf-8")
    assert "→ Sheet 2, M1.+" in text


def test_a_part_with_a_wire_that_is_open_can_be_dragged(hands: Hands) -> None:
    circuit = load(files.EXAMPLES / "fuel-pump.voltwalk").circuit
    wire = next(w for w in circuit.wires.values() if w.number == "W3")
    hands.window.files.show_circuit(set_wire(circuit, replace(wire, second=None)).apply(circuit))
    hands.settle()
    down = hands.at_scene(0, 100) - hands.at_scene(0, 0)
    before = hands.window.scene.geometry.wires[wire.id]
    hands.drag(hands.at_part("K1"), hands.at_part("K1") + down)
    assert hands.window.scene.geometry.wires[wire.id][0] == (before[0][0], before[0][1] + 100)
