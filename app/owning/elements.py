"""The elements of a part of one's own as rows of a form: contact, coil, resistance, diode, load."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from model.kinds.body import (
    Body,
    Coil,
    Contact,
    DiodePath,
    Element,
    LoadPath,
    Resistance,
)

SORTS: dict[str, type[Element]] = {
    "contact": Contact,
    "coil": Coil,
    "resistance": Resistance,
    "diode": DiodePath,
    "load": LoadPath,
}
ACTIONS = ("hold", "set", "reset", "on-delay", "off-delay", "pulse", "flash")
DRAWS = ("resistive", "motor", "lamp")
OTHER = "as in the file"
"""Sort of an element that the form does not offer; it stays as it is."""


@dataclass(frozen=True, slots=True)
class ElementRow:
    """An element as typed: its sort, its two ends, and what it does.

    `does` says of a contact when it is closed ("coil in", or positions "ON, START"), of a coil its
    action, of a load what it draws like. `base` is the element read from the file.
    """

    name: str
    sort: str
    a: str = ""
    b: str = ""
    does: str = ""
    base: Element | None = field(default=None, compare=False)


def row_of(element: Element, body: Body) -> ElementRow:
    """Return an element as a row."""
    sort = next((s for s, cls in SORTS.items() if type(element) is cls), OTHER)
    return ElementRow(element.name, sort, element.a, element.b, _does(element, body), element)


def _does(element: Element, body: Body) -> str:
    if isinstance(element, Contact):
        moved = (e.name for e in body.elements if isinstance(e, Coil) and e.moves == element.by)
        by = next(moved, element.by)
        return f"{by} {' '.join(element.closed)}" if element.by else ", ".join(element.closed)
    if isinstance(element, Coil):
        return element.action
    return element.draws if isinstance(element, LoadPath) else ""


def element_of(row: ElementRow, rows: Sequence[ElementRow]) -> Element:
    """Return the element that a row describes; `rows` are all rows of the part."""
    values: dict[str, Any] = {"name": row.name.strip(), "a": row.a.strip(), "b": row.b.strip()}
    values |= _own_values(row, rows)
    cls = SORTS.get(row.sort)
    if row.base is not None and (cls is None or type(row.base) is cls):
        return replace(row.base, **values)
    if cls is None:
        cls = Resistance
    return cls(**(_named_ratings(row, rows) | values))


def _own_values(row: ElementRow, rows: Sequence[ElementRow]) -> dict[str, Any]:
    """Return what only this sort of element has, read from `does`."""
    if row.sort == "contact":
        by, closed = _closed(row.does, rows)
        return {"by": by, "closed": closed}
    if row.sort == "coil":
        moves = row.base.moves if isinstance(row.base, Coil) else row.name.strip()
        return {"moves": moves, "action": row.does.strip() or "hold"}
    if row.sort == "load":
        return {"draws": row.does.strip() or "resistive"}
    return {}


def _closed(does: str, rows: Sequence[ElementRow]) -> tuple[str, tuple[str, ...]]:
    """Return which armature moves a contact, and when it is closed."""
    coil, _, state = does.strip().rpartition(" ")
    for other in rows:
        if other.sort == "coil" and other.name.strip() == coil and state in ("in", "out"):
            moves = other.base.moves if isinstance(other.base, Coil) else coil
            return moves, (state,)
    return "", tuple(t.strip() for t in does.split(",") if t.strip())


def _named_ratings(row: ElementRow, rows: Sequence[ElementRow]) -> dict[str, Any]:
    """Return the names of an element's ratings: the plain ones for the first of its sort."""
    first = next((r for r in rows if r.sort == row.sort), row)
    prefix = "" if first is row else f"{_slug(row.name)}_"
    if row.sort == "load":
        return {"prefix": prefix}
    if row.sort == "coil":
        return {"ohm": f"{prefix}coil_ohm"}
    if row.sort == "resistance":
        return {"ohm": f"{prefix}resistance_ohm" if prefix else "fixed_ohm"}
    if row.sort == "diode":
        return {"volt": f"{prefix}forward_v", "ohm": f"{prefix}forward_ohm"}
    return {}


def _slug(name: str) -> str:
    return re.sub(r"[^a-z0-9]+", "_", name.casefold()).strip("_") or "other"
