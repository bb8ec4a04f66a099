"""Which wires hang on which fuse, by hand for small circuits."""

from __future__ import annotations

from checks.case import Case
from checks.feeds import is_battery
from checks.sketch import sketch

MEET = """
    G1 battery
    F1 fuse-blade
    F2 fuse-blade
    S1 switch-changeover
    E1 heater
    W1 G1.+ F1.1 2 0.1
    W2 G1.+ F2.1 2 0.1
    W3 F1.2 S1.A 2 0.1
    W4 F2.2 S1.B 2 0.1
    W5 S1.C E1.+ 2 0.1
    W6 E1.- G1.- 2 0.1
"""


def stretches(text: str) -> dict[str, set[str]]:
    """Return the wires behind every battery and fuse."""
    case = Case(sketch(text))
    return {
        (f.fuse.owner if f.fuse else f.source.owner if f.source else ""): set(f.wires)
        for f in case.feeds
    }


def test_both_sides_of_a_change_over_are_never_joined() -> None:
    assert stretches(MEET) == {"G1": {"W1", "W2"}, "F1": {"W3", "W5"}, "F2": {"W4", "W5"}}


def test_a_fuse_is_never_walked_backwards() -> None:
    text = MEET.replace("S1 switch-changeover", "S1 splice")
    for key in "ABC":
        text = text.replace(f"S1.{key}", "S1.s")
    behind = {"W3", "W4", "W5"}
    assert stretches(text) == {"G1": {"W1", "W2"}, "F1": behind, "F2": behind}


def test_a_fuse_at_the_battery_protects_the_alternator_cable() -> None:
    text = """
        G1 battery
        G2 alternator
        F1 fuse-strip
        W1 G1.+ F1.1 16 0.1
        W2 F1.2 G2.B+ 16 1
        W3 G2.case G1.- 16 1
    """
    assert stretches(text) == {"G1": {"W1"}, "G2": {"W2"}, "F1": {"W2"}}


def test_an_unfused_way_in_ends_a_fused_stretch() -> None:
    # The key feeds the coil without a fuse; from F1 the same wire is reached through S2.
    text = """
        G1 battery
        F1 fuse-blade
        S1 switch
        S2 switch
        E1 heater
        W1 G1.+ F1.1 2 0.1
        W2 G1.+ S1.1 2 0.1
        W3 S1.2 E1.+ 2 0.1
        W4 F1.2 S2.1 2 0.1
        W5 S2.2 E1.+ 2 0.1
        W6 E1.- G1.- 2 0.1
    """
    found = stretches(text)
    assert found["G1"] == {"W1", "W2", "W3", "W4", "W5"}
    assert "F1" not in found or found["F1"] <= {"W4"}
    assert is_battery(None) is False


def test_a_change_over_is_remembered_past_other_contacts() -> None:
    # From F1 through S1.A, out through S2 and back: S1.B stays closed to it all the same.
    text = MEET.replace("E1.+ 2 0.1", "S2.1 2 0.1\n    S2 switch\n    W7 S2.2 E1.+ 2 0.1")
    found = stretches(text)
    assert found["F1"] == {"W3", "W5", "W7"}
    assert found["F2"] == {"W4", "W5", "W7"}
