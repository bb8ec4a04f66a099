"""Ways that a person set: kept while they lead past every card, adapted at their ends."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from model.circuit import Circuit, End, Part, Place, Route, Sheet, Wire
from model.layout.card import cards
from model.layout.geometry import Point
from model.layout.route import route

BENDS = ((-200.0, 0.0), (-200.0, -200.0), (200.0, -200.0), (200.0, 0.0))


def _circuit() -> tuple[Circuit, Sheet]:
    """A fuse and a switch far apart, a lamp out of the way, and a wire that runs above."""
    parts = {
        "p1": Part("p1", "fuse-blade", "F1"),
        "p2": Part("p2", "switch", "S1"),
        "p3": Part("p3", "lamp", "E1"),
    }
    places = {
        "c1": Place("c1", "p1", -300, 0),
        "c2": Place("c2", "p2", 300, 0),
        "c3": Place("c3", "p3", 0, 400),
    }
    wires = {"w1": Wire("w1", "W1", End("p1", "2"), End("p2", "1"))}
    sheet = Sheet("s1", "", places, {"w1": Route("w1", BENDS)})
    return Circuit(parts=parts, wires=wires, sheets={"s1": sheet}), sheet


def _with(sheet: Sheet, key: str, x: float, y: float) -> Sheet:
    place = replace(sheet.places[key], x=x, y=y)
    return replace(sheet, places={**sheet.places, key: place})


def _through(circuit: Circuit, sheet: Sheet, way: tuple[Point, ...]) -> bool:
    """Tell whether a way leads through a card."""
    made = cards(circuit, sheet)
    bodies = [made[p.id].body.moved(p.x, p.y) for p in sheet.places.values()]
    return any(b.crossed_by(p, q) for b in bodies for p, q in pairwise(way))


@pytest.mark.parametrize(("dx", "dy"), [(0, 0), (0, 40), (0, -60), (50, 30), (-20, 70)])
def test_the_piece_at_an_end_is_adapted_when_its_part_moves(dx: float, dy: float) -> None:
    circuit, sheet = _circuit()
    sheet = _with(sheet, "c2", 300 + dx, dy)
    way = route(circuit, sheet)["w1"].points
    assert set(BENDS[1:3]) <= set(way)
    assert all(a[0] == b[0] or a[1] == b[1] for a, b in pairwise(way))
    assert not _through(circuit, sheet, way)
    assert way[-1][1] == way[-2][1] and way[-2][0] < way[-1][0]
    assert len(way) == 6


def test_a_card_on_the_way_is_gone_round_and_the_way_comes_back() -> None:
    circuit, sheet = _circuit()
    kept = route(circuit, sheet)["w1"].points
    on_it = _with(sheet, "c3", 0, -200)
    way = route(circuit, on_it)["w1"].points
    assert way != kept
    assert not _through(circuit, on_it, way)
    assert route(circuit, sheet)["w1"].points == kept


def test_an_end_that_would_be_entered_through_its_own_card_is_not() -> None:
    circuit, sheet = _circuit()
    for x, y in ((100, 0), (260, 70)):
        beyond = _with(sheet, "c2", x, y)
        way = route(circuit, beyond)["w1"].points
        assert not _through(circuit, beyond, way)
        assert way[-1][1] == way[-2][1] and way[-2][0] < way[-1][0]


def test_a_way_to_a_splice_comes_in_at_the_side_it_comes_from() -> None:
    circuit, sheet = _circuit()
    circuit = replace(circuit, parts={**circuit.parts, "p2": Part("p2", "splice", "SP1")},
                      wires={"w1": Wire("w1", "W1", End("p1", "2"), End("p2", "s"))})  # fmt: skip
    for bends in (BENDS, (*BENDS[:2], (400.0, -200.0), (400.0, 0.0))):
        kept = replace(sheet, routes={"w1": Route("w1", bends)})
        way = route(circuit, kept)["w1"].points
        assert set(bends[1:3]) <= set(way)
        assert not _through(circuit, kept, way)
