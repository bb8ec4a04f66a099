"""Aligning, spreading, turning and mirroring, with exact places."""

from __future__ import annotations

from dataclasses import replace

import pytest

from model import editing
from model.circuit import Circuit, Place, Route
from model.editing import Edit, EditError
from model.editing.room import Room
from tests.model.editing.small import done, lamp, parts, sheet, wires


def _three(**at: tuple[float, float]) -> Circuit:
    made = parts("S1 switch", "S2 switch", "S3 switch")
    return Circuit(made, wires("s1.2 s2.1"), {"s1": sheet(**at)})


def _at(circuit: Circuit) -> dict[str, tuple[float, float]]:
    return {p.part: (p.x, p.y) for p in circuit.sheets["s1"].places.values()}


def _moved(circuit: Circuit, edit: Edit) -> dict[str, tuple[float, float]]:
    return _at(done(circuit, edit))


def test_like_cards_come_to_the_left_most_line() -> None:
    circuit = _three(s1=(100, 0), s2=(130, 200), s3=(90, 400))
    edit = editing.align(circuit, circuit.sheets["s1"], circuit.parts, "left")
    assert _moved(circuit, edit) == {"s1": (90, 0), "s2": (90, 200), "s3": (90, 400)}
    assert edit.change.label == "Align left: S1, S2, S3"
    assert edit.ids == {"s1", "s2", "s3"}
    assert edit.notes == ()


@pytest.mark.parametrize(
    ("side", "line"),
    [
        ("left", lambda r: r.x), ("right", lambda r: r.right), ("top", lambda r: r.y),
        ("bottom", lambda r: r.bottom), ("centre", lambda r: r.centre[0]),
        ("middle", lambda r: r.centre[1]),
    ],
)  # fmt: skip
def test_cards_of_any_width_come_to_one_line(side: str, line) -> None:  # type: ignore[no-untyped-def]
    circuit = replace(
        lamp(), sheets={"s1": sheet(g1=(0, 0), f1=(310, 420), e1=(640, 860), x1=(970, 1270))}
    )
    shown = circuit.sheets["s1"]
    after = done(circuit, editing.align(circuit, shown, circuit.parts, side))
    room = Room(after, after.sheets["s1"])
    assert len({line(room.body(p)) for p in after.sheets["s1"].places.values()}) == 1


def test_cards_that_would_meet_are_moved_on_along_the_line_and_named() -> None:
    circuit = _three(s1=(0, 0), s2=(300, 10), s3=(600, 20))
    edit = editing.align(circuit, circuit.sheets["s1"], circuit.parts, "left")
    after = done(circuit, edit)
    assert {x for x, _ in _at(after).values()} == {0}
    assert edit.notes == ("Moved aside to stay clear of other cards: S2, S3.",)
    room = Room(after, after.sheets["s1"])
    for place in after.sheets["s1"].places.values():
        assert not any(room.area(place).overlaps(o) for o in room.others([place]))


def test_gaps_become_equal_and_the_outer_cards_stay() -> None:
    circuit = _three(s1=(0, 0), s2=(200, 40), s3=(800, 80))
    edit = editing.distribute(circuit, circuit.sheets["s1"], circuit.parts, "x")
    assert _moved(circuit, edit) == {"s1": (0, 0), "s2": (400, 40), "s3": (800, 80)}


def test_cards_without_room_between_the_outer_ones_spread_on() -> None:
    circuit = _three(s1=(0, 0), s2=(20, 400), s3=(40, 800))
    shown = circuit.sheets["s1"]
    at = _moved(circuit, editing.distribute(circuit, shown, circuit.parts, "x"))
    width = Room(circuit, shown).body(shown.places["cs1"]).w
    assert at == {"s1": (0, 0), "s2": (width + 20, 400), "s3": (2 * width + 40, 800)}


def test_cards_off_the_grid_come_to_the_nearest_place() -> None:
    circuit = _three(s1=(3, -6), s2=(400, 0), s3=(805, 14.9))
    edit = editing.snap_places(circuit, circuit.sheets["s1"], circuit.parts)
    assert _moved(circuit, edit) == {"s1": (0, -10), "s2": (400, 0), "s3": (810, 10)}


def test_one_over_another_moves_aside() -> None:
    circuit = _three(s1=(0, 0), s2=(10, 0), s3=(500, 0))
    edit = editing.separate(circuit, circuit.sheets["s1"], ["s2"])
    at = _moved(circuit, edit)
    assert at["s1"] == (0, 0)
    assert at["s2"] != (10, 0)
    assert edit.notes == ("Moved aside to stay clear of other cards: S2.",)


def test_a_quarter_turn_clockwise_around_the_common_middle() -> None:
    circuit = _three(s1=(0, 0), s2=(400, 0), s3=(2000, 2000))
    edit = editing.rotate(circuit, circuit.sheets["s1"], ["s1", "s2"])
    after = done(circuit, edit)
    assert _at(after) == {"s1": (200, -200), "s2": (200, 200), "s3": (2000, 2000)}
    assert [p.turn for p in after.sheets["s1"].places.values()] == [90, 90, 0]
    assert edit.change.label == "Turn S1, S2"


@pytest.mark.parametrize("by", [90, -90, 180, 270])
@pytest.mark.parametrize("far", [(800, 40), (810, 40), (40, 810), (40, 800)])
def test_turns_all_the_way_round_leave_everything_where_it_was(
    by: int, far: tuple[float, float]
) -> None:
    circuit = _three(s1=(0, 0), s2=(410, 400), s3=far)
    now = circuit
    for _ in range(360 // abs(by) if by != 270 else 4):
        now = editing.rotate(now, now.sheets["s1"], now.parts, by).change.apply(now)
    assert now == circuit


def test_a_middle_between_two_lines_of_the_grid_moves_by_half_a_step() -> None:
    circuit = _three(s1=(0, 0), s2=(410, 0), s3=(2000, 2000))
    after = done(circuit, editing.rotate(circuit, circuit.sheets["s1"], ["s1", "s2"]))
    assert _at(after) == {"s1": (210, -200), "s2": (210, 210), "s3": (2000, 2000)}


@pytest.mark.parametrize("axis", ["x", "y"])
def test_mirrored_twice_everything_is_where_it_was(axis: str) -> None:
    circuit = _three(s1=(0, 0), s2=(410, 300), s3=(800, 40))
    once = editing.mirror(circuit, circuit.sheets["s1"], circuit.parts, axis).change.apply(circuit)
    assert once != circuit
    assert editing.mirror(once, once.sheets["s1"], once.parts, axis).change.apply(once) == circuit


def test_mirroring_left_and_right_and_top_and_bottom() -> None:
    circuit = _three(s1=(0, 0), s2=(400, 200), s3=(2000, 2000))
    shown = circuit.sheets["s1"]
    turned = replace(shown.places["cs2"], turn=90)
    shown = replace(shown, places={**shown.places, "cs2": turned})
    circuit = replace(circuit, sheets={"s1": shown})
    after = done(circuit, editing.mirror(circuit, shown, ["s1", "s2"]))
    assert after.sheets["s1"].places["cs1"] == Place("cs1", "s1", 400, 0, 0, True)
    assert after.sheets["s1"].places["cs2"] == Place("cs2", "s2", 0, 200, 270, True)
    after = done(circuit, editing.mirror(circuit, shown, ["s1", "s2"], "y"))
    assert after.sheets["s1"].places["cs1"] == Place("cs1", "s1", 0, 200, 180, True)
    assert after.sheets["s1"].places["cs2"] == Place("cs2", "s2", 400, 0, 90, True)


def test_the_terminals_of_a_mirrored_card_stand_mirrored() -> None:
    """What the layout draws is the oracle: its terminals change sides as a mirror would do it."""
    flip = {"left": "right", "right": "left", "top": "top", "bottom": "bottom"}
    upside = {"left": "left", "right": "right", "top": "bottom", "bottom": "top"}
    for turn in (0, 90, 180, 270):
        circuit = Circuit(parts("K1 relay-changeover"), {}, {"s1": sheet(k1=(0, 0))})
        place = replace(circuit.sheets["s1"].places["ck1"], turn=turn)
        shown = replace(circuit.sheets["s1"], places={"ck1": place})
        circuit = replace(circuit, sheets={"s1": shown})
        for axis, sides in (("x", flip), ("y", upside)):
            after = editing.mirror(circuit, shown, ["k1"], axis).change.apply(circuit)
            before, now = (_sides(c) for c in (circuit, after))
            assert now == {k: sides[s] for k, s in before.items()}, (turn, axis)


def _sides(circuit: Circuit) -> dict[str, str]:
    from model.layout.card import cards

    made = cards(circuit, circuit.sheets["s1"])["ck1"]
    return {k: port.direction for k, port in made.ports.items()}


def test_kept_ways_between_turned_cards_turn_with_them() -> None:
    circuit = _three(s1=(0, 0), s2=(400, 0), s3=(2000, 2000))
    shown = replace(circuit.sheets["s1"], routes={"w1": Route("w1", ((200.0, 0.0), (200.0, 50.0)))})
    circuit = replace(circuit, sheets={"s1": shown})
    after = done(circuit, editing.rotate(circuit, shown, ["s1", "s2"]))
    assert after.sheets["s1"].routes["w1"].bends == ((200, 0), (150, 0))
    alone = done(circuit, editing.rotate(circuit, shown, ["s1"]))
    assert alone.sheets["s1"].routes == shown.routes


def test_automatic_places_are_kept_along_with_those_moved() -> None:
    circuit = replace(_three(), sheets={"s1": sheet()})
    drawn = sheet(s1=(0, 0), s2=(400, 0), s3=(800, 0))
    drawn = replace(drawn, places={k: replace(p, pinned=False) for k, p in drawn.places.items()})
    after = done(circuit, editing.rotate(circuit, drawn, ["s1"]))
    assert {p.part: p.pinned for p in after.sheets["s1"].places.values()} == {
        "s1": True, "s2": False, "s3": False,
    }  # fmt: skip


def test_what_makes_no_sense_is_refused() -> None:
    circuit = _three(s1=(0, 0))
    shown = circuit.sheets["s1"]
    with pytest.raises(EditError, match="cannot be aligned to “north”"):
        editing.align(circuit, shown, ["s1"], "north")
    with pytest.raises(EditError, match="cannot be spread along “z”"):
        editing.distribute(circuit, shown, ["s1"], "z")
    with pytest.raises(EditError, match="not by 45 degrees"):
        editing.rotate(circuit, shown, ["s1"], 45)
    with pytest.raises(EditError, match="cannot be mirrored along “z”"):
        editing.mirror(circuit, shown, ["s1"], "z")
    assert not editing.align(circuit, shown, ["s1"], "left").change.swaps
    assert not editing.distribute(circuit, shown, ["s1", "s2"], "x").change.swaps
