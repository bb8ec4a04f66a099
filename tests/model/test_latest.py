"""Edges kept from circuit to circuit: what is kept is what a fresh look would give."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import model.latest
from checks.finding import Finding
from checks.run import check
from checks.sketch import sketch
from model.circuit import Circuit, Part
from model.edits import delete, set_rating
from model.file import load
from model.harness import Zone
from model.kinds import Body
from model.latest import raws_of
from model.lookup import body_of
from model.network import Network
from model.survey import Survey
from model.wiresize import Size
from tests import strategies
from tests.bench.changes import longer as longer_wire
from tests.bench.circuits import cells
from tests.circuits import FOLDER, NAMES


def forget() -> None:
    """Keep nothing of the circuits before."""
    model.latest._LAST[0] = model.latest._Kept()


def nodes_and_edges(circuit: Circuit) -> object:
    """Return what a circuit gives, its frame left out."""
    raws = raws_of(circuit)
    return raws.nodes, raws.edges


def fresh(circuit: Circuit) -> object:
    """Return what a circuit gives with nothing kept."""
    forget()
    return nodes_and_edges(circuit)


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_after_any_changes_what_is_kept_is_what_is_there(data: st.DataObject) -> None:
    circuit = data.draw(strategies.circuits())
    raws_of(circuit)
    for _ in range(4):
        circuit = data.draw(strategies.changes(circuit)).apply(circuit)
        assert nodes_and_edges(circuit) == fresh(circuit)


ACTS = st.sampled_from(("length", "size", "rating", "kind", "cut", "part"))


@settings(max_examples=25, deadline=None)
@given(
    st.sampled_from(NAMES), st.lists(st.tuples(ACTS, st.integers(0, 999)), min_size=1, max_size=5)
)
def test_after_any_changes_findings_are_those_of_a_fresh_look(
    name: str, acts: list[tuple[str, int]]
) -> None:
    circuit = load(FOLDER / f"{name}.voltwalk").circuit
    check(circuit, quick=True)
    for act, number in acts:
        circuit = changed(circuit, act, number)
        kept = told(circuit)
        forget()
        assert kept == told(circuit)


def changed(circuit: Circuit, act: str, number: int) -> Circuit:
    """Return a circuit with one thing changed, which one by a number."""
    wires, parts = list(circuit.wires.values()), list(circuit.parts.values())
    wire, part = wires[number % len(wires)], parts[number % len(parts)]
    if act == "length":
        return replace(
            circuit, wires={**circuit.wires, wire.id: replace(wire, length_m=0.1 * number)}
        )
    if act == "size":
        thin = replace(wire, size=Size(mm2=(0.35, 0.75, 2.5, 10.0)[number % 4]))
        return replace(circuit, wires={**circuit.wires, wire.id: thin})
    if act == "cut":
        return replace(circuit, wires={**circuit.wires, wire.id: replace(wire, second=None)})
    if act == "part":
        return delete(circuit, parts=[part.id]).apply(circuit) if len(parts) > 3 else circuit
    if act == "kind":
        lamps = [p for p in parts if p.kind in ("lamp", "heater", "fan", "pump")] or [part]
        other = replace(lamps[number % len(lamps)], kind=("lamp", "heater", "fan")[number % 3])
        return replace(circuit, parts={**circuit.parts, other.id: other})
    rated = {"fuse-blade": "rating_a", "lamp": "current_a", "fan": "current_a", "pump": "current_a"}
    key = rated.get(part.kind)
    return set_rating(circuit, part.id, key, 1.0 + number % 40).apply(circuit) if key else circuit


def told(circuit: Circuit) -> list[tuple[object, ...]]:
    """Return what is found where, and by what numbers but for rounding."""
    found = check(circuit, quick=True).findings
    return [(f.rule, f.severity, f.parts, f.wires, f.says, *rounded(f)) for f in found]


def rounded(finding: Finding) -> list[object]:
    """Return the values of a finding, without what rounding makes of them."""
    return [float(f"{v:.5g}") if isinstance(v, float) else v for v in finding.values.values()]


def test_numbers_keep_the_frame_and_anything_else_makes_a_new_one(pump: Circuit) -> None:
    frame = raws_of(pump).frame
    wire = next(w for w in pump.wires.values() if w.first and w.second)
    longer = replace(pump, wires={**pump.wires, wire.id: replace(wire, length_m=7.0)})
    assert raws_of(longer).frame is frame
    load = next(p for p in pump.parts.values() if p.kind.startswith("pump"))
    stronger = set_rating(longer, load.id, "current_a", 4.0).apply(longer)
    assert raws_of(stronger).frame is frame
    cut = replace(stronger, wires={**stronger.wires, wire.id: replace(wire, second=None)})
    assert raws_of(cut).frame is not frame
    metal = replace(pump, wires={**pump.wires, wire.id: replace(wire, length_m=0.0)})
    forget()
    frame = raws_of(pump).frame
    joined = [e.owner for e in Network(metal).merged]
    assert (raws_of(metal).frame is frame) is (wire.id not in joined)
    other = replace(pump, settings=replace(pump.settings, nominal_v=24.0))
    assert raws_of(other).frame is not frame


@pytest.mark.parametrize("load", ["heater", "lamp"])
def test_states_moved_from_those_of_the_circuit_before_are_those_solved_anew(load: str) -> None:
    circuit = cells(300, load)
    Survey(circuit, quick=True)
    for n, wire in enumerate(list(circuit.wires)[2:60:4]):
        circuit = longer_wire(circuit, wire, 0.3 + 0.4 * n)
        kept = Survey(circuit, quick=True)
        forget()
        anew = Survey(circuit, quick=True)
        assert np.abs(kept.volts - anew.volts).max() < 1e-8
        assert np.abs(kept.amps - anew.amps).max() < 1e-5
        assert (kept.on == anew.on).all()
        Survey(replace(circuit), quick=True)


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
    model.latest._LAST[0] = model.latest._Kept()
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


def test_a_starter_s_way_may_change_by_a_wire_elsewhere() -> None:
    """The cables on the way of least resistance to a starter are left out behind every fuse."""
    circuit = sketch("""
        G1 battery
        F1 fuse-strip rating_a=200
        M1 starter
        S1 push-make
        X1 ground
        W1 G1.+ F1.1 50 0.2
        W2 F1.2 M1.30 4 0.5
        F2 fuse-strip rating_a=200
        W7 G1.+ F2.1 50 0.5
        W3 F2.2 M1.30 2.5 0.5
        W4 G1.+ S1.1 1 1
        W5 S1.2 M1.50 1 1
        W6 X1.g G1.- 50 0.3
    """)
    for length_m in (0.2, 60.0, 0.2):
        wire = replace(circuit.wires["W1"], length_m=length_m)
        circuit = replace(circuit, wires={**circuit.wires, "W1": wire})
        kept = told(circuit)
        forget()
        assert kept == told(circuit)
