"""Coil and contacts drawn apart: still one part, every terminal shown once, and back again."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from model.circuit import Circuit, Place, Sheet
from model.editing import EditError, add_sheet, draw_apart, draw_as_one, move_to_sheet, rotate
from model.editing.apart import pieces
from model.editing.room import PIECE, places_meant
from model.file import dumps, load, loads
from model.kinds import KINDS
from model.layout.card import card, cards
from model.layout.joints import Joints
from model.layout.place import arrange
from model.lookup import body_of
from model.solver import Solver
from model.states import Setting

EXAMPLES = Path(__file__).parents[3] / "assets" / "examples"


def drawn(name: str = "fuel-pump") -> tuple[Circuit, Sheet, str]:
    """Return an example with every place on its sheet, and its relay."""
    circuit = load(EXAMPLES / f"{name}.voltwalk").circuit
    bare = replace(circuit, sheets={"s1": Sheet("s1", "Sheet 1")})
    sheet = Sheet("s1", "Sheet 1", places={p.id: p for p in arrange(bare, "s1")})
    circuit = replace(circuit, sheets={"s1": sheet})
    return circuit, sheet, next(k for k, p in circuit.parts.items() if p.reference == "K1")


def apart(circuit: Circuit, sheet: Sheet, relay: str) -> Circuit:
    """Return the circuit with the relay drawn apart."""
    return draw_apart(circuit, sheet, [relay]).change.apply(circuit)


@pytest.mark.parametrize("kind", [k for k, v in KINDS.items() if v.family == "relay"])
def test_the_pieces_of_a_relay_share_no_terminal_and_leave_none_out(kind: str) -> None:
    body = KINDS[kind].body
    found = pieces(body)
    if kind in ("relay-socket", "flasher"):  # no coil of its own; its coil and contact share 49
        assert found == ()
        return
    shown = [{n for e in body.elements if e.name in p for n in (e.a, e.b)} for p in found]
    for terminal in body.terminals:
        assert sum(terminal.node in nodes for nodes in shown) == 1, terminal.key
    assert sum(len(p) for p in found) == len(body.elements)


def test_no_part_without_a_coil_comes_apart() -> None:
    assert not any(pieces(k.body) for k in KINDS.values() if k.family != "relay")


def test_apart_every_wire_still_has_both_ends_and_no_card_lies_on_another() -> None:
    circuit, sheet, relay = drawn()
    after = apart(circuit, sheet, relay)
    shown = after.sheets["s1"]
    made = cards(after, shown)
    two = places_meant(shown, [relay])
    assert [made[p.id].piece for p in two] == ["coil", "contacts"]
    assert {k for p in two for k in made[p.id].ports} == {"30", "85", "86", "87"}
    joints = Joints(after, shown, made)
    assert all(None not in joints.of(w) for w in after.wires)
    areas = [made[k].outer.moved(p.x, p.y) for k, p in shown.places.items()]
    assert not any(a.overlaps(b) for i, a in enumerate(areas) for b in areas[:i])
    assert after.parts == circuit.parts
    assert after.wires == circuit.wires


def test_apart_the_circuit_does_the_same() -> None:
    circuit, sheet, relay = drawn()
    after = apart(circuit, sheet, relay)
    switch = next(k for k, p in circuit.parts.items() if p.reference == "S1")
    for position in ("OFF", "ON"):
        setting = Setting({switch: position})
        a, b = (Solver(c).settle(setting) for c in (circuit, after))
        assert all(a.state.current(w) == b.state.current(w) for w in circuit.wires)


def test_as_one_again_and_each_taken_back_is_the_same_byte_for_byte() -> None:
    circuit, sheet, relay = drawn()
    edit = draw_apart(circuit, sheet, [relay])
    after = edit.change.apply(circuit)
    assert edit.change.revert(after) == circuit
    assert edit.change.label == "Draw coil and contacts of K1 apart"
    again = draw_as_one(after, after.sheets["s1"], [relay])
    one = again.change.apply(after)
    assert again.change.revert(one) == after
    (place,) = places_meant(one.sheets["s1"], [relay])
    assert place.shows == ()
    assert set(card(one, one.parts[relay], place).ports) == {"30", "85", "86", "87"}


def test_the_pieces_come_back_from_the_file() -> None:
    circuit, sheet, relay = drawn()
    after = apart(circuit, sheet, relay)
    assert loads(dumps(after)).circuit.sheets == after.sheets


def test_one_piece_goes_to_another_sheet_and_each_says_where_the_other_is() -> None:
    circuit, sheet, relay = drawn()
    after = apart(circuit, sheet, relay)
    after = add_sheet(after, "Control").change.apply(after)
    coil, contacts = places_meant(after.sheets["s1"], [relay])
    moved = move_to_sheet(after, after.sheets["s1"], [PIECE + coil.id], "s2")
    after = moved.change.apply(after)
    (here,) = places_meant(after.sheets["s1"], [relay])
    (there,) = places_meant(after.sheets["s2"], [relay])
    assert (here.shows, there.shows) == (contacts.shows, coil.shows)
    part = after.parts[relay]
    assert card(after, part, here).name_text.replace("\n", " ") == "contacts; coil: Control"
    assert "contacts: Sheet 1" in card(after, part, there).name_text.replace("\n", " ")
    one = draw_as_one(after, after.sheets["s1"], [relay]).change.apply(after)
    assert [len(places_meant(s, [relay])) for s in one.sheets.values()] == [1, 0]


def test_one_piece_is_turned_and_the_other_stays() -> None:
    circuit, sheet, relay = drawn()
    after = apart(circuit, sheet, relay)
    coil, contacts = places_meant(after.sheets["s1"], [relay])
    turned = rotate(after, after.sheets["s1"], [PIECE + contacts.id]).change.apply(after)
    places = turned.sheets["s1"].places
    assert (places[coil.id].turn, places[contacts.id].turn) == (0, 90)


def test_a_layout_made_anew_keeps_the_pieces() -> None:
    circuit, sheet, relay = drawn()
    after = apart(circuit, sheet, relay)
    assert relay not in {p.part for p in arrange(after, "s1", set(after.parts))}


@pytest.mark.parametrize(
    ("name", "part", "said"),
    [
        ("indicators", "K1", "coil and its contacts share terminal 49, and a terminal stands"),
        ("fuel-pump", "M1", "M1 has no coil that moves contacts"),
        ("fuel-pump", "no part", "Select a relay"),
    ],
)
def test_what_cannot_be_drawn_apart_says_why(name: str, part: str, said: str) -> None:
    circuit, sheet, _ = drawn(name)
    ids = [k for k, p in circuit.parts.items() if p.reference == part]
    with pytest.raises(EditError, match=said):
        draw_apart(circuit, sheet, ids)


def test_it_is_not_drawn_apart_twice_and_not_as_one_when_it_is() -> None:
    circuit, sheet, relay = drawn()
    after = apart(circuit, sheet, relay)
    with pytest.raises(EditError, match="apart already"):
        draw_apart(after, after.sheets["s1"], [relay])
    with pytest.raises(EditError, match="drawn apart first"):
        draw_as_one(circuit, sheet, [relay])


def test_the_pieces_are_places_of_the_file_as_it_was() -> None:
    """`shows` names elements; a place without it shows the whole part."""
    circuit, sheet, relay = drawn()
    after = apart(circuit, sheet, relay)
    names = {e.name for e in body_of(circuit, circuit.parts[relay]).elements}
    shown = [n for p in places_meant(after.sheets["s1"], [relay]) for n in p.shows]
    assert sorted(shown) == sorted(names)
    assert Place("c", relay).shows == ()


def test_a_starter_says_which_terminal_its_solenoid_shares_with_its_motor() -> None:
    circuit, sheet, relay = drawn()
    starter = replace(circuit.parts[relay], kind="starter", markings=(("31", "frame"),))
    other = replace(circuit, parts={**circuit.parts, relay: starter})
    with pytest.raises(EditError, match="share terminal frame, and a terminal stands"):
        draw_apart(other, sheet, [relay])
