"""Kept bends go along with both ends of their wire, and with nothing less."""

from __future__ import annotations

from dataclasses import replace

import pytest

from model.circuit import Circuit, End, Part, Place, Route, Sheet, Wire
from model.editing.bends import carried

BENDS = ((-100.0, 0.0), (-100.0, 80.0))


def _circuit(second: End | None = None) -> tuple[Circuit, Sheet]:
    parts = {k: Part(k, "switch", k) for k in ("p1", "p2", "p3")}
    parts["p4"] = Part("p4", "fuse-blade", "F1", host="p2")
    places = {f"c{i}": Place(f"c{i}", f"p{i}", 100.0 * i, 0.0) for i in (1, 2, 3)}
    wires = {"w1": Wire("w1", "W1", End("p1", "2"), second)}
    sheet = Sheet("s1", "", places, {"w1": Route("w1", BENDS)})
    return Circuit(parts=parts, wires=wires, sheets={"s1": sheet}), sheet


def _moved(sheet: Sheet, keys: str, dx: float = 30.0, dy: float = -20.0) -> Sheet:
    new = {k: replace(p, x=p.x + dx, y=p.y + dy) for k, p in sheet.places.items() if k[1] in keys}
    return replace(sheet, places={**sheet.places, **new})


@pytest.mark.parametrize(
    ("second", "keys", "goes"),
    [
        (End("p2", "1"), "12", True),
        (End("p2", "1"), "123", True),
        (End("p2", "1"), "1", False),
        (End("p2", "1"), "3", False),
        (End("p4", "1"), "12", True),  # a guest is drawn on its host
        (End("p1", "1"), "1", True),
        (None, "1", True),
        (End("gone", "1"), "1", False),
    ],
)
def test_bends_go_along_with_both_ends(second: End | None, keys: str, goes: bool) -> None:
    circuit, sheet = _circuit(second)
    after = carried(circuit, sheet, _moved(sheet, keys))
    wanted = tuple((x + 30.0, y - 20.0) for x, y in BENDS) if goes else BENDS
    assert after.routes == {"w1": Route("w1", wanted)}


def test_ends_that_move_differently_leave_the_bends() -> None:
    circuit, sheet = _circuit(End("p2", "1"))
    after = carried(circuit, sheet, _moved(_moved(sheet, "1"), "2", 10.0, 0.0))
    assert after.routes == sheet.routes


def test_the_route_of_a_wire_that_is_gone_stays_as_it_is() -> None:
    circuit, sheet = _circuit()
    assert carried(replace(circuit, wires={}), sheet, _moved(sheet, "1")).routes == sheet.routes
