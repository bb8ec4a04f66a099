"""A wire cut by a splice or a part keeps its way on both sides."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from app.scene.geometry import SheetGeometry, lay_out
from model.circuit import Circuit, End, Part, Place, Sheet, Wire
from model.editing import Spot, insert_part, splice_from
from model.layout.geometry import Point

PLACES = {
    "c1": Place("c1", "p1", -400, 0),
    "c2": Place("c2", "p2", 400, 230),
    "c3": Place("c3", "p3", 0, 500),
}


def _circuit() -> Circuit:
    """A fuse and a lamp joined by a wire, and a ground point far below."""
    parts = {
        "p1": Part("p1", "fuse-blade", "F1"),
        "p2": Part("p2", "lamp", "E1"),
        "p3": Part("p3", "ground", "X1"),
    }
    wires = {"w1": Wire("w1", "W1", End("p1", "2"), End("p2", "+"))}
    return Circuit(parts=parts, wires=wires, sheets={"s1": Sheet("s1", "", PLACES)})


def _pieces(geometry: SheetGeometry, *wires: str) -> set[Point]:
    """Return all points of a grid of 10 on the ways of these wires."""
    found: set[Point] = set()
    for key in wires:
        for (ax, ay), (bx, by) in pairwise(geometry.wires[key]):
            steps = int(max(abs(bx - ax), abs(by - ay)) // 10) or 1
            found |= {(ax + (bx - ax) * i / steps, ay + (by - ay) * i / steps)
                      for i in range(steps + 1)}  # fmt: skip
    return found


@pytest.mark.parametrize("kind", ["splice", "fuse-blade", "switch"])
def test_both_halves_lie_where_the_wire_lay(kind: str) -> None:
    circuit = _circuit()
    sheet = circuit.sheets["s1"]
    before = lay_out(circuit, sheet, SheetGeometry())
    way = before.wires["w1"]
    a, b = max(pairwise(way), key=lambda p: abs(p[1][0] - p[0][0]))
    spot = Spot(((a[0] + b[0]) / 2, a[1]), way, "s1")
    if kind == "splice":
        edit = splice_from(circuit, End("p3", "g"), "w1", before.sheet, spot)
    else:
        edit = insert_part(circuit, "w1", Part("p9", kind, "X9"), before.sheet, spot)
    after = edit.change.apply(circuit)
    second = next(w.id for k, w in after.wires.items() if k != "w1" and w.second == End("p2", "+"))
    now = lay_out(after, after.sheets["s1"], before)
    lay = _pieces(before, "w1")
    assert _pieces(now, "w1", second) <= lay
    new = next(p for k, p in now.places.items() if k not in PLACES)
    gap = now.cards[new.id].body.moved(new.x, new.y)
    left = {p for p in lay if not gap.grown(1).contains(*p)}
    assert left <= _pieces(now, "w1", second)
    assert (now.wires["w1"][0], now.wires[second][-1]) == (way[0], way[-1])


def test_a_wire_joined_elsewhere_is_laid_anew() -> None:
    circuit = _circuit()
    before = lay_out(circuit, circuit.sheets["s1"], SheetGeometry())
    other = replace(circuit.wires["w1"], second=End("p3", "g"))
    after = replace(circuit, wires={"w1": other})
    now = lay_out(after, circuit.sheets["s1"], before)
    bolt = now.terminal(End("p3", "g"))
    assert bolt is not None
    assert now.wires["w1"][-1][1] == bolt[1]
