"""Tidying a sheet: its parts placed and its wires routed anew, as one change."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection
from dataclasses import replace

from model.changes import Change
from model.circuit import Circuit
from model.edits import put
from model.layout.place import arrange

TEXT = "Tidy the sheet"


def tidy(circuit: Circuit, sheet_id: str, keep: Collection[str] = ()) -> Change | None:
    """Return the change that lays a sheet out anew; None where it would change nothing.

    Parameters
    ----------
    keep
        Ids of the places that stay as they are. A part that stands on the sheet in pieces, or more
        than once, stays too: only a person knows why. Bends that a person chose stay with wires
        between two places that stay.

    Raises
    ------
    KeyError
        When there is no such sheet.
    """
    sheet = circuit.sheets[sheet_id]
    count = Counter(p.part for p in sheet.places.values())
    stays = {k for k, p in sheet.places.items() if k in keep or p.shows or count[p.part] > 1}
    parts = {p.part for k, p in sheet.places.items() if k not in stays}
    laid = {p.id: p for p in arrange(circuit, sheet_id, parts)}
    fixed = {sheet.places[k].part for k in stays}
    places = {k: laid.get(k, p) for k, p in sheet.places.items()}
    routes = {k: r for k, r in sheet.routes.items() if _between(circuit, k, fixed)}
    new = replace(sheet, places=places, routes=routes)
    return None if new == sheet else put(circuit, "sheets", new, TEXT)


def _between(circuit: Circuit, wire: str, parts: set[str]) -> bool:
    """Tell whether both ends of a wire are at these parts, or at what sits in them."""
    record = circuit.wires.get(wire)
    ends = [e.part for e in (record.first, record.second) if e is not None] if record else []
    hosts = [circuit.parts[p].host or p for p in ends if p in circuit.parts]
    return len(hosts) == 2 and parts.issuperset(hosts)
