"""Ground points of many wires: the lines above them stay free of other ground points."""

from __future__ import annotations

from itertools import permutations

import pytest

from model.kinds import KINDS
from model.layout.drawing import Drawing
from model.layout.geometry import GRID, Rect
from tests.model.layout.circuits import random_circuit


@pytest.mark.parametrize(("seed", "parts"), [(72, 88), (1, 60), (2, 120), (3, 200)])
def test_no_ground_point_stands_where_the_wires_of_another_come_down(seed: int, parts: int) -> None:
    circuit = random_circuit(seed, parts)
    drawing = Drawing(circuit)
    spots = drawing.spots()
    grounds = [p.id for p in circuit.parts.values() if KINDS[p.kind].family == "ground"]
    ends = [e.part for w in circuit.wires.values() for e in (w.first, w.second) if e is not None]
    areas = {g: drawing.cards[g].outer.moved(*spots[g]) for g in grounds}
    assert len(areas) > 4
    for ground, other in permutations(areas, 2):
        mine, lines = areas[ground], GRID * ends.count(ground)
        assert not Rect(mine.x, mine.y - lines, mine.w, lines).overlaps(areas[other])
