"""On which sheet things stand. No widget in here."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from model.circuit import Circuit
from model.document import Happened

GONE = 4
"""Of so many sheets that are gone it is remembered how they were seen: undo brings them back."""


def let_go(kept: dict[str, Any], circuit: Circuit) -> None:
    """Forget what is kept of sheets that are gone, but for the latest few."""
    gone = [key for key in kept if key not in circuit.sheets]
    for key in gone[:-GONE]:
        del kept[key]


def parts_of(circuit: Circuit, ids: Iterable[str]) -> set[str]:
    """Return the parts whose cards show these parts and wires: hosts, and both ends of wires."""
    keys = list(ids)
    wires = [circuit.wires[i] for i in keys if i in circuit.wires]
    ends = [e.part for w in wires for e in (w.first, w.second) if e is not None]
    known = circuit.parts
    return {known[p].host or p for p in (*keys, *ends) if p in known}


def shown_on(circuit: Circuit, sheet_id: str) -> set[str]:
    """Return the parts shown on a sheet; the first one shows those that have no place anywhere."""
    sheet = circuit.sheets.get(sheet_id)
    here = {p.part for p in sheet.places.values()} if sheet else set()
    if sheet is None or sheet_id == next(iter(circuit.sheets)):
        placed = {p.part for s in circuit.sheets.values() for p in s.places.values()}
        here |= {k for k, p in circuit.parts.items() if k not in placed and not p.host}
    return here


def sheet_for(circuit: Circuit, ids: Iterable[str], now: str) -> str:
    """Return the sheet to show for things to be seen: the one shown now where it has any of them.

    "" where they stand nowhere.
    """
    wanted = parts_of(circuit, ids)
    for key in (now, *circuit.sheets):
        if wanted & shown_on(circuit, key):
            return key
    return ""


def redrawn(happened: Happened, now: str) -> str:
    """Return another sheet on which a change is seen, "" where it is seen here or on none."""
    before, after = happened.before.sheets, happened.after.sheets
    seen = [
        key
        for table, key in happened.touched
        if table == "sheets" and (key not in before or key not in after or _differ(happened, key))
    ]
    if now in seen:
        return ""
    return next((k for k in after if k in seen), "")


def _differ(happened: Happened, key: str) -> bool:
    old, new = happened.before.sheets[key], happened.after.sheets[key]
    return (old.places, old.routes) != (new.places, new.routes)
