"""A part of one's own as rows of a form: read from a kind, written back, what is wrong told."""

from __future__ import annotations

from dataclasses import replace

import pytest

from app.owning.draft import (
    STATED,
    OwnDraft,
    PositionRow,
    draft_of,
    fresh_key,
    kind_from,
    pair,
    with_default,
)
from app.owning.elements import ElementRow
from app.owning.sentences import sentences
from model.circuit import Circuit, End, OwnKind, Part, Wire
from model.editing import define_kind
from model.file import dumps, loads
from model.kinds import KINDS
from model.kinds.body import Coil, Contact, Terminal
from model.solver import Solver
from model.states import Memory, Setting
from model.wiresize import Size

EMPTY = Circuit()


def terminals(*keys: str) -> tuple[Terminal, ...]:
    """Return terminals of these names, the first on the left."""
    return tuple(Terminal(k, side="right" if i else "left") for i, k in enumerate(keys))


def relay() -> OwnDraft:
    """Return a relay with a resistor across its load."""
    return OwnDraft(
        "Pump module",
        "K",
        "relay",
        terminals=terminals("30", "86", "87", "85"),
        elements=(
            ElementRow("coil", "coil", "86", "85", "hold"),
            ElementRow("make", "contact", "30", "87", "coil in"),
            ElementRow("drain", "resistance", "87", "85"),
        ),
    )


def selector() -> OwnDraft:
    """Return a switch of three positions, one of which springs back."""
    return OwnDraft(
        "Selector",
        "S",
        "control",
        terminals=terminals("C", "1", "2"),
        positions=(
            PositionRow("OFF"),
            PositionRow("LOW", "C-1"),
            PositionRow("HIGH", "C–1, C−2", "LOW"),
        ),
    )


def wired(own: OwnKind, joins: str) -> Circuit:
    """Return a battery and a part of this kind, joined as "+ 30, - 85" says."""
    parts = {"g": Part("g", "battery", "G1"), "p": Part("p", own.id, "X1")}
    wires = {}
    for number, text in enumerate(joins.split(", ")):
        pole, key = text.split()
        end = End("p", key)
        wires[f"w{number}"] = Wire(f"w{number}", "", End("g", pole), end, Size(mm2=2.5), 1.0)
    circuit = Circuit(parts, wires, own_kinds={own.id: own})
    return loads(dumps(circuit)).circuit


@pytest.mark.parametrize("made", [relay(), selector()], ids=lambda d: d.title)
def test_a_whole_draft_is_read_back_from_its_kind(made: OwnDraft) -> None:
    assert sentences(made, EMPTY) == []
    own = kind_from(made, EMPTY)
    again = draft_of(own)
    assert kind_from(again, EMPTY) == own
    assert replace(again, ratings=()) == replace(made, rest=again.rest, ratings=(),
                                                 positions=again.positions)  # fmt: skip


def test_a_kind_is_saved_and_read_from_the_file() -> None:
    own = kind_from(relay(), EMPTY)
    circuit = define_kind(EMPTY, own).change.apply(EMPTY)
    assert loads(dumps(circuit)).circuit.own_kinds == {own.id: own}


def test_the_ratings_that_elements_need_are_there_with_their_defaults() -> None:
    """The usual cube relay: 90 Ω coil; 3 mΩ contact (published relay data)."""
    specs = kind_from(relay(), EMPTY).kind.specs
    assert (specs["coil_ohm"].default, specs["coil_ohm"].default_24) == (90.0, 350.0)
    assert specs["contact_ohm"].default == 0.003
    assert specs["fixed_ohm"].default == 100.0
    assert not [k for k in specs if k.startswith("suppression")]


def test_ratings_go_with_their_element_unless_someone_stated_them() -> None:
    own = kind_from(relay(), EMPTY)
    shown = replace(relay(), ratings=own.kind.ratings)
    without = replace(shown, elements=shown.elements[1:2])
    keys = {r.key for r in kind_from(without, EMPTY).kind.ratings}
    assert "coil_ohm" not in keys
    stated = tuple(
        with_default(r, 75.0, at_24=False) if r.key == "coil_ohm" else r for r in shown.ratings
    )
    kept = kind_from(replace(shown, ratings=stated), EMPTY).kind.specs["coil_ohm"]
    assert (kept.default, kept.source) == (75.0, STATED)


def test_a_relay_of_ones_own_switches() -> None:
    """12.6 V across the coil of 90 Ω pulls in: 126 mA over drain 100 Ω through the contact."""
    circuit = wired(kind_from(relay(), EMPTY), "+ 30, + 86, - 85")
    state = Solver(circuit).settle(Setting(), Memory()).states[0]
    assert ("p", "coil") in state.pulled
    assert state.current("p", "drain") == pytest.approx(0.126, rel=0.02)


def test_a_switch_of_ones_own_closes_what_its_table_says() -> None:
    own = kind_from(selector(), EMPTY)
    circuit = wired(own, "+ C, - 1")
    for position, flows in (("OFF", False), ("LOW", True), ("HIGH", True)):
        state = Solver(circuit).settle(Setting({"p": position}), Memory()).states[0]
        assert (abs(state.current("w0")) > 1.0) is flows, position
    assert own.kind.body.position("HIGH") is not None
    assert own.kind.body.rest == "OFF"


def test_two_coils_and_two_loads_have_ratings_of_their_own() -> None:
    made = OwnDraft(
        "Twin", "K",
        terminals=terminals("1", "2", "3", "4"),
        elements=(
            ElementRow("set", "coil", "1", "2", "set"),
            ElementRow("reset", "coil", "3", "2", "reset"),
            ElementRow("lamp", "load", "1", "4", "lamp"),
            ElementRow("motor", "load", "3", "4", "motor"),
            ElementRow("guard", "diode", "2", "1"),
        ),
    )  # fmt: skip
    assert sentences(made, EMPTY) == []
    own = kind_from(made, EMPTY)
    assert {"coil_ohm", "reset_coil_ohm", "current_a", "motor_current_a"} <= own.kind.specs.keys()
    laws = (own.kind.specs["law"].default, own.kind.specs["motor_law"].default)
    assert laws == ("filament", "motor")


@pytest.mark.parametrize("key", ["relay-changeover", "key-switch", "lamp-twin", "timer"])
def test_a_kind_of_the_program_goes_through_the_form_unchanged(key: str) -> None:
    """What the form does not show is kept: conditions of elements, suppression, names of coils."""
    own = OwnKind("mine", replace(KINDS[key], key="mine"))
    assert kind_from(draft_of(own), Circuit(own_kinds={"mine": own})) == own


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"title": " "}, "title"),
        ({"letter": "k1"}, "capitals"),
        ({"terminals": ()}, "Add a terminal"),
        ({"terminals": terminals("30", "30", "86", "85", "87")}, "Two terminals"),
        ({"elements": (ElementRow("x", "resistance", "30", "99"),)}, "“99”, which is no terminal"),
        ({"elements": (ElementRow("x", "resistance", "30", "30"),)}, "both ends"),
        ({"elements": (ElementRow("", "diode", "30", "87"),)}, "no name"),
        ({"elements": (ElementRow("x", "contact", "30", "87", ""),)}, "when it is closed"),
        ({"elements": (ElementRow("x", "contact", "30", "87", "ON"),)}, "add a coil or a position"),
        ({"elements": (ElementRow("x", "coil", "30", "87", "jump"),)}, "cannot do “jump”"),
        ({"positions": (PositionRow("ON", "30-9"),)}, "“30-9”"),
        ({"positions": (PositionRow("ON"), PositionRow("ON"))}, "Two positions"),
        ({"positions": (PositionRow("ON", "", "AWAY"),)}, "no position"),
    ],
)
def test_what_is_wrong_is_told_in_a_sentence(change: dict[str, object], told: str) -> None:
    draft = replace(relay(), **change)  # type: ignore[arg-type]
    found = sentences(draft, EMPTY)
    assert any(told in s for s in found), found
    assert all(s.endswith(".") for s in found)


def test_an_inner_point_may_be_shared_by_elements() -> None:
    made = OwnDraft(
        "Divider", "R", terminals=terminals("1", "2"),
        elements=(ElementRow("a", "resistance", "1", "tap"),
                  ElementRow("b", "resistance", "tap", "2")),
    )  # fmt: skip
    assert sentences(made, EMPTY) == []
    circuit = wired(kind_from(made, EMPTY), "+ 1, - 2")
    state = Solver(circuit).settle(Setting(), Memory()).states[0]
    assert state.current("p", "a") == pytest.approx(12.6 / 200.0, rel=0.02)


@pytest.mark.parametrize(
    ("text", "found"),
    [("30-15", ("30", "15")), ("+ – -", ("+", "-")), ("+--", ("+", "-")), ("30-30", None),
     ("30", None), ("30-9", None), ("", None)],
)  # fmt: skip
def test_pairs_are_read_whatever_the_dash(text: str, found: tuple[str, str] | None) -> None:
    assert pair(text, ["30", "15", "+", "-"]) == found


def test_a_key_is_made_from_the_title_and_is_free() -> None:
    assert fresh_key("Wiper module (rear)", EMPTY) == "wiper-module-rear"
    assert fresh_key("Lamp", EMPTY) == "lamp-2"
    assert fresh_key("—", EMPTY) == "own"


def test_contacts_follow_a_coil_by_what_it_moves() -> None:
    coil = Coil(name="pick-up", a="86", b="85", moves="armature")
    contact = Contact(name="make", a="30", b="87", by="armature", closed=("in",))
    kind = replace(KINDS["relay-make"], key="mine")
    own = OwnKind("mine", replace(kind, body=replace(kind.body, elements=(coil, contact))))
    draft = draft_of(own)
    assert draft.elements[1].does == "pick-up in"
    assert kind_from(draft, Circuit(own_kinds={"mine": own})).kind.body == own.kind.body
