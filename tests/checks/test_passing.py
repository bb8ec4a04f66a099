"""Contacts that exclude one another on one way, and walks that remember it."""

from __future__ import annotations

from checks.passing import FREE, Been, after, choosy
from checks.sketch import sketch
from model.network import Network

PARTS = """
    S1 switch-changeover
    S2 switch
    S3 switch-table table=OFF;SIDE:30-58;HEAD:30-58,30-56 terminals=30,58,56
    K1 relay-changeover
"""


def test_only_change_overs_have_to_be_remembered() -> None:
    edges = Network(sketch(PARTS)).edges
    assert choosy(edges) == {("S1", ""), ("K1", "coil")}


def test_a_way_keeps_to_the_positions_it_began_with() -> None:
    net = Network(sketch(PARTS))
    movers = choosy(net.edges)
    first, second = (net.edges[net.by_key[("K1", e)]] for e in ("make", "break"))
    held = after(first, FREE, movers)
    assert held == frozenset({(("K1", "coil"), frozenset({"in"}))})
    assert held is not None
    assert after(first, held, movers) == held
    assert after(second, held, movers) is None


def test_a_visit_that_leaves_less_open_is_none() -> None:
    net = Network(sketch(PARTS))
    held = after(net.edges[net.by_key[("K1", "make")]], FREE, choosy(net.edges))
    assert held is not None
    been = Been()
    assert been.new(1, held)
    assert not been.new(1, held)
    assert been.new(1, FREE)
    assert not been.new(1, held)
    assert been.nodes == {1}
