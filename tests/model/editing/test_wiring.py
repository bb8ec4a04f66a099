"""Parts put in line, splices, ends joined elsewhere, and wires healed, with exact results."""

from __future__ import annotations

from dataclasses import replace

import pytest

from model import editing
from model.circuit import Circuit, End, Fit, Part, Route, Sheet
from model.editing import EditError, Spot
from model.wiresize import Size
from tests.model.editing.small import done, end, joins, lamp, parts, sheet, wires

NEW = Part("n1", "fuse-blade", "F9")


def test_a_fuse_dropped_on_a_wire_cuts_it_where_it_falls() -> None:
    circuit = lamp()
    wire = replace(
        circuit.wires["w2"], tracer="WH", insulation="FLRY", circuit="lamp", note="behind dash",
        first_fit=Fit("ring"), second_fit=Fit("blade"), ends_ohm=0.002, confidence="measured",
    )  # fmt: skip
    circuit = replace(circuit, wires={**circuit.wires, "w2": wire})
    spot = Spot((800.0, 3.0), ((0.0, 0.0), (1000.0, 0.0)))
    edit = editing.insert_part(circuit, "w2", NEW, sheet(), spot)
    after = done(circuit, edit)
    assert joins(after) == joins(circuit) | {"W2": "f1.2 n1.1", "W6": "n1.2 s1.1"}
    first, second = after.wires["w2"], after.wires["w6"]
    assert (first.length_m, second.length_m) == (1.6, 0.4)
    for half in (first, second):
        assert (half.size, half.colour, half.tracer) == (Size(mm2=1.5), "RD", "WH")
        assert (half.insulation, half.circuit) == ("FLRY", "lamp")
        assert (half.confidence, half.ends_ohm) == ("assumed", None)
    assert (first.first_fit, first.second_fit) == (Fit("ring"), Fit())
    assert (second.first_fit, second.second_fit) == (Fit(), Fit("blade"))
    assert (first.note, second.note) == ("behind dash", "")
    assert edit.ids == {"n1", "w2", "w6"}
    assert edit.change.label == "Insert F9 in W2"
    assert [(p.x, p.y) for p in after.sheets["s1"].places.values() if p.part == "n1"] == [(800, 0)]


@pytest.mark.parametrize(
    ("wire", "kind", "halves"),
    [
        ("w2", "diode", {"W2": "f1.2 n1.A", "W6": "n1.K s1.1"}),
        ("w4", "diode", {"W4": "e1.- n1.A", "W6": "n1.K x1.g"}),
        ("w2", "relay-make", {"W2": "f1.2 n1.30", "W6": "n1.87 s1.1"}),
        ("w2", "relay-changeover", {"W2": "f1.2 n1.30", "W6": "n1.87 s1.1"}),
        ("w2", "lamp", {"W2": "f1.2 n1.+", "W6": "n1.- s1.1"}),
        ("w2", "splice", {"W2": "f1.2 n1.s", "W6": "n1.s s1.1"}),
        ("w2", "connector", {"W2": "f1.2 n1.1/a", "W6": "n1.1/b s1.1"}),
        ("w2", "bus-bar", {"W2": "f1.2 n1.1", "W6": "n1.2 s1.1"}),
        ("w2", "key-switch", {"W2": "f1.2 n1.30", "W6": "n1.15 s1.1"}),
    ],
)
def test_what_is_put_in_line_is_fed_from_its_fed_side(
    wire: str, kind: str, halves: dict[str, str]
) -> None:
    circuit = lamp()
    turned = editing.swap_ends(circuit, [wire]).change.apply(circuit)
    new = Part("n1", kind, "N1")
    after = done(circuit, editing.insert_part(circuit, wire, new, sheet()))
    assert joins(after) == joins(circuit) | halves
    back = done(turned, editing.insert_part(turned, wire, new, sheet()))
    ends = {frozenset(v.split()) for v in joins(back).values()}
    assert ends == {frozenset(v.split()) for v in joins(after).values()}


def test_a_part_that_is_there_is_put_in_line_when_it_is_free() -> None:
    circuit = lamp()
    circuit = replace(circuit, parts={**circuit.parts, **parts("F2 fuse-blade")})
    after = done(circuit, editing.insert_part(circuit, "w3", circuit.parts["f2"], sheet()))
    assert joins(after)["W3"] == "s1.2 f2.1"
    with pytest.raises(EditError, match=r"A wire ends at F1\.1 already"):
        editing.insert_part(circuit, "w3", circuit.parts["f1"], sheet())
    with pytest.raises(EditError, match="W3 ends at S1 already"):
        editing.insert_part(circuit, "w3", circuit.parts["s1"], sheet())
    with pytest.raises(EditError, match="X9 has no two free terminals"):
        editing.insert_part(circuit, "w3", Part("x9", "ground", "X9"), sheet())
    with pytest.raises(EditError, match="no wire “w99”"):
        editing.insert_part(circuit, "w99", NEW, sheet())


BENDS = ((300.0, 0.0), (300.0, 100.0), (500.0, 100.0))


@pytest.mark.parametrize(
    ("at", "first", "second"),
    [
        ((250.0, 0.0), BENDS[:0], BENDS),
        ((300.0, 50.0), BENDS[:1], BENDS[1:]),
        ((400.0, 110.0), BENDS[:2], BENDS[2:]),
        ((500.0, 150.0), BENDS, BENDS[:0]),
    ],
)
def test_a_kept_way_is_shared_where_the_wire_is_cut(at, first, second) -> None:  # type: ignore[no-untyped-def]
    circuit = lamp()
    shown = replace(circuit.sheets["s1"], routes={"w2": Route("w2", BENDS)})
    circuit = replace(circuit, sheets={"s1": shown})
    path = ((200.0, 0.0), *BENDS, (500.0, 200.0))
    after = done(circuit, editing.insert_part(circuit, "w2", NEW, shown, Spot(at, path)))
    routes = after.sheets["s1"].routes
    assert routes.get("w2", Route("w2")).bends == first
    assert routes.get("w6", Route("w6")).bends == second


def test_an_end_dropped_on_a_wire_makes_a_splice() -> None:
    circuit = lamp()
    loose = replace(circuit.wires["w3"], id="h", number="W9", first=None, second=End("x1", "g"))
    circuit = replace(circuit, wires={**circuit.wires, "h": loose})
    edit = editing.splice_end(circuit, "h", "first", "w3", sheet(), Spot((500.0, 0.0)))
    after = done(circuit, edit)
    assert joins(after) == joins(circuit) | {
        "W3": "s1.2 p1.s", "W10": "p1.s e1.+", "W9": "p1.s x1.g",
    }  # fmt: skip
    assert after.parts["p1"] == Part("p1", "splice", "SP1")
    assert edit.ids == {"h", "p1"}
    assert edit.change.label == "Splice W9 to W3"
    with pytest.raises(EditError, match="cannot be spliced to itself"):
        editing.splice_end(circuit, "h", "first", "h", sheet())
    with pytest.raises(EditError, match="no end “third”"):
        editing.splice_end(circuit, "h", "third", "w3", sheet())


def test_a_new_wire_from_a_terminal_to_a_wire() -> None:
    circuit = replace(lamp(), parts={**lamp().parts, **parts("E2 lamp")})
    edit = editing.splice_from(circuit, End("e2", "+"), "w3", sheet())
    after = done(circuit, edit)
    assert joins(after) == joins(circuit) | {
        "W3": "s1.2 p1.s", "W6": "p1.s e1.+", "W7": "e2.+ p1.s",
    }  # fmt: skip
    made = after.wires["w7"]
    assert (made.size, made.colour, made.length_m) == (Size(mm2=1.5), "RD", None)
    with pytest.raises(EditError, match="E2 has no terminal “87”; use one of"):
        editing.splice_from(circuit, End("e2", "87"), "w3", sheet())


def test_an_end_is_joined_elsewhere_or_left_open() -> None:
    circuit = lamp()
    after = done(circuit, editing.rejoin(circuit, "w3", "first", End("f1", "2")))
    assert joins(after)["W3"] == "f1.2 e1.+"
    opened = editing.rejoin(circuit, "w3", "second", None)
    assert joins(done(circuit, opened))["W3"] == "s1.2 -"
    assert opened.change.label == "Open W3"
    with pytest.raises(EditError, match=r"Both ends of W3 would be at S1\.2"):
        editing.rejoin(circuit, "w3", "second", End("s1", "2"))
    with pytest.raises(EditError, match="S1 has no terminal “9”"):
        editing.rejoin(circuit, "w3", "second", End("s1", "9"))
    with pytest.raises(EditError, match="no part “zz”"):
        editing.rejoin(circuit, "w3", "second", End("zz", "1"))


def test_a_kept_way_goes_when_an_end_is_joined_elsewhere_and_only_then() -> None:
    circuit = lamp()
    shown = replace(circuit.sheets["s1"], routes={"w3": Route("w3", BENDS)})
    circuit = replace(circuit, sheets={"s1": shown})
    moved = done(circuit, editing.rejoin(circuit, "w3", "first", End("f1", "2")))
    assert moved.sheets["s1"].routes == {}
    same = editing.rejoin(circuit, "w3", "first", End("s1", "2"))
    assert not same.change.swaps


def test_a_wire_turned_round_is_the_same_wire_twice_over() -> None:
    circuit = lamp()
    wire = replace(circuit.wires["w2"], first_fit=Fit("ring"), branches=("b1", "b2"))
    shown = replace(circuit.sheets["s1"], routes={"w2": Route("w2", BENDS)})
    circuit = replace(circuit, wires={**circuit.wires, "w2": wire}, sheets={"s1": shown})
    once = editing.swap_ends(circuit, ["w2"]).change.apply(circuit)
    turned = once.wires["w2"]
    assert joins(once)["W2"] == "s1.1 f1.2"
    assert (turned.first_fit, turned.second_fit) == (Fit(), Fit("ring"))
    assert turned.branches == ("b2", "b1")
    assert once.sheets["s1"].routes["w2"].bends == BENDS[::-1]
    assert editing.swap_ends(once, ["w2"]).change.apply(once) == circuit


@pytest.mark.parametrize("kind", ["fuse-blade", "splice", "stud", "connector", "switch", "bus-bar"])
def test_what_was_put_in_line_and_taken_out_gives_the_wire_back(kind: str) -> None:
    circuit = lamp()
    shown = replace(circuit.sheets["s1"], routes={"w2": Route("w2", BENDS)})
    circuit = replace(circuit, sheets={"s1": shown})
    spot = Spot((300.0, 50.0), ((200.0, 0.0), *BENDS, (500.0, 200.0)))
    within = editing.insert_part(circuit, "w2", Part("n1", kind, "N1"), shown, spot)
    there = within.change.apply(circuit)
    assert there != circuit
    assert done(there, editing.delete(there, ["n1"], heal=True)) == circuit


def test_three_wires_at_a_splice_meet_where_the_thick_one_came_from() -> None:
    made = parts("F1 fuse-blade", "SP1 splice", "E1 lamp", "E2 lamp")
    joined = wires("f1.2 sp1.s", "sp1.s e1.+", "e2.+ sp1.s")
    joined["w1"] = replace(joined["w1"], size=Size(mm2=4.0), length_m=3.0)
    circuit = Circuit(made, joined)
    edit = editing.remove_splice(circuit, "sp1")
    after = done(circuit, edit)
    assert joins(after) == {"W2": "f1.2 e1.+", "W3": "e2.+ f1.2"}
    assert {w.number: (w.length_m, w.size) for w in after.wires.values()} == {
        "W2": (5.0, Size(mm2=1.5)), "W3": (5.0, Size(mm2=1.5)),
    }  # fmt: skip
    assert edit.notes == (
        "W2 and W1 had different sizes: the one wire has the thinner, 1.5 mm².",
        "W3 and W1 had different sizes: the one wire has the thinner, 1.5 mm².",
    )
    assert edit.change.label == "Heal over SP1"


def test_the_last_wire_at_a_splice_is_left_open() -> None:
    circuit = Circuit(parts("SP1 splice", "E1 lamp"), wires("sp1.s e1.+"))
    edit = editing.remove_splice(circuit, "sp1")
    assert joins(done(circuit, edit)) == {"W1": "- e1.+"}
    assert edit.notes == ("W1 is open at one end.",)
    with pytest.raises(EditError, match="E1 is no splice or other joint"):
        editing.remove_splice(circuit, "e1")


def test_loads_diodes_and_relays_are_not_healed_over() -> None:
    circuit = lamp()
    after = done(circuit, editing.delete(circuit, ["e1"], heal=True))
    assert joins(after) == {"W1": "g1.+ f1.1", "W2": "f1.2 s1.1", "W5": "x2.g g1.-"}
    for kind in ("diode", "resistor", "relay-make", "lamp", "battery", "solenoid"):
        there = editing.insert_part(circuit, "w2", Part("n1", kind), Sheet("s1")).change.apply(
            circuit
        )
        gone = editing.delete(there, ["n1"], heal=True).change.apply(there)
        assert "W2" not in joins(gone), kind


def test_every_way_of_a_connector_is_healed_by_itself() -> None:
    made = parts("X1 connector", "E1 lamp", "E2 lamp", "F1 fuse-blade", "F2 fuse-blade")
    joined = wires("f1.2 x1.1/a", "f2.2 x1.2/a", "x1.1/b e1.+", "x1.2/b e2.+", "x1.3/a e1.-")
    circuit = Circuit(made, joined)
    after = done(circuit, editing.delete(circuit, ["x1"], heal=True))
    assert joins(after) == {"W1": "f1.2 e1.+", "W2": "f2.2 e2.+", "W5": "- e1.-"}


def test_a_wire_healed_onto_its_own_start_is_gone() -> None:
    circuit = Circuit(
        parts("SP1 splice", "E1 lamp"), wires("sp1.s e1.+", "e1.+ sp1.s", "sp1.s sp1.s")
    )
    edit = editing.remove_splice(circuit, "sp1")
    assert joins(done(circuit, edit)) == {}
    assert edit.notes == ("W1 would have ended where it starts and is gone.",)
    assert end("-") is None
