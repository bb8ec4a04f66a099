"""Selections by what belongs together, and finding by name, against circuits worked by hand."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import networkx as nx
import pytest

from model import editing
from model.circuit import Circuit
from model.editing import EditError, Hit
from model.file import load
from model.kinds.body import ShellPath, SourcePath
from model.lookup import body_of, kind_of
from model.wiresize import Size
from tests.model.editing.small import lamp, parts, wires

ASSETS = Path(__file__).resolve().parents[3] / "assets" / "examples"
PUMP = load(ASSETS / "fuel-pump.voltwalk").circuit
EXAMPLES = {p.stem: load(p).circuit for p in sorted(ASSETS.glob("*.voltwalk"))}


def _named(circuit: Circuit, ids: frozenset[str]) -> set[str]:
    parts = {circuit.parts[i].reference for i in ids if i in circuit.parts}
    return parts | {circuit.wires[i].number for i in ids if i in circuit.wires}


def _id(circuit: Circuit, name: str) -> str:
    for part in circuit.parts.values():
        if part.reference == name:
            return part.id
    return next(w.id for w in circuit.wires.values() if w.number == name)


def _of(circuit: Circuit, name: str, act) -> set[str]:  # type: ignore[no-untyped-def]
    return _named(circuit, act(circuit, _id(circuit, name)))


def test_the_whole_pump_circuit_from_any_of_its_parts() -> None:
    whole = {"F1", "F2", "S1", "S2", "K1", "M1", *(f"W{i}" for i in range(1, 10))}
    for start in ("M1", "S1", "F2", "W8"):
        found = editing.whole_circuit(PUMP, [_id(PUMP, start)])
        assert _named(PUMP, found) == whole
    power = editing.whole_circuit(PUMP, [_id(PUMP, "M1")], by_coils=False)
    assert _named(PUMP, power) == {"F1", "K1", "M1", "W1", "W2", "W3", "W4"}


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_whole_circuit_is_what_a_graph_joins_once_supplies_and_grounds_are_out(name: str) -> None:
    """Oracle: connected components of networkx over terminals, built here from the kinds alone."""
    circuit = EXAMPLES[name]
    graph: nx.Graph[object] = nx.Graph()
    ends = {p.id for p in circuit.parts.values() if kind_of(circuit, p).family
            in ("supply", "ground")}  # fmt: skip
    for part in circuit.parts.values():
        body = body_of(circuit, part)
        if part.id in ends:
            continue
        graph.add_nodes_from((part.id, t.node) for t in body.terminals)
        for e in body.elements:
            if not isinstance(e, SourcePath | ShellPath):
                graph.add_edge((part.id, e.a), (part.id, e.b))
        host = circuit.parts.get(part.host)
        for slot in body_of(circuit, host).slots if host else ():
            for guest, own in slot.joins if slot.name == part.slot else ():
                if body.terminal(guest):
                    graph.add_edge((part.id, guest), (part.host, own))
    for wire in circuit.wires.values():
        nodes = [e.node for e in (wire.first, wire.second) if e and e.part not in ends]
        graph.add_edge(wire.id, wire.id)
        graph.add_edges_from((wire.id, n) for n in nodes)
    for part in circuit.parts.values():
        if part.id in ends:
            continue
        mine = [(part.id, t.node) for t in body_of(circuit, part).terminals]
        joined = set().union(*(nx.node_connected_component(graph, n) for n in mine))
        want = {n if isinstance(n, str) else n[0] for n in joined} | {part.id}
        assert editing.whole_circuit(circuit, [part.id], by_coils=False) == want


def test_what_a_fuse_feeds() -> None:
    assert _of(PUMP, "F1", editing.fed_by) == {"F1", "K1", "M1", "W2", "W3"}
    assert _of(PUMP, "F2", editing.fed_by) == {"F2", "S1", "S2", "K1", "W6", "W7", "W8"}
    with pytest.raises(EditError, match="M1 is no fuse"):
        _of(PUMP, "M1", editing.fed_by)


def test_a_fuse_feeds_the_fuses_behind_it_and_never_what_feeds_it() -> None:
    made = parts("G1 battery", "F1 fuse-strip", "F2 fuse-blade", "F3 fuse-blade", "E1 lamp",
                 "E2 lamp", "SP1 splice", "X1 ground")  # fmt: skip
    circuit = Circuit(made, wires(
        "g1.+ f1.1", "f1.2 sp1.s", "sp1.s f2.1", "sp1.s f3.1", "f2.2 e1.+", "f3.2 e2.+",
        "e1.- x1.g", "e2.- x1.g", "x1.g g1.-"))  # fmt: skip
    assert editing.fed_by(circuit, "f1") == {
        "f1", "f2", "f3", "e1", "e2", "sp1", "w2", "w3", "w4", "w5", "w6",
    }  # fmt: skip
    assert editing.fed_by(circuit, "f2") == {"f2", "e1", "w5"}
    turned = replace(circuit, wires={**circuit.wires, **wires("g1.+ f1.2", "f1.1 sp1.s")})
    assert editing.fed_by(turned, "f1") == editing.fed_by(circuit, "f1")


def test_both_feeds_of_a_change_over_switch_are_told_apart() -> None:
    made = parts("G1 battery", "F1 fuse-blade", "F2 fuse-blade", "S1 switch-changeover", "E1 lamp",
                 "E2 lamp")  # fmt: skip
    circuit = Circuit(made, wires(
        "g1.+ f1.1", "g1.+ f2.1", "f1.2 s1.A", "f2.2 s1.B", "s1.C e1.+", "f2.2 e2.+"))  # fmt: skip
    assert editing.fed_by(circuit, "f1") == {"f1", "s1", "e1", "w3", "w5"}
    assert editing.fed_by(circuit, "f2") == {"f2", "s1", "e1", "e2", "w4", "w5", "w6"}


def test_a_switch_past_a_fuse_does_not_lead_back_to_the_supply() -> None:
    made = parts("G1 battery", "S1 master-switch", "SP1 splice", "F1 fuse-blade", "F2 fuse-blade",
                 "S2 switch", "E1 lamp", "E2 lamp", "E3 lamp")  # fmt: skip
    circuit = Circuit(made, wires(
        "g1.+ s1.1", "s1.2 sp1.s", "sp1.s f1.1", "sp1.s f2.1", "f1.2 e1.+", "sp1.s s2.1",
        "s2.2 e1.+", "f2.2 e2.+", "sp1.s e3.+"))  # fmt: skip
    assert editing.fed_by(circuit, "f1") == {"f1", "e1", "s2", "w5", "w7"}
    unfed = replace(circuit, wires={k: w for k, w in circuit.wires.items() if k != "w1"})
    assert {"f1", "e1", "w5"} <= editing.fed_by(unfed, "f1")


def test_a_diode_feeds_one_way_and_returns_the_other() -> None:
    made = parts("G1 battery", "F1 fuse-blade", "F2 fuse-blade", "V1 diode", "E1 lamp", "E2 lamp",
                 "X1 ground")  # fmt: skip
    circuit = Circuit(made, wires(
        "g1.+ f1.1", "g1.+ f2.1", "f1.2 v1.A", "v1.K e1.+", "f2.2 e1.+", "f1.2 e2.+",
        "e1.- x1.g", "e2.- x1.g"))  # fmt: skip
    assert editing.fed_by(circuit, "f1") == {"f1", "v1", "e1", "e2", "w3", "w4", "w5", "w6", "f2"}
    assert editing.fed_by(circuit, "f2") == {"f2", "e1", "v1", "w4", "w5"}


def test_what_returns_to_a_ground_point() -> None:
    assert _of(PUMP, "X1", editing.on_ground) == {"X1", "M1", "K1", "W4", "W9"}
    assert _of(PUMP, "X2", editing.on_ground) == {"X2", "W10"}
    made = parts("K1 relay-make", "S1 switch", "X1 ground", "X2 ground")
    low = Circuit(made, wires("k1.85 s1.1", "s1.2 x1.g", "x2.g k1.87"))
    assert editing.on_ground(low, "x1") == {"x1", "s1", "k1", "w1", "w2"}
    with pytest.raises(EditError, match="S1 is no ground point"):
        editing.on_ground(low, "s1")


def test_parts_of_a_kind_and_wires_of_a_colour_or_size() -> None:
    assert _named(PUMP, editing.of_kind(PUMP, "fuse-blade")) == {"F1", "F2"}
    assert _named(PUMP, editing.of_kind(PUMP, "ground", "relay")) == {"X1", "X2", "K1"}
    assert _named(PUMP, editing.of_colour(PUMP, "RD")) == {"W1", "W2", "W5", "W6"}
    assert _named(PUMP, editing.of_colour(PUMP, "RD", "WH")) == {"W6"}
    assert _named(PUMP, editing.of_colour(PUMP, "RD", "")) == {"W1", "W2", "W5"}
    assert _named(PUMP, editing.of_size(PUMP, Size(mm2=16.0))) == {"W10"}
    assert editing.of_size(PUMP, None) == frozenset()
    found = replace(PUMP.wires["w1"], found_colour="BN")
    seen = replace(PUMP, wires={**PUMP.wires, "w1": found})
    assert _named(seen, editing.of_colour(seen, "BN")) == {"W1"}


def _first(text: str, circuit: Circuit = PUMP) -> list[str]:
    return [sorted(_named(circuit, frozenset({h.id})))[0] for h in editing.find(circuit, text)]


def test_the_closest_name_comes_first() -> None:
    assert _first("F1")[0] == "F1"
    assert _first("w1") == ["W1", "W10"]
    assert _first("pump relay")[0] == "K1"
    assert _first("crash")[0] == "S2"
    assert _first("battery")[:2] == ["G1", "X2"]
    assert _first("RD/WH") == ["W6"]
    assert _first("yellow") == ["W7", "W8"]
    assert _first("") == _first("   ") == []
    assert _first("no such thing at all") == []
    assert editing.find(PUMP, "w10") == (Hit(_id(PUMP, "W10"), "wires", "number", 100.0, "W10"),)


def test_terminals_are_found_with_the_wires_there() -> None:
    joined = {w.number for w in PUMP.wires.values() for e in (w.first, w.second)
              if e and e.part == _id(PUMP, "K1") and e.terminal == "86"}  # fmt: skip
    assert joined
    hits = editing.find(PUMP, "K1.86")
    assert (hits[0].id, hits[0].field, hits[0].text) == (_id(PUMP, "K1"), "terminal", "K1.86")
    assert {*_first("k1.86")} == {"K1", *joined}
    assert _first("K1.8")[0] == "K1"
    assert _first("85") == ["K1"]
    assert "K1" not in _first("8")
    relay = replace(PUMP.parts[_id(PUMP, "K1")], markings=(("86", "A1"),))
    marked = replace(PUMP, parts={**PUMP.parts, relay.id: relay})
    assert _first("K1.A1", marked)[0] == _first("a1", marked)[0] == "K1"


def test_slips_of_the_finger_still_find() -> None:
    assert _first("cransh switch")[0] == "S2"
    assert _first("fuel pmup")[0] == "M1"
    assert _first("K7") == []


def test_notes_and_places_are_looked_at_after_names() -> None:
    circuit = lamp()
    noted = replace(circuit.parts["x1"], note="beside the lamp", location="left sill")
    circuit = replace(circuit, parts={**circuit.parts, "x1": noted})
    hits = editing.find(circuit, "lamp")
    assert [(h.id, h.field) for h in hits] == [("e1", "kind"), ("x1", "note")]
    assert editing.find(circuit, "left sill")[0].field == "location"
    assert len(editing.find(circuit, "w", most=2)) == 2
