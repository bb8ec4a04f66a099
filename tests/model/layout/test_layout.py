"""Whole drawings: reference circuits and random ones, laid out, routed and labelled."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import dataclass, replace
from functools import cache
from itertools import combinations, pairwise

import pytest

from model.circuit import Circuit, End, Part, Place, Route, Sheet, Wire
from model.file import load
from model.layout.card import Card, cards
from model.layout.geometry import Rect
from model.layout.labels import Label, place_labels
from model.layout.measure import measure
from model.layout.place import arrange
from model.layout.route import Path, Router, route
from model.lookup import kind_of, label
from tests.circuits import FOLDER, NAMES
from tests.model.layout.circuits import random_circuit

LAYOUTS = int(os.environ.get("VOLTWALK_LAYOUTS", "9"))
"""How many random circuits are drawn; the usual number keeps the suite quick."""
SIZES = [round(10 * 20 ** (n / max(LAYOUTS - 1, 1))) for n in range(LAYOUTS)]
"""Their parts: 10 to 200, each so many times the one before."""


@dataclass(frozen=True)
class Drawing:
    """A circuit laid out."""

    circuit: Circuit
    sheet: Sheet
    cards: dict[str, Card]
    paths: dict[str, Path]
    labels: dict[str, Label | None]

    def spot(self, reference: str) -> tuple[float, float]:
        """Return where the part of a reference stands."""
        for place in self.sheet.places.values():
            if label(self.circuit.parts[place.part]) == reference:
                return (place.x, place.y)
        raise AssertionError(reference)


@cache
def reference_drawn(name: str) -> Drawing:
    """Return the drawing of a reference circuit, made once."""
    return drawn(reference(name))


def drawn(circuit: Circuit) -> Drawing:
    """Return the circuit with all its parts placed and wires routed, whatever places it had."""
    key = next(iter(circuit.sheets), "s1")
    bare = replace(circuit, sheets={key: Sheet(key)})
    sheet = Sheet(key, places={p.id: p for p in arrange(bare, key)})
    router = Router(bare, sheet)
    paths = router.route()
    labels = place_labels(bare, sheet, paths, router.cards)
    return Drawing(bare, sheet, router.cards, paths, labels)


def reference(name: str) -> Circuit:
    """Return a reference circuit."""
    return load(FOLDER / f"{name}.voltwalk").circuit


def assert_good(made: Drawing) -> None:
    """Check that nothing overlaps and that every wire is drawn from end to end."""
    quality = measure(made.sheet, made.cards, made.paths)
    assert quality.overlaps == ()
    assert quality.through == ()
    assert quality.along == ()
    joined = {w.id for w in made.circuit.wires.values() if w.first or w.second}
    assert joined <= set(made.paths)
    for wire, path in made.paths.items():
        assert_ends_meet(made, wire, path)
    assert_labels_clear(made)


def assert_ends_meet(made: Drawing, wire: str, path: Path) -> None:
    """Check that a path is orthogonal, on the grid, and begins and ends at its terminals."""
    for a, b in pairwise(path.points):
        assert (a[0] == b[0]) != (a[1] == b[1])
    assert all(x % 10 == 0 and y % 10 == 0 for x, y in path.points)
    record = made.circuit.wires[wire]
    for end, point in ((record.first, path.points[0]), (record.second, path.points[-1])):
        if end is not None:
            assert point in spots_of(made, end)


def spots_of(made: Drawing, end: End) -> set[tuple[float, float]]:
    """Return where wires may end at a terminal."""
    return {
        (place.x + s.x, place.y + s.y)
        for place in made.sheet.places.values()
        if place.part == end.part
        for s in made.cards[place.id].ports[end.node[1]].spots
    }


def assert_labels_clear(made: Drawing) -> None:
    """Check that no label covers a card, a card's label, a bend, a terminal or another label."""
    rects = [found.rect for found in made.labels.values() if found]
    for a, b in combinations(rects, 2):
        assert not a.overlaps(b)
    taken = [
        r.moved(p.x, p.y)
        for p in made.sheet.places.values()
        for r in (made.cards[p.id].body, made.cards[p.id].tag, made.cards[p.id].name)
        if r.w
    ]
    points = [q for path in made.paths.values() for q in path.points]
    for rect in rects:
        assert not any(rect.overlaps(t) for t in taken)
        assert not any(rect.contains(*q) for q in points)


@pytest.mark.parametrize("name", NAMES)
def test_every_reference_circuit_is_drawn_without_overlap(name: str) -> None:
    made = reference_drawn(name)
    assert_good(made)
    assert set(made.labels.values()) - {None}


@pytest.mark.parametrize("name", NAMES)
def test_every_wire_of_a_reference_circuit_has_its_number(name: str) -> None:
    made = reference_drawn(name)
    assert [w for w, found in made.labels.items() if found is None] == []


@pytest.mark.parametrize("name", NAMES)
def test_a_label_over_another_wire_lies_on_its_own(name: str) -> None:
    """Beside its wire and over another it would be read as the other's."""
    made = reference_drawn(name)
    sized = {w: f"{wire.number} {wire.size}" for w, wire in made.circuit.wires.items()}
    texts = {w: (made.circuit.wires[w].number, text) for w, text in sized.items()}
    longer = place_labels(made.circuit, made.sheet, made.paths, made.cards, texts)
    for wire, found in (*made.labels.items(), *longer.items()):
        assert found
        over = {
            w
            for w, path in made.paths.items()
            if any(found.rect.crossed_by(*s) for s in pairwise(path.points))
        }
        assert not over or wire in over


@pytest.mark.parametrize(("seed", "parts"), list(enumerate(SIZES)))
def test_random_circuits_are_drawn_without_overlap(seed: int, parts: int) -> None:
    """Only the number of a wire that ends in the open, walled in by others, may be left out."""
    made = drawn(random_circuit(seed, parts))
    assert_good(made)
    wires = [made.circuit.wires[w] for w, found in made.labels.items() if found is None]
    assert [w for w in wires if w.first is not None and w.second is not None] == []


def test_current_flows_from_left_to_right_and_down_to_ground() -> None:
    made = reference_drawn("C01")
    chain = [made.spot(r)[0] for r in ("BAT", "F0", "S0", "SP1", "F1", "K1", "M1")]
    assert chain == sorted(chain)
    control = [made.spot(r)[0] for r in ("SP1", "F2", "S1", "S2", "K1")]
    assert control == sorted(control)
    assert made.spot("G1")[1] > max(made.spot("K1")[1], made.spot("M1")[1])
    assert made.spot("G0")[1] > made.spot("BAT")[1]


@pytest.mark.parametrize("name", NAMES)
def test_batteries_stand_left_and_ground_points_below_what_they_serve(name: str) -> None:
    made = reference_drawn(name)
    at = {p.part: (p.x, p.y) for p in made.sheet.places.values()}
    family = {p.id: kind_of(made.circuit, p).family for p in made.circuit.parts.values()}
    for part, (x, _) in at.items():
        if made.circuit.parts[part].kind == "battery":
            assert all(x <= other for p, (other, _) in at.items() if family[p] == "load")
    for wire in made.circuit.wires.values():
        ends = [e.part for e in (wire.first, wire.second) if e is not None]
        grounds = [e for e in ends if family[e] == "ground"]
        if len(ends) == 2 and len(grounds) == 1:
            other = next(e for e in ends if e != grounds[0])
            assert at[grounds[0]][1] > at[other][1]


def test_the_pump_circuit_is_drawn_as_calmly_as_by_hand() -> None:
    """The figures of a drawing by hand: no crossing, 8 bends."""
    made = reference_drawn("C01")
    quality = measure(made.sheet, made.cards, made.paths)
    assert quality.crossings == 0
    assert quality.bends <= 8


def test_the_same_circuit_gives_the_same_drawing_in_any_process() -> None:
    code = (
        "from tests.model.layout.test_layout import drawn, reference\n"
        "made = drawn(reference('C06'))\n"
        "print(made.sheet, made.paths, made.labels)"
    )
    outputs = {
        subprocess.run(
            [sys.executable, "-c", code],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
            text=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(outputs) == 1


def test_pinned_places_are_kept_and_nothing_lies_on_them() -> None:
    circuit = reference("C06")
    places = arrange(replace(circuit, sheets={"s1": Sheet("s1")}), "s1")
    chosen = {p.id: replace(p, x=p.x + 70, y=p.y - 30, pinned=True) for p in places[::3]}
    held = replace(circuit, sheets={"s1": Sheet("s1", places=chosen)})
    added = arrange(held, "s1")
    assert not {p.part for p in added} & {p.part for p in chosen.values()}
    assert {p.part for p in added} | {p.part for p in chosen.values()} == set(circuit.parts)
    sheet = Sheet("s1", places={**chosen, **{p.id: p for p in added}})
    assert len(sheet.places) == len(circuit.parts)
    fixed = list(chosen.values())
    made = cards(circuit, sheet)
    for place in added:
        mine = made[place.id].outer.moved(place.x, place.y)
        for other in (*fixed, *(p for p in added if p is not place)):
            assert not mine.overlaps(made[other.id].outer.moved(other.x, other.y))


def test_a_new_part_stands_beside_what_it_is_wired_to() -> None:
    circuit = reference("C01")
    key = next(iter(circuit.sheets), "s1")
    sheet = Sheet(
        key, places={p.id: replace(p, pinned=True) for p in drawn(circuit).sheet.places.values()}
    )
    lamp = Part("new", "lamp", "E1")
    wire = Wire("neww", first=End(named(circuit, "F1"), "2"), second=End("new", "+"))
    grown = replace(
        circuit,
        parts={**circuit.parts, "new": lamp},
        wires={**circuit.wires, "neww": wire},
        sheets={key: sheet},
    )
    (place,) = arrange(grown, key)
    assert place.part == "new"
    fuse = next(p for p in sheet.places.values() if p.part == named(circuit, "F1"))
    assert fuse.x < place.x < fuse.x + 600
    assert abs(place.y - fuse.y) < 600


def named(circuit: Circuit, reference: str) -> str:
    """Return the id of a part by its reference."""
    return next(p.id for p in circuit.parts.values() if p.reference == reference)


def test_only_the_parts_asked_for_are_placed_even_if_pinned() -> None:
    circuit = replace(reference("C07"), sheets={"s1": Sheet("s1")})
    places = [replace(p, pinned=True) for p in arrange(circuit, "s1")]
    held = replace(circuit, sheets={"s1": Sheet("s1", places={p.id: p for p in places})})
    assert arrange(held, "s1") == []
    moved = arrange(held, "s1", {places[2].part})
    assert [(p.id, p.part) for p in moved] == [(places[2].id, places[2].part)]


def test_bends_a_person_chose_are_kept() -> None:
    parts = {"a": Part("a", "fuse-blade", "F1"), "b": Part("b", "lamp", "E1")}
    wire = Wire("w", "W1", End("a", "2"), End("b", "+"))
    places = {"1": Place("1", "a", 0, 0), "2": Place("2", "b", 400, 200)}
    bends = ((110.0, 0.0), (110.0, 190.0))
    sheet = Sheet("s", places=places, routes={"w": Route("w", bends)})
    made = route(Circuit(parts=parts, wires={"w": wire}, sheets={"s": sheet}), sheet)
    assert made["w"].bends == bends
    moved = replace(sheet, places={**places, "2": Place("2", "b", 400, 260)})
    made = route(Circuit(parts=parts, wires={"w": wire}, sheets={"s": moved}), moved)
    assert bends[0] in made["w"].bends
    assert made["w"].points[-1] == (340, 250)


def test_only_the_wires_asked_for_are_routed_and_the_rest_stay() -> None:
    circuit = reference("C12")
    made = drawn(circuit)
    router = Router(made.circuit, made.sheet)
    router.route()
    before = dict(router.paths)
    some = list(before)[:4]
    assert set(router.route(some)) == set(some)
    for wire, path in router.paths.items():
        if wire not in some:
            assert path == before[wire]
    quality = measure(made.sheet, router.cards, router.paths)
    assert quality.sound


def test_ways_found_before_are_held_unless_their_ends_moved() -> None:
    made = reference_drawn("C12")
    place = next(iter(made.sheet.places.values()))
    moved = Sheet("s1", places={**made.sheet.places, place.id: replace(place, y=place.y - 300)})
    router = Router(made.circuit, moved)
    router.hold(made.paths)
    gone = {w for w in made.paths if w not in router.paths}
    at_it = {
        w.id
        for w in made.circuit.wires.values()
        if place.part in [e.part for e in (w.first, w.second) if e is not None]
    }
    assert gone == at_it
    router.route(gone, again=0)
    assert set(router.paths) == set(made.paths)
    assert measure(moved, router.cards, router.paths).along == ()


def test_a_wire_with_an_open_end_sticks_out_of_its_terminal() -> None:
    circuit = Circuit(
        parts={"a": Part("a", "fuse-blade", "F1")},
        wires={
            "w": Wire("w", first=End("a", "2")),
            "v": Wire("v"),
            "u": Wire("u", second=End("a", "1")),
        },
    )
    sheet = Sheet("s", places={"1": Place("1", "a")})
    made = route(circuit, sheet)
    assert made["w"].points == ((60, 0), (110, 0))
    assert made["u"].points[-1] == (-60, 0)
    assert "v" not in made


def test_a_coil_and_its_contact_drawn_apart_are_wired_each_where_it_is() -> None:
    parts = {"k": Part("k", "relay-make", "K1"), "b": Part("b", "battery"), "m": Part("m", "lamp")}
    wires = {
        "1": Wire("1", first=End("b", "+"), second=End("k", "86")),
        "2": Wire("2", first=End("k", "87"), second=End("m", "+")),
    }
    places = {
        "p": Place("p", "k", 300, 0, shows=("coil",)),
        "q": Place("q", "k", 300, 300, shows=("make",)),
        "r": Place("r", "b", 0, 0),
        "s": Place("s", "m", 600, 300),
    }
    circuit = Circuit(parts=parts, wires=wires)
    made = route(circuit, Sheet("s", places=places))
    assert made["1"].points[-1][1] < 100
    assert made["2"].points[0][1] > 200


def test_a_fuse_in_a_box_has_no_card_of_its_own() -> None:
    parts = {
        "x": Part("x", "fuse-box", "X1"),
        "f": Part("f", "fuse-blade", "F1", host="x", slot="1"),
        "b": Part("b", "battery", "G1"),
        "e": Part("e", "lamp", "E1"),
    }
    wires = {
        "1": Wire("1", first=End("b", "+"), second=End("x", "B")),
        "2": Wire("2", first=End("x", "1"), second=End("e", "+")),
    }
    circuit = Circuit(parts=parts, wires=wires, sheets={"s": Sheet("s")})
    at = {p.part: p.x for p in arrange(circuit, "s")}
    assert set(at) == {"x", "b", "e"}
    assert at["b"] < at["x"] < at["e"]


def test_an_empty_circuit_and_a_lone_part_are_no_trouble() -> None:
    assert arrange(Circuit(sheets={"s": Sheet("s")}), "s") == []
    assert route(Circuit(), Sheet("s")) == {}
    lone = Circuit(parts={"a": Part("a", "lamp")}, sheets={"s": Sheet("s")})
    assert [p.part for p in arrange(lone, "s")] == ["a"]


def test_places_off_the_grid_and_far_apart_are_still_wired() -> None:
    parts = {"a": Part("a", "fuse-blade", "F1"), "b": Part("b", "lamp", "E1")}
    wire = Wire("w", "W1", End("a", "2"), End("b", "+"))
    circuit = Circuit(parts=parts, wires={"w": wire})
    for x, y in ((403.0, 207.0), (1e7, -1e7), (-1e7, 3.5)):
        sheet = Sheet("s", places={"1": Place("1", "a", 1, 2), "2": Place("2", "b", x, y)})
        router = Router(circuit, sheet)
        points = router.route()["w"].points
        assert (points[0], points[-1]) == ((61, 2), (x - 60, y - 10))
        assert all((a[0] == b[0]) != (a[1] == b[1]) for a, b in pairwise(points))
        place_labels(circuit, sheet, router.paths, router.cards)


def test_labels_grow_by_what_fits_and_say_when_nothing_does() -> None:
    made = reference_drawn("C01")
    texts = {w: (f"W{w}", f"W{w} · 0.75 mm² · 8.3 A", "x" * 400) for w in made.paths}
    found = place_labels(made.circuit, made.sheet, made.paths, made.cards, texts)
    said = [f.text for f in found.values() if f]
    assert any("mm²" in t for t in said)
    assert not any("xxx" in t for t in said)
    narrow = {next(iter(made.paths)): ("y" * 500,)}
    unfit = place_labels(made.circuit, made.sheet, made.paths, made.cards, narrow)
    assert unfit[next(iter(made.paths))] is None


def test_a_measure_finds_what_is_wrong() -> None:
    parts = {"a": Part("a", "lamp", "E1"), "b": Part("b", "lamp", "E2")}
    sheet = Sheet("s", places={"1": Place("1", "a"), "2": Place("2", "b", 60, 0)})
    paths = {
        "through": Path(((-200.0, 0.0), (200.0, 0.0))),
        "along": Path(((150.0, 0.0), (300.0, 0.0))),
        "cross": Path(((250.0, -50.0), (250.0, 50.0), (400.0, 50.0))),
        "bend": Path(((400.0, 0.0), (400.0, 50.0), (500.0, 50.0))),
    }
    quality = measure(sheet, cards(Circuit(parts=parts), sheet), paths)
    assert quality.overlaps == (("1", "2"),)
    assert ("through", "1") in quality.through
    assert quality.along == (("through", "along"), ("cross", "bend"))
    assert (quality.crossings, quality.bends) == (1, 2)
    assert quality.length == 400 + 150 + 250 + 150
    assert not quality.sound
    assert Rect(0, 0, 1, 1).overlaps(Rect(0.5, 0.5, 1, 1))
