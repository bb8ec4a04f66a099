"""Wires that have hardly any way: past near cards, out from under others, in bounded work."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise, product

import pytest

from model.circuit import Circuit, End, Part, Place, Sheet, Wire
from model.layout import relaxed
from model.layout.card import cards
from model.layout.finder import WORK
from model.layout.path import Path
from model.layout.place import arrange
from model.layout.route import Router
from model.lookup import body_of
from tests.model.layout.circuits import random_circuit

KINDS = ("fuse-blade", "relay-make", "lamp", "switch", "battery", "splice", "connector")


def _side_by_side(first: str, second: str, gap: float) -> Router:
    """Two cards so far apart, all their terminals wired to a lamp far off."""
    parts = {"a": Part("a", first, "F1"), "b": Part("b", second, "F2"), "c": Part("c", "lamp")}
    bare = Circuit(parts=parts)
    ends = [(p, t) for p in "ab" for t in body_of(bare, parts[p]).terminals]
    wires = {
        f"{p}{t.key}": Wire(
            f"{p}{t.key}", "", End(p, t.key, t.face), End("c", "+" if p < "b" else "-")
        )
        for p, t in ends
    }
    circuit = Circuit(parts=parts, wires=wires)
    made = cards(circuit, Sheet("", places={p: Place(p, p) for p in parts}))
    off = (made["a"].width + made["b"].width) / 2 + gap
    places = {"a": Place("a", "a"), "b": Place("b", "b", off), "c": Place("c", "c", 1000, 700)}
    return Router(circuit, Sheet("", places=places), made)


@pytest.mark.parametrize(("first", "second"), list(product(KINDS, KINDS)))
def test_a_terminal_that_faces_a_near_card_is_wired_past_it(first: str, second: str) -> None:
    for gap in (20, 30, 40):
        router = _side_by_side(first, second, gap)
        places = router.sheet.places.values()
        bodies = [router.cards[p.id].body.moved(p.x, p.y) for p in places]
        for path in router.route().values():
            assert not any(r.crossed_by(*s) for r in bodies for s in pairwise(path.points))


def test_a_terminal_under_another_card_is_left_by_the_shortest_way_out() -> None:
    parts = {"a": Part("a", "fuse-blade"), "b": Part("b", "lamp"), "c": Part("c", "lamp")}
    wire = Wire("w", "", End("a", "2"), End("c", "+"))
    circuit = Circuit(parts=parts, wires={"w": wire})
    places = {"a": Place("a", "a"), "b": Place("b", "b", 90, 10), "c": Place("c", "c", 900, 10)}
    router = Router(circuit, Sheet("", places=places))
    path = router.route()["w"]
    body = router.cards["b"].body.moved(90, 10)
    inside = sum(_within(a, b, body.x, body.right) for a, b in pairwise(path.points))
    assert (path.points[0], path.points[-1]) == ((60, 0), (840, 0))
    assert inside < 0.7 * body.w  # straight on it would be all that is left of the card


def _within(a: tuple[float, float], b: tuple[float, float], left: float, right: float) -> float:
    """Return how far a level stretch at the card's height runs between two sides."""
    level = a[1] == b[1] and abs(a[1]) < 40
    return max(0.0, min(right, max(a[0], b[0])) - max(left, min(a[0], b[0]))) if level else 0.0


def _work(monkeypatch: pytest.MonkeyPatch, circuit: Circuit, sheet: Sheet) -> tuple[int, Router]:
    """Return how many cells are looked at while a sheet is wired."""
    looked = 0
    plain = relaxed.Relaxed.__init__

    def counted(self: relaxed.Relaxed, *args: object) -> None:
        nonlocal looked
        plain(self, *args)  # type: ignore[arg-type]
        looked += self.sum_level.size

    with monkeypatch.context() as patch:
        patch.setattr(relaxed.Relaxed, "__init__", counted)
        router = Router(circuit, sheet)
        router.route()
    return looked, router


@pytest.fixture(scope="module")
def large() -> tuple[Circuit, Sheet]:
    """A circuit of 130 parts, laid out."""
    circuit = random_circuit(1130, 130)
    return circuit, Sheet("s1", places={p.id: p for p in arrange(circuit, "s1")})


def test_turning_many_cards_does_not_make_work_without_end(
    large: tuple[Circuit, Sheet], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where cards turned on the spot stand on each other's terminals, wires have no way."""
    circuit, sheet = large
    places = {k: replace(p, turn=90) for k, p in sheet.places.items()}
    after, router = _work(monkeypatch, circuit, replace(sheet, places=places))
    assert after < 2 * WORK
    assert set(router.paths) >= {w.id for w in circuit.wires.values() if w.first and w.second}


def test_cards_put_on_top_of_others_do_not_make_work_without_end(
    large: tuple[Circuit, Sheet], monkeypatch: pytest.MonkeyPatch
) -> None:
    circuit, sheet = large
    keys = list(sheet.places)
    places = dict(sheet.places)
    for key, on in zip(keys[:60], keys[60:120], strict=True):
        places[key] = replace(places[key], x=places[on].x + 20, y=places[on].y + 20)
    after, router = _work(monkeypatch, circuit, replace(sheet, places=places))
    assert after < 2 * WORK
    ends = {w: (p.points[0], p.points[-1]) for w, p in router.paths.items()}
    for wire, path in router.paths.items():
        assert all((a[0] == b[0]) != (a[1] == b[1]) for a, b in pairwise(path.points)), ends[wire]


def test_ways_that_only_come_near_each_other_do_not_share_a_line() -> None:
    level = Path(((0.0, 0.0), (100.0, 0.0)))
    assert level.box.grown(1).overlaps(Path(((100.0, 0.0), (100.0, 50.0))).box.grown(1))
    assert not level.box.grown(1).overlaps(Path(((0.0, 10.0), (100.0, 10.0))).box.grown(1))
