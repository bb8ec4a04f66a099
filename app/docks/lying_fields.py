"""What Details shows of the zones and bundles of a circuit, and how new ones are made."""

from __future__ import annotations

from dataclasses import dataclass, replace

from app.docks.fields import Field
from app.entry.lying import zone_and_celsius
from model.changes import Change
from model.circuit import Branch, Circuit
from model.editing.lying import lay_in_bundle, put_in_zone, remove_bundle, remove_zone
from model.edits import put
from model.lookup import label, wire_label
from model.units import parse, show

MOST_NAMES = 8
NO_ZONE = "no zone"


def lying_fields(circuit: Circuit) -> list[Field]:
    """Return the rows of zones and bundles, each group with one to make another."""
    zones = [
        Field(f"zone {z.id}", z.name or z.id, show(z.temperature_c, "temperature"), _Warm(z.id),
              group="Zones", note=_inside(circuit, z.id))
        for z in circuit.zones.values()
    ]  # fmt: skip
    bundles = [
        Field(f"bundle {b.id}", b.name or b.id, _runs_through(circuit, b), _Runs(b.id),
              NO_ZONE, group="Bundles", note=_lying(circuit, b.id))
        for b in circuit.branches.values()
    ]  # fmt: skip
    return [
        *zones,
        Field("new zone", "New zone", "", _NewZone(), "engine bay 85 °C", group="Zones"),
        *bundles,
        Field("new bundle", "New bundle", "", _NewBundle(), "B1", group="Bundles"),
    ]


def _inside(circuit: Circuit, zone: str) -> str:
    names = [label(p) for p in circuit.parts.values() if p.zone == zone]
    names += [wire_label(w) for w in circuit.wires.values() if w.zone == zone]
    names += [f"bundle {b.name or b.id}" for b in circuit.branches.values() if b.zone == zone]
    return _listed(names) or "Nothing is in it; with no text here it goes."


def _lying(circuit: Circuit, branch: str) -> str:
    names = [wire_label(w) for w in circuit.wires.values() if branch in w.branches]
    return _listed(names) or "No wire lies in it yet: type its name under Bundles of a wire."


def _listed(names: list[str]) -> str:
    more = f" and {len(names) - MOST_NAMES} more" if len(names) > MOST_NAMES else ""
    return ", ".join(names[:MOST_NAMES]) + more


def _runs_through(circuit: Circuit, branch: Branch) -> str:
    zone = circuit.zones.get(branch.zone)
    if zone is not None:
        return zone.name or zone.id
    return "" if branch.zone_c is None else show(branch.zone_c, "temperature")


@dataclass(frozen=True, slots=True)
class _Warm:
    zone_id: str

    def __call__(self, circuit: Circuit, text: str) -> Change | None:
        """Set the temperature of a zone; without text it is removed."""
        if not text:
            return remove_zone(circuit, self.zone_id).change
        zone = circuit.zones[self.zone_id]
        return put_in_zone(circuit, [], zone.name or zone.id, parse(text, "temperature")).change


@dataclass(frozen=True, slots=True)
class _NewZone:
    def __call__(self, circuit: Circuit, text: str) -> Change | None:
        """Make a zone of a name and a temperature."""
        return put_in_zone(circuit, [], *zone_and_celsius(circuit, text)).change if text else None


@dataclass(frozen=True, slots=True)
class _Runs:
    branch_id: str

    def __call__(self, circuit: Circuit, text: str) -> Change | None:
        """Set the zone a bundle runs through; a bundle without wires and text is removed."""
        branch = circuit.branches[self.branch_id]
        name = branch.name or branch.id
        if text:
            return lay_in_bundle(circuit, [], name, *zone_and_celsius(circuit, text)).change
        if not any(branch.id in w.branches for w in circuit.wires.values()) and not branch.zone:
            return remove_bundle(circuit, branch.id).change
        said = f"Take the bundle {name} out of its zone"
        return put(circuit, "branches", replace(branch, zone="", zone_c=None), said)


@dataclass(frozen=True, slots=True)
class _NewBundle:
    def __call__(self, circuit: Circuit, text: str) -> Change | None:
        """Make a bundle of this name."""
        return lay_in_bundle(circuit, [], text).change if text else None
