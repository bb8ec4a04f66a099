"""Parts and wires put into zones, wires laid into bundles: made, changed, removed, undone."""

from __future__ import annotations

import pytest

from checks.sketch import sketch
from model.circuit import Circuit
from model.editing import EditError
from model.editing.draft import Edit
from model.editing.lying import lay_in_bundle, put_in_zone, remove_bundle, remove_zone
from model.file import dumps, loads
from model.zones import part_warmth, wire_copper_c, wire_warmth

TEXT = """
    G1 battery
    F1 fuse-blade
    E1 heater
    X1 ground
    W1 G1.+ F1.1 4 0.1
    W2 F1.2 E1.+ 4 1
    W3 E1.- X1.g 4 0.1
"""


def made(circuit: Circuit, edit: Edit) -> Circuit:
    """Return the circuit after an edit: it is read back as written, and undone it is as before."""
    after = edit.change.apply(circuit)
    assert loads(dumps(after)).circuit == after
    assert dumps(edit.change.revert(after)) == dumps(circuit)
    return after


def test_a_zone_is_made_where_its_temperature_is_told() -> None:
    start = sketch(TEXT)
    after = made(start, put_in_zone(start, ["F1", "W2"], "engine bay", 85.0))
    (zone,) = after.zones.values()
    assert (zone.name, zone.temperature_c) == ("engine bay", 85.0)
    assert part_warmth(after, after.parts["F1"]).celsius == 85.0
    assert wire_warmth(after, after.wires["W2"]).zone == "engine bay"
    # The feed ends at the fuse in the bay; the ground wire has nothing to do with it.
    assert wire_warmth(after, after.wires["W1"]).celsius == 85.0
    assert wire_warmth(after, after.wires["W3"]).celsius == 30.0
    assert wire_copper_c(after, after.wires["W3"]) == 20.0
    again = made(after, put_in_zone(after, ["E1"], "ENGINE BAY"))
    assert again.parts["E1"].zone == zone.id and len(again.zones) == 1
    warmer = made(again, put_in_zone(again, [], "engine bay", 105.0))
    assert part_warmth(warmer, warmer.parts["E1"]).celsius == 105.0
    gone = made(warmer, remove_zone(warmer, zone.id))
    assert not gone.zones and not gone.parts["F1"].zone and not gone.wires["W2"].zone


def test_a_zone_that_is_not_there_is_not_guessed() -> None:
    start = sketch(TEXT)
    with pytest.raises(EditError, match="No zone is called “bay”: there is none yet"):
        put_in_zone(start, ["F1"], "bay")
    with pytest.raises(EditError, match="no temperature of a vehicle's zone"):
        put_in_zone(start, ["F1"], "bay", 2000.0)
    with pytest.raises(EditError, match="plain text"):
        put_in_zone(start, ["F1"], "b\x00y", 20.0)


def test_wires_are_laid_into_a_bundle_and_more_of_them_later() -> None:
    start = sketch(TEXT)
    after = made(start, lay_in_bundle(start, ["W1", "W2"], "B1"))
    more = made(after, lay_in_bundle(after, ["W2", "W3"], "b1", "engine bay", 85.0))
    (branch,) = more.branches.values()
    assert branch.name == "B1" and more.zones[branch.zone].temperature_c == 85.0
    assert [w.id for w in more.wires.values() if w.branches == (branch.id,)] == ["W1", "W2", "W3"]
    assert wire_warmth(more, more.wires["W3"]).celsius == 85.0
    gone = made(more, remove_bundle(more, branch.id))
    assert not any(w.branches for w in gone.wires.values()) and gone.zones
    cool = made(more, remove_zone(more, branch.zone))
    assert wire_warmth(cool, cool.wires["W3"]).celsius == 30.0
    for bad in ("", " ", "B1-B2", "a,b"):
        with pytest.raises(EditError):
            lay_in_bundle(start, ["W1"], bad)
