"""How parts stand in line: the wire goes straight through, the feed comes in where it should."""

from __future__ import annotations

from itertools import pairwise

import pytest

from model.circuit import Circuit, End, Part, Place, Sheet, Wire
from model.editing import Spot, insert_part, splice_end
from model.layout.card import card
from model.layout.geometry import Point
from model.layout.sizes import ROOMY, Sizes

FAR = 2000.0
"""Far enough that nothing stands near the wires of these tests."""


def _circuit() -> Circuit:
    """A battery that feeds a lamp by one wire; both stand far from where it is cut."""
    parts = {"p1": Part("p1", "battery", "G1"), "p2": Part("p2", "lamp", "E1")}
    wires = {"w1": Wire("w1", "W1", End("p1", "+"), End("p2", "+"))}
    places = {"c1": Place("c1", "p1", -FAR, -FAR), "c2": Place("c2", "p2", FAR, FAR)}
    return Circuit(parts=parts, wires=wires, sheets={"s1": Sheet("s1", "", places)})


def _ports(
    kind: str, path: tuple[Point, ...], at: Point, sizes: Sizes | None = None
) -> list[Point]:
    """Put a part in line and return where its fed terminal and its other one stand."""
    circuit = _circuit()
    shown = circuit.sheets["s1"]
    edit = insert_part(circuit, "w1", Part("p9", kind, "X9"), shown, Spot(at, path, "s1", sizes))
    after = edit.change.apply(circuit)
    (place,) = (p for p in after.sheets["s1"].places.values() if p.part == "p9")
    made = card(after, after.parts["p9"], place, sizes=sizes)
    second = next(w for k, w in after.wires.items() if k != "w1")
    ends = after.wires["w1"].second, second.first
    nodes = [e.node[1] for e in ends if e is not None]
    return [(place.x + made.ports[n].x, place.y + made.ports[n].y) for n in nodes]


@pytest.mark.parametrize("sizes", [None, ROOMY])
@pytest.mark.parametrize("kind", ["fuse-blade", "switch", "diode", "resistor"])
@pytest.mark.parametrize("end", [(600.0, 0.0), (-600.0, 0.0), (0.0, 600.0), (0.0, -600.0)])
def test_a_part_of_two_terminals_lies_on_the_wire_with_its_feed_towards_the_supply(
    kind: str, end: Point, sizes: Sizes | None
) -> None:
    start: Point = (0.0, 0.0)
    into, out = _ports(kind, (start, end), (end[0] / 2 + 3, end[1] / 2 - 4), sizes=sizes)
    axis = 0 if end[0] else 1
    assert into[1 - axis] == out[1 - axis] == 0.0
    order = [start[axis], into[axis], out[axis], end[axis]]
    assert order == sorted(order, reverse=end[axis] < 0)
    assert all(a != b for a, b in pairwise(order))
    assert abs((into[axis] + out[axis]) / 2 - end[axis] / 2) <= 10


def test_a_relay_is_mirrored_but_not_turned() -> None:
    circuit = _circuit()
    for path in (((0.0, 0.0), (-900.0, 0.0)), ((0.0, 0.0), (0.0, 900.0))):
        middle = tuple(v / 2 for v in path[1])
        spot = Spot((middle[0], middle[1]), path, "s1")
        relay, shown = Part("p9", "relay-make", "K1"), circuit.sheets["s1"]
        edit = insert_part(circuit, "w1", relay, shown, spot)
        after = edit.change.apply(circuit)
        (place,) = (p for p in after.sheets["s1"].places.values() if p.part == "p9")
        assert place.turn == 0


def test_near_the_end_of_a_straight_piece_the_part_stays_on_it() -> None:
    into, out = _ports("fuse-blade", ((0.0, 0.0), (400.0, 0.0), (400.0, 300.0)), (395.0, 2.0))
    assert 0 < into[0] < out[0] <= 380
    assert into[1] == out[1] == 0


def test_a_splice_lies_on_the_wire_though_it_is_dropped_beside() -> None:
    circuit = _circuit()
    wires = {**circuit.wires, "w2": Wire("w2", "W2", End("p1", "-"), None)}
    circuit = Circuit(parts=circuit.parts, wires=wires, sheets=circuit.sheets)
    spot = Spot((207.0, 6.0), ((0.0, 0.0), (600.0, 0.0)), "s1")
    edit = splice_end(circuit, "w2", "second", "w1", circuit.sheets["s1"], spot)
    after = edit.change.apply(circuit)
    (splice,) = (p for p in after.parts.values() if p.kind == "splice")
    (place,) = (p for p in after.sheets["s1"].places.values() if p.part == splice.id)
    assert (place.x, place.y) == (210.0, 0.0)
    assert edit.change.revert(after) == circuit


def test_a_part_put_in_line_leaves_something_of_the_wire_on_both_sides() -> None:
    circuit = _circuit()
    places = {"c1": Place("c1", "p1", -120, 10), "c2": Place("c2", "p2", 120, 10)}
    shown = Sheet("s1", "", places)
    circuit = Circuit(parts=circuit.parts, wires=circuit.wires, sheets={"s1": shown})
    spot = Spot((0.0, 0.0), ((-60.0, 0.0), (60.0, 0.0)), "s1")
    edit = insert_part(circuit, "w1", Part("p9", "fuse-blade", "F9"), shown, spot)
    after = edit.change.apply(circuit)
    (place,) = (p for p in after.sheets["s1"].places.values() if p.part == "p9")
    mine = card(after, after.parts["p9"], place).outer.moved(place.x, place.y)
    for other in places.values():
        theirs = card(after, after.parts[other.part], other).outer.moved(other.x, other.y)
        assert not mine.overlaps(theirs.grown(10))
    assert edit.notes
