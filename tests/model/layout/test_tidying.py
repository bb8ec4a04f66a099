"""Tidying is one change that can be taken back, and leaves alone what is to stay."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest

from model.circuit import Circuit, Place, Route, Sheet
from model.file import load
from model.layout.card import cards
from model.layout.measure import measure
from model.layout.place import arrange
from model.layout.route import route
from model.layout.tidying import tidy
from tests.circuits import FOLDER


def strewn(name: str) -> Circuit:
    """Return a reference circuit, its cards strewn by hand, one wire's bends kept."""
    random = Random(name)
    bare = replace(load(FOLDER / f"{name}.voltwalk").circuit, sheets={"s1": Sheet("s1", "Sheet 1")})
    places = {
        p.id: replace(p, x=random.randrange(60) * 10, y=random.randrange(40) * 10, pinned=True)
        for p in arrange(bare, "s1")
    }
    wire = next(iter(bare.wires))
    sheet = Sheet("s1", "Sheet 1", places, {wire: Route(wire, ((50.0, 60.0),))})
    return replace(bare, sheets={"s1": sheet})


@pytest.mark.parametrize("name", ["C01", "C06", "C12"])
def test_a_strewn_sheet_is_tidied_in_one_change_that_can_be_taken_back(name: str) -> None:
    before = strewn(name)
    drawn = before.sheets["s1"]
    assert measure(drawn, cards(before, drawn), route(before, drawn)).overlaps
    change = tidy(before, "s1")
    assert change is not None and len(change.swaps) == 1
    after = change.apply(before)
    sheet = after.sheets["s1"]
    assert list(sheet.places) == list(drawn.places) and sheet.name == drawn.name
    assert not sheet.routes and not any(p.pinned for p in sheet.places.values())
    assert measure(sheet, cards(after, sheet), route(after, sheet)).sound
    assert change.revert(after) == before
    assert tidy(after, "s1") is None


def test_places_to_keep_stay_with_the_bends_between_them() -> None:
    before = strewn("C01")
    wire = before.wires[next(iter(before.sheets["s1"].routes))]
    assert wire.first is not None and wire.second is not None
    ends = {wire.first.part, wire.second.part}
    kept = {k: p for k, p in before.sheets["s1"].places.items() if p.part in ends}
    kept = {k: replace(p, x=900.0 * i, y=-700.0) for i, (k, p) in enumerate(kept.items())}
    sheet = before.sheets["s1"]
    before = replace(before, sheets={"s1": replace(sheet, places={**sheet.places, **kept})})
    change = tidy(before, "s1", kept)
    assert change is not None
    after = change.apply(before).sheets["s1"]
    assert {k: after.places[k] for k in kept} == kept
    assert set(after.routes) == {wire.id}
    assert measure(after, cards(before, after), {}).overlaps == ()


def test_a_part_drawn_in_pieces_stays_where_it_is() -> None:
    before = strewn("C01")
    sheet = before.sheets["s1"]
    relay = next(p for p in before.parts.values() if p.kind.startswith("relay"))
    places = {k: p for k, p in sheet.places.items() if p.part != relay.id}
    places["coil"] = Place("coil", relay.id, 2000.0, 0.0, shows=("coil",))
    before = replace(before, sheets={"s1": replace(sheet, places=places)})
    change = tidy(before, "s1")
    assert change is not None
    assert change.apply(before).sheets["s1"].places["coil"] == places["coil"]


def test_an_empty_sheet_needs_no_tidying() -> None:
    assert tidy(Circuit(sheets={"s": Sheet("s")}), "s") is None
