"""The parts of the layout, each against an independent calculation."""

from __future__ import annotations

from itertools import pairwise
from random import Random

import networkx as nx
import numpy as np
import pytest

from model.circuit import Circuit, Part, Place, Sheet
from model.layout.card import cards
from model.layout.field import BLOCK, STEP, Field
from model.layout.least import settle, straighten
from model.layout.order import Columns, Link, arrange_columns, crossings
from model.layout.search import BEND, Gate, search
from model.layout.text import elided, text_width, wrapped


def random_field(random: Random) -> Field:
    """Return a field with a few cards and wires on it."""
    parts = {
        f"p{i}": Part(f"p{i}", random.choice(("lamp", "relay-make", "splice"))) for i in range(6)
    }
    places = {
        p: Place(p, p, random.randrange(0, 30) * 10, random.randrange(0, 20) * 10) for p in parts
    }
    sheet = Sheet("s", places=places)
    field = Field(sheet, cards(Circuit(parts=parts), sheet))
    for _ in range(8):
        x, y, far = (
            random.randrange(0, 30) * 10,
            random.randrange(0, 20) * 10,
            random.randrange(5, 20) * 10,
        )
        field.lay(((x, y), (x + far, y)) if random.random() < 0.5 else ((x, y), (x, y + far)))
    return field


def cheapest(field: Field, start: Gate, goal: Gate) -> float:
    """Return the least cost by Dijkstra's method over cells and directions."""
    graph = nx.DiGraph()
    rows, columns = field.shape
    for r in range(rows):
        for c in range(columns):
            for dr, dc, costs, way in ((0, 1, field.across, "l"), (1, 0, field.down, "u")):
                for sign in (1, -1):
                    to = (r + sign * dr, c + sign * dc)
                    if field.holds(to) and costs[to] < BLOCK:
                        graph.add_edge(((r, c), way), (to, way), weight=int(costs[to]))
            if not field.upright[r, c]:
                graph.add_edge(((r, c), "l"), ((r, c), "u"), weight=BEND)
            if not field.level[r, c]:
                graph.add_edge(((r, c), "u"), ((r, c), "l"), weight=BEND)
    begin, end = (start.cell, "l" if start.level else "u"), (goal.cell, "l" if goal.level else "u")
    try:
        return float(nx.dijkstra_path_length(graph, begin, end))
    except nx.NetworkXNoPath:
        return float("inf")


def price(field: Field, way: list[tuple[int, int]]) -> int:
    """Return what a way costs, cell by cell."""
    total = BEND * max(0, len(way) - 2)
    for (ra, ca), (rb, cb) in pairwise(way):
        if ra == rb:
            step = 1 if cb > ca else -1
            total += sum(int(field.across[ra, c]) for c in range(ca + step, cb + step, step))
        else:
            step = 1 if rb > ra else -1
            total += sum(int(field.down[r, ca]) for r in range(ra + step, rb + step, step))
    return total


@pytest.mark.parametrize("seed", range(12))
def test_the_way_found_is_near_the_cheapest(seed: int) -> None:
    """Never cheaper than the oracle (that would be a wrong sum), and seldom dearer by much."""
    random = Random(seed)
    field = random_field(random)
    free = np.argwhere((field.across < BLOCK) & (field.down < BLOCK))
    for _ in range(3):
        a, b = (tuple(int(v) for v in free[random.randrange(len(free))]) for _ in range(2))
        start, goal = Gate((a[0], a[1]), True, 0), Gate((b[0], b[1]), True, 0)
        best = cheapest(field, start, goal)
        way = search(field, [start], [goal], ())
        if way is None:
            assert best == float("inf")
            continue
        found = price(field, way)
        assert found >= best - BEND
        assert found <= best * 1.25 + 8 * STEP + 400


def test_a_way_is_found_wherever_there_is_one_even_if_narrow() -> None:
    sheet = Sheet("s", places={"1": Place("1", "a"), "2": Place("2", "b", 700, 0)})
    parts = {"a": Part("a", "fuse-blade"), "b": Part("b", "fuse-blade")}
    field = Field(sheet, cards(Circuit(parts=parts), sheet))
    for x in (300.0, 310.0):
        field.base[:, field.cell(x, 0)[1]] = BLOCK
    gap = field.cell(300, 90)[0]
    field.base[gap, :] = STEP
    field.across[:], field.down[:] = field.costs(
        (slice(0, field.shape[0]), slice(0, field.shape[1]))
    )
    way = search(field, [Gate(field.cell(70, 0), True, 0)], [Gate(field.cell(630, 0), True, 0)], ())
    assert way is not None
    assert any(cell[0] == gap for cell in way)


def test_settling_keeps_gaps_and_joins_what_it_can() -> None:
    found = settle(4, [(0, 1, 3.0)], [(0, 2, 0.0, 1.0), (1, 3, 2.0, 1.0)])
    assert found[1] - found[0] >= 3
    assert found[2] == found[0]
    assert found[3] == found[1] + 2


def test_settling_what_contradicts_itself_says_so() -> None:
    with pytest.raises(ValueError, match="No positions satisfy"):
        settle(2, [(0, 1, 1.0), (1, 0, 1.0)], [])


def test_straightening_trades_two_bends_for_one_but_never_breaks_a_gap() -> None:
    pulls = [(0, 1, 0.0, 1.0), (1, 2, 0.0, 1.0)]
    assert straighten([0.0, 1.0, 2.0], [], pulls)[1] in (0.0, 2.0)
    held = straighten([0.0, 1.0, 2.0], [(0, 1, 1.0), (1, 2, 1.0)], pulls)
    assert held == [0.0, 1.0, 2.0]


def test_the_order_found_has_no_crossing_where_none_is_needed() -> None:
    random = Random(5)
    links = [Link(f"a{i}", f"b{i}", 0.0, 0.0) for i in range(7)]
    things = [[k.tail for k in links], [k.head for k in links]]
    for column in things:
        random.shuffle(column)
    random.shuffle(links)
    columns = Columns(things, [links, []])
    assert crossings(columns) > 0
    arrange_columns(columns)
    assert crossings(columns) == 0


def test_texts_are_cut_and_wrapped_to_their_room() -> None:
    assert text_width("WWW") > text_width("iii")
    assert text_width("F1", bold=True) > text_width("F1")
    assert elided("a long text", 30).endswith("…")
    assert text_width(elided("a long text", 30)) <= 30
    lines = wrapped("kill switch on the dash and outside", 90).split("\n")
    assert len(lines) == 2
    assert all(text_width(line) <= 90 for line in lines)
    assert wrapped("short", 90) == "short"
    assert elided("x", 1) == ""
