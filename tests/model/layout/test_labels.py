"""Labels of wires where room is short: beyond open ends, and never over one."""

from __future__ import annotations

from itertools import combinations

import pytest

from model.circuit import Circuit, End, Part, Place, Sheet, Wire
from model.layout.beside import Line
from model.layout.labels import Label, place_labels
from model.layout.path import Path
from model.layout.route import Router

Labels = dict[str, Label | None]


def _labelled(circuit: Circuit, sheet: Sheet) -> tuple[Labels, dict[str, Path]]:
    router = Router(circuit, sheet)
    paths = router.route()
    return place_labels(circuit, sheet, paths, router.cards), paths


def _open_wires(count: int) -> tuple[Labels, dict[str, Path]]:
    """Return the labels and ways of so many wires with an open end, all at one terminal."""
    wires = {f"w{i}": Wire(f"w{i}", f"W{i}00", End("a", "2")) for i in range(count)}
    circuit = Circuit(parts={"a": Part("a", "fuse-blade", "F1")}, wires=wires)
    return _labelled(circuit, Sheet("s", places={"1": Place("1", "a")}))


def test_wires_that_end_in_the_open_beside_each_other_have_their_numbers() -> None:
    for count in (1, 2, 3):
        labels, paths = _open_wires(count)
        rects = [label.rect for label in labels.values() if label]
        assert len(rects) == len(paths) == count
        assert not any(a.overlaps(b) for a, b in combinations(rects, 2))


def test_no_label_lies_over_an_open_end() -> None:
    """A wire runs right past the open end of another, where its label would stand best."""
    parts = {"a": Part("a", "fuse-blade", "F1"), "b": Part("b", "lamp", "E1")}
    wires = {
        "through": Wire("through", "W1", End("a", "2"), End("b", "+")),
        "open": Wire("open", "W2", End("a", "1")),
    }
    circuit = Circuit(parts=parts, wires=wires)
    sheet = Sheet("s", places={"1": Place("1", "a"), "2": Place("2", "b", 400, 10)})
    router = Router(circuit, sheet)
    (start, *_, end) = router.route()["through"].points
    for x in range(int(start[0]) + 20, int(end[0]) - 20, 10):
        tip = (float(x), -20.0)
        ways = {
            "through": Path((start, end)),
            "open": Path(((-60.0, 0.0), (-60.0, -200.0), (float(x), -200.0), tip)),
        }
        found = place_labels(circuit, sheet, ways, router.cards)
        assert all(label and not label.rect.contains(*tip) for label in found.values())


def test_the_place_beyond_an_open_end_is_in_line_with_it() -> None:
    wire = Wire("w", "W1", first=End("a", "2"))
    line = Line.of(wire, Path(((0.0, 0.0), (50.0, 0.0))))
    assert line.tip == ((0.0, 0.0), (50.0, 0.0))
    assert any(r.x > 50 and r.centre[1] == 0 for _, r, _ in line.places((30, 16), 11, False))
    other = Wire("w", "W1", second=End("a", "2"))
    assert Line.of(other, Path(((0.0, 50.0), (0.0, 0.0)))).tip == ((0.0, 0.0), (0.0, 50.0))
    joined = Wire("w", "W1", End("a", "2"), End("b", "1"))
    assert Line.of(joined, Path(((0.0, 0.0), (50.0, 0.0)))).tip is None


def test_a_label_moves_where_another_has_no_other_place(monkeypatch: pytest.MonkeyPatch) -> None:
    """The short wire is numbered first, above it: right where alone the other's number can be."""
    ends = (End("a", "1"), End("b", "1"))
    numbers = {"short": "W1", "other": "W12", "comb": ""}
    wires = {k: Wire(k, number, *ends) for k, number in numbers.items()}
    teeth = [(x, y) for x in range(-20, 140, 20) for y in (-56, -66)]
    corners = [
        p for i in range(0, len(teeth), 4) for p in (*teeth[i : i + 2], *teeth[i + 2 : i + 4][::-1])
    ]
    ways = {
        "short": Path(((30.0, 0.0), (60.0, 0.0))),
        "other": Path(((28.0, -40.0), (62.0, -40.0))),
        "comb": Path(tuple((float(x), float(y)) for x, y in corners)),
    }
    circuit = Circuit(wires=wires)
    found = place_labels(circuit, Sheet("s"), ways, {})
    assert found["short"] and found["other"]
    assert not found["short"].rect.overlaps(found["other"].rect)
    monkeypatch.setattr("model.layout.labels.MOVES", 0)
    assert place_labels(circuit, Sheet("s"), ways, {})["other"] is None
