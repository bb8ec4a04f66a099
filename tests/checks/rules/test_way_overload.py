"""Ways of connectors against what they carry, with limits of published tables on both sides.

Push-on terminals after UL 310 (terminal catalogue 82004 p. 8, manualshelf.com; etco.com), 30 °C
rise: 6.3 mm on 22, 20, 18, 16, 14, 12, 10 AWG 3, 4, 7, 10, 15, 20, 24 A; 2.8 mm on 22 to 16 AWG
2, 3, 4, 5 A; verified. 9.5 mm 30 A on 4 mm², from memory. Sealed round contacts 7.5, 13, 25 A of
size 20, 16, 12 and 8 A of 1.5 mm; circular ones 13, 23, 46, 80, 150 A of size 16, 12, 8, 4, 0
(public design notes, verified).
"""

from __future__ import annotations

import pytest

from checks.rules import way_overload
from model.kinds.joints import WAY_FORMS
from model.tables.joints import joint_file
from tests.checks.rules.looking import look

TEXT = """
    G1 battery voltage_v=12 inner_ohm=1e-7
    X1 connector {way} ways=2 way_ohm=0.000001
    E1 heater resistance_ohm={ohm}
    X2 ground
    W3 G1.+ X1.1/a {size} 0.1
    W4 X1.1/b E1.+ 35 0.1
    W5 E1.- X2.g 35 0.1
    W6 X2.g G1.- 35 0.1
"""


def severity(way: str, size: str, amps: float) -> str:
    """Return how bad a current in a way is, "" for nothing found."""
    found = look(way_overload, TEXT.format(way=way, size=size, ohm=12 / amps))
    return found[0].severity if found else ""


@pytest.mark.parametrize(
    ("way", "size", "amps"),
    [
        ("way_a=15", "35", 15), ("way_a=15 way_form=push-on-2.8", "35", 15),
        ("way_form=push-on-6.3", "22AWG", 3), ("way_form=push-on-6.3", "16AWG", 10),
        ("way_form=push-on-6.3", "14AWG", 15), ("way_form=push-on-6.3", "10AWG", 24),
        ("way_form=push-on-6.3", "6", 24),  # the form itself sets the end
        ("way_form=push-on-6.3", "1.5", 10),  # between 16 and 14 AWG: the smaller row
        ("way_form=push-on-2.8", "18AWG", 4), ("way_form=push-on-2.8", "16AWG", 5),
        ("way_form=push-on-9.5", "4", 30), ("way_form=push-on-9.5", "14AWG", 15),
        ("way_form=sealed-1.5", "2.5", 8), ("way_form=sealed-20", "1", 7.5),
        ("way_form=sealed-16", "2", 13), ("way_form=sealed-12", "6", 25),
        ("way_form=circular-8", "10", 46), ("way_form=circular-0", "50", 150),
    ],
)  # fmt: skip
def test_the_limit_on_both_sides(way: str, size: str, amps: float) -> None:
    assert severity(way, size, 0.995 * amps) == ""
    assert severity(way, size, 1.005 * amps) == "fault"


def test_what_nobody_stated_is_unknown() -> None:
    assert severity("", "35", 9.9) == ""
    assert severity("", "35", 10.1) == "unknown"
    assert severity("way_form=push-on-6.3", "0.2", 10.1) == "unknown"  # below every row


def test_the_table_and_the_wire_are_told() -> None:
    (found,) = look(way_overload, TEXT.format(way="way_form=push-on-6.3", size="1.5", ohm=1))
    assert found.values["rating"] == 10
    assert (found.values["table"], found.values["standing"]) == ("push-on-6.3", "verified")
    assert "on 1.5 mm² takes 10 A" in found.sentence()
    assert "UL 310" in found.source


def test_every_contact_of_the_table_may_be_chosen() -> None:
    file = joint_file()
    forms = {t.id for t in file.by_wire if t.id.startswith("push-on")}
    assert set(WAY_FORMS[1:]) == forms | {c.id for c in file.contacts}
