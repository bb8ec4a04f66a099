"""Checks of a part against its kind and its host, and of a kind of the user's own in itself."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches

from model.circuit import OwnKind, Part
from model.file.commas import pointed
from model.file.context import Links
from model.file.reader import shown
from model.kinds import KINDS
from model.kinds.body import Body, Coil, Contact, Element, LoadPath, Position
from model.kinds.kind import Kind, RatingSpec, Value
from model.lookup import body_of, kind_of
from model.own_tables import type_names

SIGNED = ("temperature", "pressure")
"""Quantities that may be negative."""
WORDS = ("choice", "text")
LARGEST = 1e9


def check_part(links: Links, part: Part) -> Part:
    """Check kind, ratings and table of a part."""
    if part.kind not in KINDS and part.kind not in links.circuit.own_kinds:
        raise _unknown_kind(links, part.kind)
    kind = kind_of(links.circuit, part)
    for key, value in part.ratings.items():
        _check_rating(links, kind, key, value)
    if kind.shape == "table" and (part.table or part.terminals or part.rest):
        _check_table(links, part, kind)
    _warn_of_idle(links, part, kind)
    if part.branch and part.branch not in links.circuit.branches:
        links.warn(f"there is no branch “{part.branch}”", "add it or take “branch” out")
    links.warn_of_zone(part.zone)
    if part.type and part.type not in type_names(links.circuit, frozenset(kind.specs)):
        links.warn(
            f"no table of this circuit has a type “{part.type}” for a {kind.key}",
            "add the table or take “type” out",
        )
    return part


def _unknown_kind(links: Links, key: str) -> Exception:
    """Return the sentence for a kind that is not there, with those of a similar name."""
    known = [*KINDS, *links.circuit.own_kinds]
    near = get_close_matches(key, known, 3, 0.5) or ["relay-make", "switch"]
    return links.wrong(
        f"the kind “{key}” is unknown",
        f"write a known kind such as {' or '.join(near)}, or define it under “own_kinds”",
        "kind",
    )


def _check_rating(links: Links, kind: Kind, key: str, value: Value) -> None:
    spec = kind.specs.get(key)
    if spec is None:
        links.warn(f"“{key}” is no rating of a {kind.key}", "it is kept as it is", "ratings", key)
    elif wanted := _unfit(spec, value):
        raise links.wrong(
            f"“{key}” cannot be {shown(value)}", wanted + pointed(value), "ratings", key
        )


def _unfit(spec: RatingSpec, value: Value) -> str:
    """Return what to write instead of a value that does not fit, "" for one that does."""
    if spec.quantity in WORDS:
        choices = spec.choices
        if not isinstance(value, str) or (choices and value not in choices):
            return f"write one of {', '.join(choices)}" if choices else "write a text"
        return ""
    low = -LARGEST if spec.quantity in SIGNED else 0.0
    if isinstance(value, str) or value is None or not low <= value <= LARGEST:
        return f"write a number ({spec.quantity}) from {low:,.0f} to {LARGEST:,.0f}"
    return ""


def _check_table(links: Links, part: Part, kind: Kind) -> None:
    """Check that the positions of a control name its terminals and each other."""
    keys = part.terminals or tuple(t.key for t in kind.body.terminals)
    if len(set(keys)) < len(keys):
        raise links.wrong("a terminal stands twice in “terminals”", "remove one", "terminals")
    table = part.table or kind.body.positions
    where = "table" if part.table else "terminals"
    _check_positions(links, table, keys, where)
    if part.rest and part.rest not in {p.name for p in table}:
        raise links.wrong(f"the rest position “{part.rest}” is none of its own", _POSITION, "rest")


_POSITION = "write the name of a position of its table"


def _check_positions(
    links: Links, table: tuple[Position, ...], keys: Iterable[str], where: str
) -> None:
    known, names = set(keys), {p.name for p in table}
    for position in table:
        strange = {t for pair in position.closed for t in pair} - known
        if strange:
            raise links.wrong(
                f"position “{position.name}” closes “{min(strange)}”, which is no terminal of it",
                f"use one of {', '.join(keys)}",
                where,
            )
        if position.springs_to and position.springs_to not in names:
            raise links.wrong(
                f"position “{position.name}” springs to the unknown “{position.springs_to}”",
                _POSITION,
                where,
            )


def _warn_of_idle(links: Links, part: Part, kind: Kind) -> None:
    """Warn of fields that a part of this kind cannot have."""
    idle = [] if kind.shape == "table" else ["terminals", "table", "rest"]
    idle += [] if kind.shape == "ways" else ["ways"]
    for key in idle:
        if getattr(part, key):
            links.warn(f"“{key}” says nothing about a {kind.key}", "take it out", key)


def check_guest(links: Links, part: Part) -> Part:
    """Check where a part sits: in a part that exists, in a slot of it, and never in itself."""
    if not part.host:
        return part
    parts = links.circuit.parts
    host = parts.get(part.host)
    if host is None:
        raise links.wrong(f"it sits in “{part.host}”, and there is no such part", _HOST, "host")
    seen, above = {part.id}, host
    while above.id not in seen:
        seen.add(above.id)
        if not above.host or above.host not in parts:
            break
        above = parts[above.host]
    else:
        raise links.wrong("the part sits in itself, by way of its hosts", _HOST, "host")
    slots = [s.name for s in body_of(links.circuit, host).slots]
    if part.slot and part.slot not in slots:
        raise links.wrong(
            f"{host.reference or host.id} has no slot “{part.slot}”",
            f"use one of {', '.join(slots)}" if slots else "take “slot” out",
            "slot",
        )
    return part


_HOST = "correct “host” or take it out"


def check_own_kind(links: Links, own: OwnKind) -> OwnKind:
    """Check that a kind of the user's own is whole: positions, contacts, coils and ratings."""
    kind, body = own.kind, own.kind.body
    if own.id in KINDS:
        raise links.wrong(f"“{own.id}” is a kind of the program", "give it another id", "id")
    _check_positions(links, body.positions, [t.key for t in body.terminals], "positions")
    if body.rest and body.position(body.rest) is None:
        raise links.wrong(f"the rest position “{body.rest}” is none of its own", _POSITION, "rest")
    for element in body.elements:
        _check_element(links, element, kind)
    for spec in kind.ratings:
        for value in (spec.default, spec.default_24):
            if value is not None and (wanted := _unfit(spec, value)):
                raise links.wrong(
                    f"the default of “{spec.key}” cannot be {shown(value)}", wanted, "ratings"
                )
    return own


def _check_element(links: Links, element: Element, kind: Kind) -> None:
    """Check that what an element refers to is there."""
    inside = ("elements", element.name)
    names = [getattr(element, n, "") for n in ("ohm", "volt")]
    names += [f"{element.prefix}current_a"] if isinstance(element, LoadPath) else []
    names += [element.when[0]] if element.when else []
    for name in names:
        if name and name not in kind.specs:
            raise links.wrong(
                f"the element “{element.name}” needs the rating “{name}”",
                "add it under “ratings” of this kind",
                *inside,
            )
    if isinstance(element, Contact):
        _check_contact(links, element, kind.body)


def _check_contact(links: Links, contact: Contact, body: Body) -> None:
    """Check that a coil moves the contact, or that it follows positions that are there."""
    moved = {e.moves for e in body.elements if isinstance(e, Coil)}
    if contact.by and contact.by not in moved:
        raise links.wrong(
            f"no coil moves “{contact.by}” of the contact “{contact.name}”",
            "write in “by” what a coil has in “moves”, or leave it out",
            "elements",
            contact.name,
        )
    known = {"in", "out"} if contact.by else {p.name for p in body.positions}
    if strange := set(contact.closed) - known:
        raise links.wrong(
            f"the contact “{contact.name}” is closed in the unknown “{min(strange)}”",
            f"use one of {', '.join(sorted(known))}" if known else "add it under “positions”",
            "elements",
            contact.name,
        )
