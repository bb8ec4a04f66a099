"""What is put on a sheet is written with the places of the layout, so that nothing else jumps."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from app import acts
from app.scene.geometry import SheetGeometry, lay_out
from model.circuit import Circuit, Part, Route, Sheet
from model.editing import Spot, insert_part
from model.file import load
from model.kinds import KINDS
from model.layout.card import card
from model.layout.sizes import ROOMY, Sizes

HORN = Path(__file__).parents[2] / "assets" / "examples" / "horn.voltwalk"


def _unplaced() -> tuple[Circuit, SheetGeometry]:
    """The horn circuit without any place, and its layout."""
    bare = replace(load(HORN).circuit, sheets={"s1": Sheet("s1")})
    return bare, lay_out(bare, bare.sheets["s1"], SheetGeometry())


def _placed() -> tuple[Circuit, Sheet]:
    """The horn circuit with places in the file, so near to each other that large cards overlap."""
    circuit, shown = _unplaced()
    near = {k: replace(p, x=acts.snapped(p.x * 0.6)) for k, p in shown.places.items()}
    sheet = replace(shown.sheet, places=near)
    return replace(circuit, sheets={sheet.id: sheet}), sheet


def test_a_new_part_leaves_the_others_where_the_layout_put_them() -> None:
    circuit, shown = _unplaced()
    sheet = circuit.sheets[shown.sheet.id]
    change, part_id = acts.placed(circuit, sheet, KINDS["lamp"], (4000, 4000), shown)
    after = change.apply(circuit)
    places = after.sheets[sheet.id].places
    assert {k: places[k] for k in shown.places} == dict(shown.places)
    assert [(p.x, p.y) for p in places.values() if p.part == part_id] == [(4000, 4000)]
    assert change.revert(after) == circuit


def test_kept_bends_leave_all_where_the_layout_put_it() -> None:
    circuit, shown = _unplaced()
    sheet = circuit.sheets[shown.sheet.id]
    wire = next(iter(circuit.wires))
    change = acts.kept_route(circuit, sheet, shown, wire, ((0.0, 10.0),))
    after = change.apply(circuit).sheets[sheet.id]
    assert after.places == shown.places
    assert after.routes == {wire: Route(wire, ((0.0, 10.0),))}
    gone = acts.kept_route(change.apply(circuit), after, shown, wire, ())
    assert gone.apply(change.apply(circuit)).sheets[sheet.id].routes == {}


def test_where_another_layout_stands_in_what_is_put_in_line_brings_it_along() -> None:
    circuit, sheet = _placed()
    shown = lay_out(circuit, sheet, SheetGeometry(), sizes=ROOMY)
    assert shown.stood_in
    wire = max(shown.wires, key=lambda k: abs(shown.wires[k][-1][0] - shown.wires[k][0][0]))
    way = shown.wires[wire]
    middle = ((way[0][0] + way[1][0]) / 2, (way[0][1] + way[1][1]) / 2)
    new = Part("p99", "fuse-blade", "F99")
    edit = insert_part(circuit, wire, new, shown.sheet, Spot(middle, way, sheet.id, ROOMY))
    change = acts.with_places(circuit, sheet, shown, edit.change)
    after = change.apply(circuit)
    places = after.sheets[sheet.id].places
    assert {k: places[k] for k in shown.places} == dict(shown.places)
    assert {p.part for p in places.values()} - {p.part for p in shown.places.values()} == {"p99"}
    assert change.revert(after) == circuit
    assert change.label == edit.change.label


def test_a_change_that_places_nothing_is_left_alone() -> None:
    circuit, shown = _unplaced()
    sheet = circuit.sheets[shown.sheet.id]
    change = acts.loose_wire(circuit)
    assert acts.with_places(circuit, sheet, shown, change) is change


@pytest.mark.parametrize("sizes", [None, ROOMY])
def test_room_is_found_for_the_card_as_it_is_shown(sizes: Sizes | None) -> None:
    circuit, sheet = _placed()
    shown = lay_out(circuit, sheet, SheetGeometry(), sizes=sizes)
    kind = KINDS["lamp"]
    x, y = acts.free_spot(circuit, shown, kind, (300.0, 100.0), sizes)
    area = card(circuit, Part("new", "lamp", "X1"), sizes=sizes).outer.moved(x, y)
    held = [shown.cards[k].outer.moved(p.x, p.y) for k, p in shown.places.items()]
    assert not any(area.overlaps(h) for h in held)
