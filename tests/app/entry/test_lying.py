"""Zones and bundles typed in a line, for one thing, several, and what is selected."""

from __future__ import annotations

import pytest

from app.entry import Entry, Refusal, complete, read
from app.entry.bulk import change_all
from app.entry.lying import zone_and_celsius
from checks.sketch import sketch as sketched
from model.circuit import Circuit
from tests.model.editing.test_lying import TEXT


def typed(circuit: Circuit, line: str) -> tuple[Circuit, str]:
    """Return the circuit after a line, and its preview."""
    entry = read(circuit, line)
    assert isinstance(entry, Entry), entry
    return entry.change.apply(circuit), entry.preview


@pytest.mark.parametrize(
    ("line", "celsius"),
    [
        ("zone bay 85 °C F1 W2", 85.0),
        ("zone bay 85°C F1 W2", 85.0),
        ("zone bay 85 F1 W2", 85.0),
        ("zone bay 185 °F F1 W2", 85.0),
        ("zone bay -20 °C F1 W2", -20.0),
    ],
)
def test_a_zone_is_typed_with_its_temperature(line: str, celsius: float) -> None:
    after, preview = typed(sketched(TEXT), line)
    (zone,) = after.zones.values()
    assert zone.name == "bay" and zone.temperature_c == pytest.approx(celsius)
    assert (after.parts["F1"].zone, after.wires["W2"].zone) == (zone.id, zone.id)
    assert preview.startswith("Zone bay, ") and preview.endswith(": F1, W2")
    out, _ = typed(after, "zone none F1")
    assert not out.parts["F1"].zone and out.wires["W2"].zone


def test_a_bundle_is_typed_and_offered_again() -> None:
    after, preview = typed(sketched(TEXT), "bundle B1 W1 W3")
    assert preview == "Bundle B1: W1, W3"
    offered = [s.text for s in complete(after, "bundle ")]
    assert offered[:1] == ["B1"]
    after, preview = typed(after, "bundle b1 w2")
    assert preview == "Bundle B1: W1, W2, W3" and len(after.branches) == 1


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("zone", "zone what? Type its name"),
        ("zone bay F1", "No zone is called “bay”"),
        ("zone bay 85 F9", "F9"),
        ("bundle B1 F1", "only wires lie in a bundle"),
        ("bundle B1 W9", "No wire is called “W9”"),
    ],
)
def test_what_cannot_be_is_refused(line: str, said: str) -> None:
    refused = read(sketched(TEXT), line)
    assert isinstance(refused, Refusal) and said in refused.sentence


def test_what_is_selected_goes_into_a_zone_or_bundle_together() -> None:
    start = sketched(TEXT)
    entry = change_all(start, ["W1", "W2"], "bundle B1")
    assert isinstance(entry, Entry)
    after = entry.change.apply(start)
    assert after.wires["W1"].branches == after.wires["W2"].branches != ()
    entry = change_all(start, ["F1", "E1"], "zone engine bay 85 °C")
    assert isinstance(entry, Entry)
    after = entry.change.apply(start)
    (zone,) = after.zones.values()
    assert zone.name == "engine bay" and after.parts["E1"].zone == zone.id
    assert isinstance(change_all(start, ["F1"], "bundle B1"), Refusal)


def test_a_name_may_end_in_a_number_of_its_own() -> None:
    start = sketched(TEXT)
    after, _ = typed(start, 'zone "bay 2" 60 °C F1')
    assert zone_and_celsius(after, "bay 2") == ("bay 2", None)
    assert zone_and_celsius(start, "bay 2 60 °C") == ("bay 2", 60.0)
    assert zone_and_celsius(start, "boot 25,5 °C") == ("boot", 25.5)
