"""Automatic drawings beside those of the same circuits laid out by hand.

The places in `hand` were chosen by eye, card by card (x, y, turn, mirrored); the corners of the
wires follow the calmest ways found between them.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

import pytest

from model.circuit import Place, Sheet
from model.layout.card import cards
from model.layout.measure import Quality, measure
from model.layout.path import Path as Way
from model.layout.route import Router
from tests.model.layout.test_layout import reference, reference_drawn

HAND = Path(__file__).parent / "hand"
NAMES = ("C01", "C05", "C06", "C10", "C18")
MOST = 1.3


def by_hand(name: str) -> Quality:
    """Return the measure of a circuit's drawing by hand; every wire ends at its terminals."""
    circuit = reference(name)
    kept = json.loads((HAND / f"{name}.json").read_text(encoding="utf-8"))
    places = {k: Place(k, k, *pose) for k, pose in kept["places"].items()}
    assert set(places) == set(circuit.parts)
    sheet = Sheet("s1", places=places)
    ways = {k: Way(tuple((float(x), float(y)) for x, y in w)) for k, w in kept["routes"].items()}
    router = Router(circuit, sheet)
    router.hold(ways)
    assert set(router.paths) == set(circuit.wires)
    return measure(sheet, cards(circuit, sheet), ways)


def by_itself(name: str) -> Quality:
    """Return the measure of the automatic drawing."""
    made = reference_drawn(name)
    return measure(made.sheet, made.cards, made.paths)


@pytest.mark.parametrize("name", NAMES)
def test_crossings_and_bends_stay_within_1_3_times_those_by_hand(
    name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    hand, ours = by_hand(name), by_itself(name)
    assert hand.sound and ours.sound
    with capsys.disabled():
        sys.stdout.write(
            f"{name}: crossings {ours.crossings} (by hand {hand.crossings}),"
            f" bends {ours.bends} (by hand {hand.bends}),"
            f" length {ours.length:.0f} (by hand {hand.length:.0f})\n"
        )
    for what in ("crossings", "bends"):
        assert getattr(ours, what) <= MOST * getattr(hand, what), (what, ours, hand)
