"""The card's geometry: everything has room, ports lie on the edge and on the grid."""

from __future__ import annotations

import re
import tracemalloc
from dataclasses import replace
from itertools import combinations, product
from pathlib import Path

import pytest

from model.circuit import Circuit, End, Part, Place, Wire
from model.kinds import KINDS
from model.kinds.body import Position
from model.layout.ask import Ask
from model.layout.build import KEPT, KEPT_BARE, _bare, build
from model.layout.card import Card, card, is_compact, joins
from model.layout.geometry import OUTWARD, Rect
from model.layout.sizes import COMPACT, ORDINARY, PACKED, ROOMY, Sizes
from model.layout.text import text_width

ICONS = Path(__file__).parents[3] / "assets" / "icons"
RELAY = KINDS["relay-changeover"].body.terminals
ASK = Ask(
    "relay-changeover", "relay", RELAY, (1,) * len(RELAY), (), (), "K1", "", 0, False, ORDINARY
)
POSES = [(turn, mirrored) for turn in (0, 90, 180, 270) for mirrored in (False, True)]


def one(
    kind: str,
    *,
    wires: int = 1,
    turn: int = 0,
    mirrored: bool = False,
    many: int = 0,
    sizes: Sizes | None = None,
) -> Card:
    """Return the card of a lone part with `wires` at its first terminal."""
    part = Part("p", kind, KINDS[kind].letter + "12", "a name that is rather long for a card")
    parts = {"p": part} | {f"f{i}": Part(f"f{i}", "splice") for i in range(many)}
    body = KINDS[kind].body.terminals or None
    own = {"connector": ("1", "a"), "fuse-box": ("B", ""), "bus-bar": ("1", "")}
    key, face = (body[0].key, body[0].face) if body else own[kind]
    joined = {f"w{i}": Wire(f"w{i}", first=End("p", key, face)) for i in range(wires)}
    circuit = Circuit(parts=parts, wires=joined)
    return card(circuit, part, Place("a", "p", turn=turn, mirrored=mirrored), None, sizes)


@pytest.mark.parametrize("kind", sorted(KINDS))
@pytest.mark.parametrize("sizes", [ORDINARY, COMPACT, ROOMY, PACKED], ids=lambda s: s.name)
def test_everything_on_a_card_has_room_of_its_own(kind: str, sizes: Sizes) -> None:
    for (turn, mirrored), wires in product(POSES, (1, 2, 5)):
        made = one(kind, wires=wires, turn=turn, mirrored=mirrored, sizes=sizes)
        areas = [p.label for p in made.ports.values() if p.label]
        areas += [r for r in (made.word, made.value) if r]
        if made.shape != "dot":
            areas.append(made.picture)
        areas += [r for r in (made.tag, made.name) if r.w and made.shape != "ground"]
        for a, b in combinations(areas, 2):
            assert not a.overlaps(b), (a, b)
        within = [p.label for p in made.ports.values() if p.label]
        for area in (*within, *(r for r in (made.word, made.value) if r)):
            assert inside(area, made.body)


def inside(area: Rect, body: Rect) -> bool:
    """Tell whether the area lies within the card."""
    return (
        area.x >= body.x
        and area.y >= body.y
        and area.right <= body.right
        and area.bottom <= body.bottom
    )


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_spots_lie_on_the_edge_and_the_grid_apart_from_each_other(
    kind: str,
) -> None:
    for turn, mirrored in POSES:
        assert_on_the_edge(one(kind, wires=6, turn=turn, mirrored=mirrored))


def assert_on_the_edge(made: Card) -> None:
    """Check that spots lie on the edge and the grid, enough of them, apart from each other."""
    spots = [s for p in made.ports.values() for s in p.spots]
    assert len({(s.x, s.y) for s in spots}) == len(spots)
    for spot in spots:
        assert spot.x % 10 == 0
        assert spot.y % 10 == 0
        dx, dy = OUTWARD[spot.side]
        assert (dx == 0 or spot.x == dx * made.width / 2) and (
            dy == 0 or spot.y == dy * made.height / 2
        )
    assert len(next(iter(made.ports.values())).spots) >= 6


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_terminals_on_one_side_are_at_least_20_apart(kind: str) -> None:
    ports = list(one(kind).ports.values())
    for a, b in combinations(ports, 2):
        if a.direction == b.direction:
            assert abs(a.x - b.x) + abs(a.y - b.y) >= 20


def test_a_relay_has_its_feed_and_output_level_with_the_contact() -> None:
    made = one("relay-make")
    assert made.ports["30"].y == made.ports["87"].y < made.ports["86"].y
    assert made.ports["30"].direction == "left"
    assert made.ports["87"].direction == "right"
    assert made.ports["85"].direction == "bottom"


@pytest.mark.parametrize(
    ("kind", "terminal"),
    [
        ("relay-make", "30"),
        ("relay-changeover", "30"),
        ("switch", "1"),
        ("crash-switch", "C"),
        ("push-break", "1"),
        ("push-make", "1"),
        ("level-switch", "1"),
        ("brake-switch", "1"),
        ("switch-changeover", "C"),
    ],
)
def test_the_terminal_is_level_with_the_pivot_drawn_in_the_pictogram(
    kind: str, terminal: str
) -> None:
    found = re.search(r'data-pivot="[\d.]+,([\d.]+)', (ICONS / f"{kind}.svg").read_text())
    assert found
    made = one(kind)
    assert abs(made.picture.y + float(found[1]) - made.ports[terminal].y) <= 5


def test_a_long_word_of_a_position_has_room_between_the_numbers() -> None:
    table = (Position("NO PRESSURE", (("P", "S"),)), Position("PRESSURE", (("P", "I"),)))
    part = Part("p", "pressure-switch", "S3", terminals=("P", "S", "I"), table=table)
    made = card(Circuit(parts={"p": part}), part)
    assert made.word is not None
    assert made.word.w >= text_width("NO PRESSURE", 11, bold=True)


def test_turning_four_times_comes_back() -> None:
    assert one("relay-make", turn=360).ports == one("relay-make").ports


def test_a_turned_fuse_lets_its_wires_out_above_and_below() -> None:
    made = one("fuse-blade", turn=90)
    assert [made.ports[t].direction for t in ("1", "2")] == ["top", "bottom"]
    assert [one("fuse-blade", mirrored=True).ports[t].direction for t in ("1", "2")] == [
        "right",
        "left",
    ]


def test_circuits_of_more_than_forty_parts_get_smaller_cards() -> None:
    small, large = one("relay-make", many=45), one("relay-make")
    assert small.width < large.width
    assert small.picture.w == 40
    assert not is_compact(Circuit(parts={str(i): Part(str(i), "lamp") for i in range(40)}))


def test_a_place_that_shows_only_the_coil_has_only_its_terminals() -> None:
    part = Part("p", "relay-make", "K1")
    place = Place("a", "p", shows=("coil",))
    assert set(card(Circuit(parts={"p": part}), part, place).ports) == {"86", "85"}


def test_joins_count_both_ends_of_every_wire() -> None:
    circuit = Circuit(
        parts={"p": Part("p", "splice")},
        wires={"w": Wire("w", first=End("p", "s"), second=End("p", "s")), "v": Wire("v")},
    )
    assert joins(circuit) == {("p", "s"): 2}


def test_roomy_cards_keep_room_for_numbers_of_24_and_readings_of_over_32() -> None:
    made = one("pump", sizes=ROOMY)
    assert all(p.label and p.label.h >= 0.75 * 24 for p in made.ports.values())
    assert made.value is not None
    assert made.value.w >= text_width("88.8 A", 33.5, bold=True)
    assert one("pump").value is None


def test_a_packed_card_has_larger_numbers_and_its_reading_beside_them() -> None:
    packed, roomy = one("pump", sizes=PACKED), one("pump", sizes=ROOMY)
    assert packed.sizes.number_px > roomy.sizes.number_px
    assert packed.height < roomy.height
    below = packed.ports["-"].label
    assert below is not None
    assert packed.value is not None
    assert packed.value.x > below.right
    assert packed.value.y < below.bottom
    assert packed.value.w >= text_width("88.8 A", PACKED.reading_px, bold=True) - 1
    assert one("ground", sizes=PACKED).height < one("ground", sizes=ROOMY).height


def test_wires_at_one_terminal_of_a_roomy_card_stand_farther_apart() -> None:
    spots = one("battery", wires=3, sizes=ROOMY).ports["+"].spots
    assert sorted(s.y - spots[0].y for s in spots) == [-20, 0, 20]


def test_the_word_of_a_roomy_card_stands_below_the_numbers_beside_it() -> None:
    made = one("crash-switch", sizes=ROOMY)
    lowest = max(p.label.bottom for p in made.ports.values() if p.label)
    assert made.word is not None
    assert made.word.y >= lowest
    assert made.width < one("crash-switch", sizes=replace(ROOMY, word_below=False)).width


def _named(number: int) -> Card:
    part = Part("p", "relay-changeover", f"K{number}", f"Pump {number}")
    return card(Circuit({"p": part}), part)


def test_cards_that_differ_in_their_texts_alone_share_what_is_large() -> None:
    """References and names are without end, so what is kept of each must be small."""
    first, second = _named(1), _named(2)
    assert (first.name_text, second.name_text) == ("Pump 1", "Pump 2")
    assert first.ports is second.ports
    tracemalloc.start()
    before = tracemalloc.get_traced_memory()[0]
    for number in range(1000, 1500):
        _named(number)
    grown = tracemalloc.get_traced_memory()[0] - before
    tracemalloc.stop()
    assert grown / 500 < 1500  # bytes


def test_cards_are_not_kept_without_end() -> None:
    for number in range(KEPT + 50):
        _named(number)
    assert build.cache_info().currsize == KEPT
    for number in range(KEPT_BARE + 50):
        build(replace(ASK, words=(str(number),)))
    assert _bare.cache_info().currsize == KEPT_BARE
