"""Edges kept from circuit to circuit: what is kept is what a fresh look would give."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import model.raws
from model.circuit import Circuit, Part
from model.edits import set_rating
from model.file import load
from model.harness import Zone
from model.kinds import Body
from model.lookup import body_of
from model.network import Network
from model.raws import raws_of
from tests import strategies


def fresh(circuit: Circuit) -> object:
    """Return what a circuit gives with nothing kept."""
    model.raws._LAST[0] = model.raws._Kept()
    return raws_of(circuit)


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_after_any_changes_what_is_kept_is_what_is_there(data: st.DataObject) -> None:
    circuit = data.draw(strategies.circuits())
    raws_of(circuit)
    for _ in range(4):
        circuit = data.draw(strategies.changes(circuit)).apply(circuit)
        assert raws_of(circuit) == fresh(circuit)


@pytest.fixture
def pump() -> Circuit:
    """Return a circuit with a relay and a pump behind it."""
    return load(Path("assets/examples/fuel-pump.voltwalk")).circuit


def test_a_new_rating_and_new_surroundings_are_seen(pump: Circuit) -> None:
    coil = next(p for p in pump.parts.values() if p.kind.startswith("relay"))
    before = [e.ohm for e in Network(pump).edges]
    rated = set_rating(pump, coil.id, "coil_ohm", 200.0).apply(pump)
    assert [e.ohm for e in Network(rated).edges] != before
    conditions = replace(pump.settings.conditions, temperature_c=80.0)
    warm = replace(pump, settings=replace(pump.settings, conditions=conditions))
    assert [e.ohm for e in Network(warm).edges] == [e.ohm for e in _alone(warm).edges] != before


def test_a_zone_of_what_the_end_of_a_wire_sits_in_is_seen(pump: Circuit) -> None:
    inner = next(p for p in pump.parts.values() if p.kind.startswith("relay"))
    box, car = Part("B1", "fuse-box", "B1", host="B2"), Part("B2", "fuse-box", "B2")
    parts = {**pump.parts, "B1": box, "B2": car, inner.id: replace(inner, host="B1", slot="x")}
    cold = replace(pump, parts=parts, zones={"z": Zone("z", "engine bay", 90.0)})
    before = [e.ohm for e in Network(cold).edges]
    hot = replace(cold, parts={**cold.parts, "B2": replace(car, zone="z")})
    after = [e.ohm for e in Network(hot).edges]
    assert after == [e.ohm for e in _alone(hot).edges]
    assert sum(a != b for a, b in zip(before, after, strict=True)) >= 3  # the coil, wires at it


def _alone(circuit: Circuit) -> Network:
    """Return the network of a circuit with nothing kept."""
    model.raws._LAST[0] = model.raws._Kept()
    return Network(circuit)


def test_only_what_changed_is_reckoned_again(
    pump: Circuit, monkeypatch: pytest.MonkeyPatch
) -> None:
    raws_of(pump)
    asked: list[str] = []

    def noted(circuit: Circuit, part: Part) -> Body:
        asked.append(part.id)
        return body_of(circuit, part)

    monkeypatch.setattr("model.raws.body_of", noted)
    raws_of(pump)
    assert asked == []
    part = next(iter(pump.parts.values()))
    raws_of(replace(pump, parts={**pump.parts, part.id: replace(part, name="another")}))
    assert part.id in asked
    assert set(asked) <= {part.id} | _beside(pump, part.id)


def _beside(circuit: Circuit, part_id: str) -> set[str]:
    """Return the parts that a wire joins to a part."""
    ends = [(w.first, w.second) for w in circuit.wires.values()]
    both = [{e.part for e in pair if e} for pair in ends]
    return set().union(*(pair for pair in both if part_id in pair))
