"""What is still wrong with a part of one's own, in sentences a person can act on."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

from app.owning.draft import OwnDraft, kind_from, unread_pairs
from app.owning.elements import ACTIONS, DRAWS, ElementRow
from model.circuit import Circuit
from model.editing import define_kind
from model.errors import ModelError


def sentences(draft: OwnDraft, circuit: Circuit) -> list[str]:
    """Return what must be put right before the part can be saved; nothing where it is whole."""
    found = [*_head(draft), *_inside(draft), *_positions(draft)]
    if found:
        return found
    try:
        define_kind(circuit, kind_from(draft, circuit))
    except ModelError as error:
        return [str(error)]
    return []


def _head(draft: OwnDraft) -> Iterator[str]:
    if not draft.title.strip():
        yield "Give the part a title."
    if not re.fullmatch(r"[A-Z]{1,3}", draft.letter.strip()):
        yield "The letter of its references is one to three capitals, such as K."
    if not draft.terminals:
        yield "Add a terminal: a part without one can be joined to nothing."
    keys = [t.key for t in draft.terminals]
    for key, count in Counter(keys).items():
        if not key:
            yield "A terminal has no name."
        elif count > 1 and not any(t.face for t in draft.terminals):
            yield f"Two terminals are called “{key}”: give one another name."


def _inside(draft: OwnDraft) -> Iterator[str]:
    """Yield what is wrong with the elements."""
    nodes = {t.node for t in draft.terminals}
    used = Counter(end.strip() for row in draft.elements for end in (row.a, row.b))
    names = Counter(row.name.strip() for row in draft.elements)
    for row in draft.elements:
        name = row.name.strip() or row.sort
        if not row.name.strip():
            yield f"A {row.sort} has no name."
        elif names[name] > 1:
            yield f"Two elements are called “{name}”: give one another name."
        for end in (row.a.strip(), row.b.strip()):
            if end not in nodes and used[end] < 2 and end != "(shell)":
                yield f"“{name}” ends at “{end}”, which is no terminal: add it, or correct the end."
        if row.a.strip() == row.b.strip():
            yield f"“{name}” has both ends at “{row.a.strip()}”: give it two."
        yield from _does(row, draft)


def _does(row: ElementRow, draft: OwnDraft) -> Iterator[str]:
    """Yield what is wrong with when a contact is closed, or with what a coil or load does."""
    choices = {"coil": ACTIONS, "load": DRAWS}.get(row.sort, ())
    if row.sort != "contact":
        if choices and row.does and row.does not in choices and not row.base:
            yield f"“{row.name}” cannot do “{row.does}”; use one of {', '.join(choices)}."
        return
    coils = [r.name.strip() for r in draft.elements if r.sort == "coil"]
    positions = {p.name.strip() for p in draft.positions}
    states = {f"{c} {s}" for c in coils for s in ("in", "out")}
    typed = [t.strip() for t in row.does.split(",") if t.strip()]
    if not typed or not (row.does.strip() in states or set(typed) <= positions):
        known = sorted(states) + sorted(positions)
        say = f"write one of {', '.join(known)}" if known else "add a coil or a position first"
        yield f"“{row.name}” does not say when it is closed: {say}."


def _positions(draft: OwnDraft) -> Iterator[str]:
    keys = [t.key for t in draft.terminals]
    names = Counter(row.name.strip() for row in draft.positions)
    for row in draft.positions:
        name = row.name.strip()
        if not name:
            yield "A position has no name."
        elif names[name] > 1:
            yield f"Two positions are called “{name}”: give one another name."
        for text in unread_pairs(row, keys):
            yield f"Position {name} closes “{text}”: write two terminals, such as 1-2."
        if row.springs_to.strip() and row.springs_to.strip() not in names:
            yield f"Position {name} springs to “{row.springs_to}”, which is no position."
