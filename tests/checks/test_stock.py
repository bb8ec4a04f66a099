"""What is sold: fuse ratings by band, wire sizes above a size; names in sentences."""

from __future__ import annotations

from checks.stock import fuse_allowance, ratings_a, sizes_above
from checks.wording import listed
from model.wiresize import Size


def test_blade_fuses_come_in_their_usual_ratings() -> None:
    # ISO 8820-3 standard blades as listed by makers: 1 to 30 A (and more).
    assert ratings_a("blade") == (1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 35, 40)
    # High-current blades by the colours of their bodies (noiasca.rothschopf.net).
    assert ratings_a("blade-maxi") == (20, 30, 40, 50, 60, 70, 80)
    assert set(ratings_a("blade-mini")) < set(ratings_a("blade"))
    assert ratings_a("breaker") == ()
    assert list(ratings_a("strip")) == sorted(ratings_a("strip"))


def test_the_allowance_is_that_of_33_cfr_183_455() -> None:
    assert fuse_allowance() == 1.5


def test_larger_sizes_stay_in_their_system() -> None:
    above = sizes_above(Size(mm2=2.0))
    assert [s.mm2 for s in above[:3]] == [2.5, 3.0, 4.0]
    assert [s.awg for s in sizes_above(Size(awg=12))[:3]] == [10, 8, 6]


def test_names_are_listed_as_people_do() -> None:
    assert listed([]) == ""
    assert listed(["W1"]) == "W1"
    assert listed(["W1", "W2", "W1", "W3"]) == "W1, W2 and W3"
    assert listed([f"W{i}" for i in range(9)]) == "W0, W1, W2, W3, W4 and 4 more"
