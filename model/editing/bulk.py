"""One value for many: fields of wires, ratings of parts."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from model.circuit import Circuit, Part, Wire
from model.editing.draft import Draft, Edit, listed, named, part_at, wire_at
from model.editing.errors import EditError
from model.editing.sound import check_sound
from model.kinds.kind import Duty, Value
from model.lookup import kind_of, label

WIRE_FIELDS = (
    "size",
    "length_m",
    "colour",
    "tracer",
    "found_colour",
    "insulation",
    "circuit",
    "confidence",
    "cable",
    "branches",
    "note",
    "zone",
)
"""Fields that several wires may share."""
PART_FIELDS = ("name", "duty", "location", "branch", "note", "zone")
"""Fields that several parts may share."""
LINKS = ("cable", "branches", "branch", "zone")


def set_wires(circuit: Circuit, wire_ids: Iterable[str], /, **fields: Any) -> Edit:
    """Return the edit that gives wires the same values.

    Parameters
    ----------
    fields
        Values by the names in `WIRE_FIELDS`, as `Wire` holds them: `size` a `Size`, `length_m`
        metres.

    Raises
    ------
    EditError
        There is no such wire or field, or a value cannot be in a file.
    """
    _check_names(fields, WIRE_FIELDS, "wires")
    try:
        check_sound(Wire("w", **{k: v for k, v in fields.items() if k not in LINKS}))
    except (AttributeError, TypeError) as error:
        raise EditError(f"A value is of the wrong sort ({error}); give each as a wire holds it.")\
            from error  # fmt: skip
    _check_links(circuit, fields)
    draft = Draft(circuit)
    chosen = list(dict.fromkeys(wire_ids))
    for key in chosen:
        draft.wires[key] = replace(wire_at(circuit, key), **fields)
    return draft.done(f"Change {_said(fields)} of {named(circuit, chosen)}", chosen)


def set_parts(circuit: Circuit, part_ids: Iterable[str], **fields: Any) -> Edit:
    """Return the edit that gives parts the same values.

    Parameters
    ----------
    fields
        Values by the names in `PART_FIELDS`, as `Part` holds them. Of a `Duty` what is None is
        left as each part has it.

    Raises
    ------
    EditError
        There is no such part or field, or a value cannot be in a file.
    """
    _check_names(fields, PART_FIELDS, "parts")
    check_sound(Part("p", "splice", **{k: v for k, v in fields.items() if k not in LINKS}))
    _check_links(circuit, fields)
    draft = Draft(circuit)
    chosen = list(dict.fromkeys(part_ids))
    for key in chosen:
        part = part_at(circuit, key)
        duty = fields.get("duty", Duty()).over(part.duty)
        draft.parts[key] = replace(part, **(fields | {"duty": duty}))
    return draft.done(f"Change {_said(fields)} of {named(circuit, chosen)}", chosen)


def set_ratings(circuit: Circuit, part_ids: Iterable[str], key: str, value: Value) -> Edit:
    """Return the edit that states a rating of all those parts that have it.

    Parameters
    ----------
    key, value
        The rating, and its value in the unit of its key; None goes back to the default.

    Raises
    ------
    EditError
        There is no such part, none of them has the rating, or it cannot have this value.
    """
    draft = Draft(circuit)
    chosen = [part_at(circuit, p) for p in dict.fromkeys(part_ids)]
    having = [p for p in chosen if key in kind_of(circuit, p).specs]
    if not having:
        raise EditError(f"None of {named(circuit, [p.id for p in chosen])} has “{key}”.")
    for kind in dict.fromkeys(p.kind for p in having):
        stated = {key: value} if value is not None else {}
        check_sound(Part("p", kind, ratings=stated), circuit.own_kinds)
    for part in having:
        ratings = {k: v for k, v in part.ratings.items() if k != key or value is not None}
        if value is not None:
            ratings[key] = value
        draft.parts[part.id] = replace(part, ratings=ratings)
    without = [label(p) for p in chosen if p not in having]
    draft.notes += [f"{listed(without, 5)}: no such rating, left as it is."] if without else []
    return draft.done(f"Change {key} of {listed(label(p) for p in having)}", [p.id for p in having])


def _check_names(fields: dict[str, Any], known: tuple[str, ...], what: str) -> None:
    for name in fields:
        if name not in known:
            raise EditError(f"“{name}” is nothing {what} share; use one of {', '.join(known)}.")


def _check_links(circuit: Circuit, fields: dict[str, Any]) -> None:
    """Raise when a cable, branch or zone is not there."""
    cable = fields.get("cable", "")
    if cable and cable not in circuit.cables:
        raise EditError(f"There is no cable “{cable}”; add it first.")
    zone = fields.get("zone", "")
    if zone and zone not in circuit.zones:
        raise EditError(f"There is no zone “{zone}”; add it first.")
    branches = [*fields.get("branches", ()), *filter(None, [fields.get("branch", "")])]
    for branch in branches:
        if branch not in circuit.branches:
            raise EditError(f"There is no branch “{branch}”; add it first.")


def _said(fields: dict[str, Any]) -> str:
    """Return the fields as a label names them."""
    words = {"length_m": "length", "found_colour": "colour as found"}
    return listed(words.get(f, f) for f in fields) or "nothing"
