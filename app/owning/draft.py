"""A kind of one's own as the rows of a form, and back. No Qt in here.

What the form does not show of a kind read from a file (its slots, elements of other sorts, the
conditions of an element) is kept with the row it belongs to, and written back as it was.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from app.owning.elements import ElementRow, element_of, row_of
from app.owning.standard import needed_specs
from model.circuit import Circuit, OwnKind
from model.kinds import KINDS
from model.kinds.body import Body, Element, Position, Terminal
from model.kinds.kind import Duty, Kind, RatingSpec

DASHES = "-–−"


@dataclass(frozen=True, slots=True)
class PositionRow:
    """A position as typed: `closes` are pairs such as "30-15, 30-50"; `latches` is yes or ""."""

    name: str
    closes: str = ""
    springs_to: str = ""
    latches: str = ""


@dataclass(frozen=True, slots=True)
class OwnDraft:
    """All that the form holds; `base` is the kind it started from, None for a new one."""

    title: str = ""
    letter: str = "X"
    family: str = "own"
    icon: str = ""
    about: str = ""
    terminals: tuple[Terminal, ...] = ()
    elements: tuple[ElementRow, ...] = ()
    positions: tuple[PositionRow, ...] = ()
    rest: str = ""
    ratings: tuple[RatingSpec, ...] = ()
    base: OwnKind | None = field(default=None, compare=False)


def draft_of(own: OwnKind) -> OwnDraft:
    """Return a kind as the rows of the form."""
    kind, body = own.kind, own.kind.body
    return OwnDraft(
        kind.title,
        kind.letter,
        kind.family,
        kind.icon,
        kind.about,
        body.terminals,
        tuple(row_of(e, body) for e in body.elements),
        tuple(_position_row(p) for p in body.positions),
        body.rest,
        kind.ratings,
        own,
    )


def kind_from(draft: OwnDraft, circuit: Circuit) -> OwnKind:
    """Return the kind that the form describes, with every rating its elements need."""
    base = draft.base
    key = base.id if base else fresh_key(draft.title, circuit)
    elements = elements_of(draft)
    positions = positions_of(draft)
    body = Body(
        draft.terminals,
        elements,
        positions,
        rest_of(draft),
        base.kind.body.slots if base else (),
    )
    kind = Kind(
        key,
        draft.title.strip(),
        draft.family,
        draft.letter.strip() or "X",
        body,
        ratings_of(draft, elements),
        duty=_duty(base, draft),
        shape=base.kind.shape if base else ("table" if positions else ""),
        aliases=base.kind.aliases if base else (),
        about=draft.about.strip(),
        icon=draft.icon,
    )
    return OwnKind(key, kind, base.extra if base else {})


def elements_of(draft: OwnDraft) -> tuple[Element, ...]:
    """Return the elements of the rows, each as far as it can be read."""
    return tuple(element_of(row, draft.elements) for row in draft.elements)


def positions_of(draft: OwnDraft) -> tuple[Position, ...]:
    """Return the positions of the rows; pairs that cannot be read are left out."""
    keys = [t.key for t in draft.terminals]
    return tuple(
        Position(
            row.name.strip(),
            tuple(p for text in _listed(row.closes) if (p := pair(text, keys))),
            row.springs_to.strip(),
            row.latches == "yes",
        )
        for row in draft.positions
    )


def rest_of(draft: OwnDraft) -> str:
    """Return the rest position: the one told, else the first."""
    names = [r.name.strip() for r in draft.positions]
    return draft.rest if draft.rest in names else next(iter(names), "")


def ratings_of(draft: OwnDraft, elements: Iterable[Element]) -> tuple[RatingSpec, ...]:
    """Return the ratings that the elements need; what a person stated of one, or the file, holds.

    Those of an element that has gone go with it, unless someone stated them.
    """
    needed: dict[str, RatingSpec] = {}
    for spec in needed_specs(elements, bool(draft.positions)):
        needed.setdefault(spec.key, spec)
    filed = draft.base.kind.specs if draft.base else {}
    held = {r.key: r for r in draft.ratings if r.key in filed or r.source == STATED}
    return tuple({**held, **needed, **held}.values())


def unread_pairs(row: PositionRow, keys: list[str]) -> list[str]:
    """Return the pairs of a position that name no two terminals."""
    return [text for text in _listed(row.closes) if pair(text, keys) is None]


def pair(text: str, keys: list[str]) -> tuple[str, str] | None:
    """Return the two terminals that a text such as "30-15" names, None where it does not."""
    for at, sign in enumerate(text):
        first, second = text[:at].strip(), text[at + 1 :].strip()
        if sign in DASHES and first in keys and second in keys and first != second:
            return first, second
    return None


def fresh_key(title: str, circuit: Circuit) -> str:
    """Return a key that no kind has, made from a title."""
    stem = re.sub(r"[^a-z0-9]+", "-", title.casefold()).strip("-")[:40] or "own"
    taken = {*KINDS, *circuit.own_kinds}
    tries = (stem, *(f"{stem}-{n}" for n in range(2, len(taken) + 3)))
    return next(t for t in tries if t not in taken)


def _listed(text: str) -> list[str]:
    return [t.strip() for t in text.split(",") if t.strip()]


def _position_row(position: Position) -> PositionRow:
    closes = ", ".join(f"{a}-{b}" for a, b in position.closed)
    return PositionRow(
        position.name, closes, position.springs_to, "yes" if position.latches else ""
    )


def _duty(base: OwnKind | None, draft: OwnDraft) -> Duty | None:
    """Return the duty of the kind; a part with a load has one, so that it can be stated."""
    if base is not None and base.kind.duty is not None:
        return base.kind.duty
    return Duty() if any(row.sort == "load" for row in draft.elements) else None


def with_default(spec: RatingSpec, default: float | str | None, at_24: bool) -> RatingSpec:
    """Return a rating with another default, whose source is then the person who made the part."""
    if at_24:
        return replace(spec, default_24=default)
    return replace(spec, default=default, source=STATED)


STATED = "stated for this part of one's own"
