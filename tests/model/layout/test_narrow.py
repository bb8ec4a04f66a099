"""Narrower drawings: branches led back under what stands before them, and nothing else changed."""

from __future__ import annotations

import itertools
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.circuit import Circuit, Sheet
from model.file import load
from model.layout.card import cards
from model.layout.flow import Arrow
from model.layout.geometry import united
from model.layout.labels import place_labels
from model.layout.measure import measure
from model.layout.narrow import narrowed
from model.layout.place import arrange
from model.layout.route import Router
from model.layout.sizes import ROOMY, Sizes
from tests.circuits import FOLDER, NAMES

CHAIN = ["battery", "fuse", "splice", "feed", "relay", "load"]
CONTROL = ["splice", "control", "switch", "crash", "relay"]


def arrow(tail: str, head: str) -> Arrow:
    """Return an arrow between two parts."""
    return Arrow(f"{tail}-{head}", tail, "b", head, "a")


def chain(*names: str) -> list[Arrow]:
    """Return the arrows from each to the next."""
    return [arrow(a, b) for a, b in itertools.pairwise(names)]


def test_the_control_branch_is_led_back_under_the_feed() -> None:
    arrows = chain(*CHAIN) + chain(*CONTROL)
    parts = list(dict.fromkeys([*CHAIN, *CONTROL]))
    made = narrowed(parts, arrows, 6)
    turned = [b for a, b in zip(arrows, made, strict=True) if a != b]
    assert turned == [arrow("splice", "control").flipped()]


def test_what_is_narrow_enough_or_cannot_be_narrowed_stays() -> None:
    arrows = chain(*CHAIN) + chain(*CONTROL)
    parts = list(dict.fromkeys([*CHAIN, *CONTROL]))
    assert narrowed(parts, arrows, 8) == arrows
    assert narrowed(CHAIN, chain(*CHAIN), 3) == chain(*CHAIN)


@given(st.sets(st.tuples(st.integers(0, 9), st.integers(0, 9)), max_size=18))
def test_no_circle_is_ever_closed(pairs: set[tuple[int, int]]) -> None:
    arrows = [arrow(str(a), str(b)) for a, b in sorted(pairs) if a < b]
    made = narrowed([str(i) for i in range(10)], arrows, 3)
    assert [{a.tail, a.head} for a in made] == [{a.tail, a.head} for a in arrows]
    left = {a.tail for a in made} | {a.head for a in made}
    while left:  # what nothing leads to is taken away until nothing is left
        first = {p for p in left if not any(a.head == p and a.tail in left for a in made)}
        assert first
        left -= first


def drawn(name: str, sizes: Sizes) -> tuple[Circuit, Sheet]:
    """Return a reference circuit and its sheet, all placed."""
    circuit = replace(load(FOLDER / f"{name}.voltwalk").circuit, sheets={"s1": Sheet("s1")})
    return circuit, Sheet("s1", places={p.id: p for p in arrange(circuit, "s1", sizes=sizes)})


@pytest.mark.parametrize("name", NAMES)
def test_roomy_drawings_with_room_have_no_overlap_and_all_numbers_but_one(name: str) -> None:
    circuit, sheet = drawn(name, replace(ROOMY, channel=110))
    router = Router(circuit, sheet, cards(circuit, sheet, ROOMY))
    paths = router.route()
    quality = measure(sheet, router.cards, paths)
    assert (quality.overlaps, quality.through, quality.along) == ((), (), ())
    labels = place_labels(circuit, sheet, paths, router.cards, sizes=ROOMY)
    missing = [w for w, found in labels.items() if found is None]
    assert len(missing) <= 1  # a short wire between two others may have no room for its label


def test_the_pump_circuit_is_narrower_than_its_chain() -> None:
    widths = []
    for sizes in (ROOMY, replace(ROOMY, most_columns=0)):
        circuit, sheet = drawn("C01", sizes)
        made = cards(circuit, sheet, sizes)
        areas = [made[p.id].outer.moved(p.x, p.y) for p in sheet.places.values()]
        widths.append(united(areas).w)
    assert widths[0] < 0.85 * widths[1]
