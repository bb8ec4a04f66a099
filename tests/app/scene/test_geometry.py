"""Geometry of a sheet: automatic places stay put, wires that nothing concerns keep their way."""

from __future__ import annotations

from pathlib import Path

import pytest

pytest.importorskip("PySide6")

from app import acts
from app.scene.geometry import SheetGeometry, lay_out
from model.circuit import Circuit, Sheet
from model.edits import delete, set_rating
from model.file import load

CIRCUITS = Path(__file__).parents[2] / "circuits"
SHEET = Sheet("s1", "Sheet 1")


@pytest.fixture(scope="module")
def pump() -> tuple[Circuit, SheetGeometry]:
    """Return the pump circuit and its first layout."""
    circuit = load(CIRCUITS / "C01.voltwalk").circuit
    return circuit, lay_out(circuit, SHEET, SheetGeometry())


def _id(circuit: Circuit, reference: str) -> str:
    return next(p.id for p in circuit.parts.values() if p.reference == reference)


def test_every_part_has_a_place_and_every_wire_runs_from_end_to_end(
    pump: tuple[Circuit, SheetGeometry],
) -> None:
    circuit, geometry = pump
    assert {p.part for p in geometry.places.values()} == set(circuit.parts)
    assert geometry.auto == set(geometry.places)
    for wire in circuit.wires.values():
        points = geometry.wires[wire.id]
        for end, point in ((wire.first, points[0]), (wire.second, points[-1])):
            assert end is not None
            key, place = next((k, p) for k, p in geometry.places.items() if p.part == end.part)
            spots = geometry.cards[key].ports[end.node[1]].spots
            assert point in {(place.x + s.x, place.y + s.y) for s in spots}


def test_nothing_is_laid_out_anew_for_a_rating(pump: tuple[Circuit, SheetGeometry]) -> None:
    circuit, geometry = pump
    other = set_rating(circuit, _id(circuit, "F1"), "rating_a", 10.0).apply(circuit)
    assert lay_out(other, SHEET, geometry) is geometry


def test_a_moved_part_takes_its_wires_along_and_leaves_the_others(
    pump: tuple[Circuit, SheetGeometry],
) -> None:
    circuit, geometry = pump
    pump_id = _id(circuit, "M1")
    change = acts.moved(circuit, SHEET, geometry, [pump_id], (40.0, 60.0))
    assert change is not None
    after = change.apply(circuit)
    moved = lay_out(after, after.sheets["s1"], geometry)
    ours = {w.id for w in circuit.wires.values() if pump_id in (w.first.part, w.second.part)}  # type: ignore[union-attr]
    changed = {k for k in geometry.wires if moved.wires[k] != geometry.wires[k]}
    assert ours <= changed
    assert len(changed) <= len(ours) + 2  # those in the way of the card are laid anew too


def test_the_automatic_places_are_kept_with_the_first_that_a_person_moves(
    pump: tuple[Circuit, SheetGeometry],
) -> None:
    circuit, geometry = pump
    change = acts.moved(circuit, SHEET, geometry, [_id(circuit, "M1")], (10.0, 0.0))
    assert change is not None
    after = change.apply(circuit)
    places = after.sheets["s1"].places
    assert len(places) == len(circuit.parts)
    assert [p.part for p in places.values() if p.pinned] == [_id(circuit, "M1")]
    assert change.revert(after) == circuit


def test_a_deleted_part_leaves_with_its_wires(pump: tuple[Circuit, SheetGeometry]) -> None:
    circuit, geometry = pump
    after = delete(circuit, [_id(circuit, "K1")]).apply(circuit)
    left = lay_out(after, SHEET, geometry)
    assert set(left.wires) == set(after.wires)
    assert len(left.places) == len(after.parts)
    kept = {k: p for k, p in geometry.places.items() if p.part in after.parts}
    assert dict(left.places) == kept


def test_while_dragging_labels_of_moving_wires_are_left_out(
    pump: tuple[Circuit, SheetGeometry],
) -> None:
    circuit, geometry = pump
    change = acts.moved(circuit, SHEET, geometry, [_id(circuit, "M1")], (40.0, 60.0))
    assert change is not None
    after = change.apply(circuit)
    quick = lay_out(after, after.sheets["s1"], geometry, quick=True)
    moving = {k for k in quick.wires if quick.wires[k] != geometry.wires[k]}
    assert moving
    assert not moving & set(quick.labels)
    full = lay_out(after, after.sheets["s1"], quick)
    assert set(full.labels) >= moving
    assert (full.sheet, full.cards, full.auto) == (quick.sheet, quick.cards, quick.auto)
    for key, points in quick.wires.items():
        assert (full.wires[key][0], full.wires[key][-1]) == (points[0], points[-1])
        assert key in moving or full.wires[key] == points


def test_what_a_dragged_part_pushes_aside_goes_back_when_it_has_passed(
    pump: tuple[Circuit, SheetGeometry],
) -> None:
    circuit, geometry = pump
    shown, pushed = geometry, 0
    for step in range(1, 41):
        change = acts.moved(circuit, SHEET, geometry, [_id(circuit, "M1")], (-20.0 * step, 0.0))
        assert change is not None
        after = change.apply(circuit)
        shown = lay_out(after, after.sheets["s1"], shown, quick=True)
        pushed = max(pushed, sum(shown.wires[k] != p for k, p in geometry.wires.items()))
        assert set(shown.wires) == set(geometry.wires)
    assert pushed > 2
    assert lay_out(circuit, SHEET, shown) is geometry
