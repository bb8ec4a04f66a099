"""Parts placed by typing their names: kind, reference, ratings, name, place."""

from __future__ import annotations

import pytest

from app.entry import Cursor
from model.circuit import Circuit, Settings
from model.layout.card import cards
from tests.app.entry.typed import Typist

KINDS = [
    ("relay", "K1", "relay-make", ""),
    ("fuse 15 A", "F1", "fuse-blade", ""),
    ("crash", "S1", "crash-switch", ""),
    ("battery", "G1", "battery", ""),
    ("ground", "X1", "ground", ""),
    ("lamp 21 W", "E1", "lamp", ""),
    ("pump 8 A left rear pump", "M1", "pump", "left rear pump"),
    ("S5 switch", "S5", "switch", ""),
    ("switch S5", "S5", "switch", ""),
    ("BAT battery", "BAT", "battery", ""),
    ("24 V relay", "K1", "relay-make", ""),
    ("pump fuse 15 A", "F1", "fuse-blade", "pump fuse"),
    ("fuel pump relay", "K1", "relay-make", "fuel pump relay"),
    ("relay with diode", "K1", "relay-diode", ""),
    ("relay diode", "K1", "relay-diode", ""),
    ("fuse main feed", "F1", "fuse-blade", "main feed"),
    ("relay: fuel pump", "K1", "relay-make", "fuel pump"),
    ("relay: fuel pump 24 V", "K1", "relay-make", "fuel pump"),
    ('switch "dash, left"', "S1", "switch", "dash, left"),
    ("switch “dash, left”", "S1", "switch", "dash, left"),
    ("lamp for pump", "E1", "lamp", "for pump"),
    ("kill switch", "S1", "master-switch", "kill switch"),
    ("change-over relay", "K1", "relay-changeover", ""),
    ("change over relay", "K1", "relay-changeover", ""),
    ("switch light", "S1", "switch-table", ""),
    ("RELAY", "K1", "relay-make", ""),
    ("cra", "S1", "crash-switch", ""),
    ("batt", "G1", "battery", ""),
    ("swich", "S1", "switch", ""),
    ("realy", "K1", "relay-make", ""),
    ("fuse box", "X1", "fuse-box", ""),
    ("led", "E1", "lamp-led", ""),
]


@pytest.mark.parametrize(("line", "reference", "kind", "name"), KINDS)
def test_kind_reference_and_name(line: str, reference: str, kind: str, name: str) -> None:
    typist = Typist()
    typist.types(line)
    part = typist.part(reference)
    assert (part.kind, part.name) == (kind, name)


RATINGS = [
    ("fuse 15 A", {"rating_a": 15.0}),
    ("fuse 15A", {"rating_a": 15.0}),
    ("fuse 7,5 A", {"rating_a": 7.5}),
    ("fuse 15", {"rating_a": 15.0}),
    ("15 A fuse", {"rating_a": 15.0}),
    ("pump 8 A", {"current_a": 8.0}),
    ("lamp 21 W", {"current_a": 1.75}),  # 21 W / 12 V
    ("lamp 21 W 24 V", {"current_a": 0.875, "at_v": 24.0}),  # 21 W / 24 V
    ("lamp 24 V 21 W", {"current_a": 0.875, "at_v": 24.0}),
    ("pump 1.5 ohm", {"resistance_ohm": 1.5}),
    ("relay 85 ohm", {"coil_ohm": 85.0}),
    ("relay coil 85 ohm contact 30 A", {"coil_ohm": 85.0, "contact_a": 30.0}),
    ("24 V relay", {"coil_v": 24.0, "coil_ohm": 350.0}),
    ("24 V relay 360 Ω", {"coil_v": 24.0, "coil_ohm": 360.0}),
    ("battery 12.6 V 12 mohm", {"voltage_v": 12.6, "inner_ohm": 0.012}),
    ("pump start 3 start 50 ms", {"start_multiple": 3.0, "start_s": 0.05}),
    ("headlamp 60/55 W", {"main_current_a": 5.0, "dip_current_a": 4.58333}),
    ("headlamp 5/4 A", {"main_current_a": 5.0, "dip_current_a": 4.0}),
    ("headlamp dip 55 W", {"dip_current_a": 4.58333}),
    ("resistor 680", {"resistance_ohm": 680.0}),
    ("resistor 2 W", {"power_w": 2.0}),
    ("alternator 90 A", {"limit_a": 90.0}),
    ("switch 16 A", {"contact_a": 16.0}),
    ("flasher 1.5 Hz", {"rate_hz": 1.5}),
    ("thermostat 92 °C", {"acts_at": 92.0}),
    ("thermostat 194 °F", {"acts_at": 90.0}),  # (194 - 32) * 5 / 9
    ("timer off-delay 30 s", {"timing": "off-delay", "time_s": 30.0}),
    ("relay 90 ohm diode", {"coil_ohm": 90.0, "suppression": "diode"}),
]


@pytest.mark.parametrize(("line", "ratings"), RATINGS)
def test_ratings(line: str, ratings: dict[str, object]) -> None:
    typist = Typist()
    typist.types(line)
    (part,) = typist.circuit.parts.values()
    assert part.ratings == pytest.approx(ratings) if _all_numbers(ratings) else ratings


def _all_numbers(ratings: dict[str, object]) -> bool:
    return all(isinstance(v, float) for v in ratings.values())


def test_a_24_v_relay_of_a_24_v_circuit_needs_no_other_coil() -> None:
    typist = Typist(Circuit(settings=Settings(nominal_v=24.0)))
    typist.types("24 V relay")
    assert typist.part("K1").ratings == {"coil_v": 24.0}


def test_power_is_at_the_circuits_own_voltage() -> None:
    typist = Typist(Circuit(settings=Settings(nominal_v=24.0)))
    typist.types("lamp 21 W")
    assert typist.part("E1").ratings == {"current_a": 0.875}


def test_several_parts_in_one_line_are_one_change() -> None:
    typist = Typist()
    entry = typist.types("battery, fuse 7,5 A, relay | ground")
    assert [p.reference for p in typist.circuit.parts.values()] == ["G1", "F1", "K1", "X1"]
    assert entry.change.label == "Place G1 and 3 more"


def test_a_count_before_a_kind() -> None:
    typist = Typist()
    entry = typist.types("2 lamps 21 W")
    assert [p.reference for p in typist.circuit.parts.values()] == ["E1", "E2"]
    assert entry.preview == "E1 to E2: Lamp, 1.75 A"
    assert entry.change.label == "Place E1 to E2"


def test_ways_of_a_connector() -> None:
    typist = Typist().all(("connector 6 ways", "bus bar 8", "connector"))
    assert [p.ways for p in typist.circuit.parts.values()] == [6, 8, 0]


def test_positions_in_capitals() -> None:
    typist = Typist().all(("switch STOP RUN", "light switch OFF SIDE HEAD"))
    assert [p.name for p in typist.part("S1").table] == ["STOP", "RUN"]
    assert typist.part("S1").rest == "STOP"
    assert typist.part("S2").table == ()


def test_the_preview_says_what_is_placed_and_what_is_a_default() -> None:
    typist = Typist().all(("fuse", "pump fuse 15 A", "relay coil 85 ohm"))
    assert typist.said == [
        "F1: Blade fuse, 15 A (default)",
        "F2: Blade fuse “pump fuse”, 15 A",
        "K1: Relay, make, coil 85 Ω",
    ]


def test_without_a_point_a_part_has_no_place() -> None:
    typist = Typist()
    typist.types("relay")
    assert not typist.circuit.sheets


def test_parts_stand_at_the_cursor_side_by_side_and_never_over_each_other() -> None:
    typist = Typist(cursor=Cursor("s1", (103.0, -48.0)))
    typist.all(("battery, fuse, relay", "lamp"))
    (sheet,) = typist.circuit.sheets.values()
    first, *others = sheet.places.values()
    assert (first.x, first.y) == (100.0, -50.0)
    assert all(p.y == first.y and p.x > first.x for p in others)
    made = cards(typist.circuit, sheet)
    outers = [made[p.id].outer.moved(p.x, p.y) for p in sheet.places.values()]
    assert not any(a.overlaps(b) for i, a in enumerate(outers) for b in outers[i + 1 :])


def test_a_part_typed_over_another_goes_beside_it() -> None:
    typist = Typist(cursor=Cursor("s1", (0.0, 0.0)))
    typist.types("relay")
    typist.cursor = Cursor("s1", (0.0, 0.0))
    typist.types("relay")
    (sheet,) = typist.circuit.sheets.values()
    one, two = sheet.places.values()
    assert (one.x, one.y) != (two.x, two.y)


def test_the_last_kinds_are_remembered() -> None:
    typist = Typist().all(("relay", "fuse", "relay"))
    assert typist.cursor.recent.kinds == ("relay-make", "fuse-blade")
