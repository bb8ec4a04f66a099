"""Returns against feeds, at the load, further on and shared; rings on a stud.

Thin-wall cable (a cable seller's data sheet): 1 mm² may carry 16.5 A, 1.5 mm² 21 A, 2.5 mm² 29 A.
"""

from __future__ import annotations

import pytest

from checks.finding import Finding
from checks.rules import return_thinner_than_feed, too_many_rings
from model.circuit import Settings
from tests.checks.rules.looking import look as look_with
from tests.checks.rules.looking import places

SERIES = """
    G1 battery
    F1 fuse-blade rating_a=15
    S1 switch contact_a=40
    E1 heater current_a=6
    P1 splice
    P2 splice
    X1 ground
    W1 G1.+ F1.1 4 0.15
    W2 F1.2 S1.1 {before} 1
    W3 S1.2 E1.+ 2.5 1
    W4 E1.- P1.s 2.5 0.1
    W5 P1.s P2.s {piece} 0.1
    W6 P2.s X1.g 2.5 0.1
    W7 X1.g G1.- 25 0.3
"""
SHARED = """
    G1 battery
    F1 fuse-blade rating_a=25
    S1 switch contact_a=40
    E1 heater current_a={amps}
    E2 heater current_a={amps}
    P1 splice
    X1 ground
    W1 G1.+ F1.1 6 0.15
    W2 F1.2 S1.1 6 0.3
    W3 S1.2 E1.+ {feed} 0.3
    W4 S1.2 E2.+ {feed} 0.3
    W5 E1.- P1.s {feed} 0.05
    W6 E2.- P1.s {feed} 0.05
    W7 P1.s X1.g {back} 0.05
    W8 X1.g G1.- 35 0.15
"""


def look(text: str) -> list[Finding]:
    return look_with(return_thinner_than_feed, text, Settings())


@pytest.mark.parametrize(
    ("before", "piece", "wanted"),
    [
        ("2.5", "2.5", []),
        ("2.5", "1.5", [("advice", ("E1", "W5"))]),
        ("2.5", "2.4", []),  # 96 %: as good as the same
        ("1.5", "1.5", []),  # the feed has as thin a piece
        ("1.5", "1", [("advice", ("E1", "W5"))]),
    ],
)
def test_a_thin_piece_further_on_against_the_thinnest_of_the_feed(
    before: str, piece: str, wanted: list[tuple[str, tuple[str, ...]]]
) -> None:
    assert places(look(SERIES.format(before=before, piece=piece))) == wanted


def test_two_pieces_side_by_side_count_together() -> None:
    text = SERIES.format(before="2.5", piece="1.5")
    assert look(text + "W9 P1.s P2.s 1.5 0.1") == []
    assert len(look(text + "W9 P1.s P2.s 0.5 0.1")) == 2  # 2 mm² beside 2.5 mm²: both are named


@pytest.mark.parametrize(
    ("amps", "feed", "back", "wanted"),
    [
        # 6 A each: 2.4 A/mm² in 2.5 mm²; 12 A in 2.5 mm² are 4.8 A/mm², but 41 % of 29 A.
        (6, "2.5", "2.5", 0),
        # 8 A each: 3.2 A/mm² in the feeds, 16 A in 2.5 mm² are 6.4 A/mm² and 55 % of 29 A.
        (8, "2.5", "2.5", 1),
        (8, "2.5", "6", 0),  # more than both feeds together
        # 7 A each in 1 mm²: 7 A/mm²; 14 A in 2 mm² are 7 A/mm² and 56 % of 25 A: as in the feeds.
        (7, "1", "2", 0),
        (7, "1", "1.5", 1),  # 9.3 A/mm²
    ],
)
def test_a_return_that_two_loads_share(amps: float, feed: str, back: str, wanted: int) -> None:
    found = look(SHARED.format(amps=amps, feed=feed, back=back))
    assert places(found) == [("advice", ("E1", "E2", "W7"))] * wanted
    for one in found:
        assert one.values["current"] == pytest.approx(2 * amps, rel=0.06)
        # What the feeds have in every mm², in the copper of the return.
        assert one.values["fair"] == pytest.approx(amps / float(feed) * float(back), rel=0.06)


def test_what_lifts_the_ground_side_is_left_to_the_rule_that_tells_so() -> None:
    text = SHARED.format(amps=8, feed="2.5", back="2.5").replace("W7 P1.s X1.g 2.5 0.05",
                                                               "W7 P1.s X1.g 2.5 1")  # fmt: skip
    assert look(text) == []


STUD = """
    G1 battery
    X1 ground
    W1 X1.g G1.- {strap} 0.3
    W2 X1.g - 1 1
    W3 X1.g - 1 1
    W4 X1.g - {last} 1
"""


@pytest.mark.parametrize(("more", "wanted"), [("", 0), ("W5 X1.g - 1 1", 1)])
def test_four_rings_and_the_thickest_lowest(more: str, wanted: int) -> None:
    found = look_with(too_many_rings, STUD.format(strap="25", last="1") + more)
    assert len(found) == wanted
    for one in found:
        assert one.values["count"] == 5.0
        assert "Lowest belongs the ring of W1, the thickest wire there." in one.sentence()


@pytest.mark.parametrize(("strap", "last"), [("1", "1"), ("25", "?")])
def test_no_ring_is_the_lowest_where_sizes_are_alike_or_missing(strap: str, last: str) -> None:
    text = STUD.format(strap=strap, last=last) + "W5 X1.g - 1 1"
    (found,) = look_with(too_many_rings, text)
    assert "Lowest" not in found.sentence()
