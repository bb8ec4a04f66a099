"""New wire numbers and references in order, no link broken.

Links hold ids; only promises name parts and wires in words, and those words change along where
they name one thing only. Numbers and references of what is not chosen are passed over.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace

from model.circuit import Circuit, Part, Sheet, Wire
from model.editing.draft import Draft, Edit, part_at, wire_at
from model.editing.errors import EditError
from model.editing.naming import Free
from model.editing.sound import check_text
from model.lookup import kind_of, label

ORDERS = ("file", "drawing")
_FORM = re.compile(r"(.*?)\d+\Z", re.DOTALL)
Spot = tuple[float, float, float]
"""Which sheet, and where on it."""
_NOWHERE = (float("inf"), float("inf"), float("inf"))


def renumber_wires(
    circuit: Circuit,
    wire_ids: Iterable[str] | None = None,
    order: str = "file",
    shown: Sheet | None = None,
    *,
    prefix: str = "W",
    width: int = 0,
) -> Edit:
    """Return the edit that numbers wires anew: W1, W2 …

    Parameters
    ----------
    wire_ids
        The wires; None: all.
    order
        "file", or "drawing": sheet by sheet, from left to right by where the left end's part
        stands, then down.
    shown
        For "drawing": a sheet as drawn, with every place on it, in place of the file's.
    prefix, width
        What a number starts with, and its least digits.

    Raises
    ------
    EditError
        There is no such wire or order, or the prefix has control characters.
    """
    check_text(prefix)
    chosen = [*circuit.wires] if wire_ids is None else list(dict.fromkeys(wire_ids))
    wires = [wire_at(circuit, w) for w in sorted(chosen, key=_place_in(circuit.wires))]
    if _drawn(order):
        at = _spots(circuit, shown)
        wires.sort(key=lambda w: _across(w, at))
    draft = Draft(circuit)
    taken = set(chosen)
    free = Free(w.number for w in circuit.wires.values() if w.id not in taken)
    names = {w.id: free.next(prefix, width) for w in wires}
    for key, name in names.items():
        draft.wires[key] = replace(draft.wires[key], number=name)
    _reword(draft, {w.number: names[w.id] for w in wires}, circuit)
    return draft.done("Number wires anew", chosen)


def renumber_parts(
    circuit: Circuit,
    part_ids: Iterable[str] | None = None,
    order: str = "file",
    shown: Sheet | None = None,
) -> Edit:
    """Return the edit that gives parts new references: each letter from 1.

    A reference keeps its letters; one without a number gets the letter of its kind.

    Parameters
    ----------
    part_ids
        The parts; None: all that have a reference.
    order, shown
        As for `renumber_wires`.

    Raises
    ------
    EditError
        There is no such part or order.
    """
    every = [p.id for p in circuit.parts.values() if p.reference]
    chosen = every if part_ids is None else list(dict.fromkeys(part_ids))
    parts = [part_at(circuit, p) for p in sorted(chosen, key=_place_in(circuit.parts))]
    if _drawn(order):
        at = _spots(circuit, shown)
        parts.sort(key=lambda p: at.get(p.id, _NOWHERE))
    draft = Draft(circuit)
    taken = set(chosen)
    free = Free(p.reference for p in circuit.parts.values() if p.id not in taken)
    names = {p.id: free.next(_letter(circuit, p)) for p in parts}
    for key, name in names.items():
        draft.parts[key] = replace(draft.parts[key], reference=name)
    _reword(draft, {p.reference: names[p.id] for p in parts}, circuit)
    return draft.done("Give new references", chosen)


def rename_part(circuit: Circuit, part_id: str, reference: str) -> Edit:
    """Return the edit of one reference, followed by the promises that name it.

    Raises
    ------
    EditError
        There is no such part, or the reference has control characters.
    """
    part = part_at(circuit, part_id)
    check_text(reference)
    draft = Draft(circuit)
    draft.parts[part_id] = replace(part, reference=reference)
    if reference:
        _reword(draft, {part.reference: reference}, circuit)
    if any(p.reference == reference != "" for p in circuit.parts.values() if p.id != part_id):
        draft.notes.append(f"Another part is called {reference}, too.")
    return draft.done(f"Rename {label(part)} to {reference}", [part_id])


def rename_wire(circuit: Circuit, wire_id: str, number: str) -> Edit:
    """Return the edit of one wire number, followed by the promises that name it.

    Raises
    ------
    EditError
        There is no such wire, or the number has control characters.
    """
    wire = wire_at(circuit, wire_id)
    check_text(number)
    draft = Draft(circuit)
    draft.wires[wire_id] = replace(wire, number=number)
    if number:
        _reword(draft, {wire.number: number}, circuit)
    return draft.done(f"Number {wire.number or 'a wire'} {number}", [wire_id])


def _drawn(order: str) -> bool:
    """Tell whether the order is that of the drawing."""
    if order not in ORDERS:
        raise EditError(f"There is no order “{order}”; use file or drawing.")
    return order == "drawing"


def _spots(circuit: Circuit, shown: Sheet | None) -> dict[str, Spot]:
    """Return where each part stands; one drawn at several places counts at the first of them."""
    sheets = dict(circuit.sheets) | ({shown.id: shown} if shown else {})
    at: dict[str, Spot] = {}
    for index, sheet in enumerate(sheets.values()):
        for place in sheet.places.values():
            at[place.part] = min(at.get(place.part, _NOWHERE), (index, place.x, place.y))
    for part in circuit.parts.values():
        if part.id not in at and part.host in at:
            at[part.id] = at[part.host]
    return at


def _across(wire: Wire, at: Mapping[str, Spot]) -> tuple[Spot, ...]:
    """Return where a wire's ends stand, the left one first."""
    return tuple(sorted(at.get(e.part, _NOWHERE) if e else _NOWHERE
                        for e in (wire.first, wire.second)))  # fmt: skip


def _place_in(table: Mapping[str, object]) -> Callable[[str], int]:
    order = {key: i for i, key in enumerate(table)}
    return lambda key: order.get(key, -1)


def _letter(circuit: Circuit, part: Part) -> str:
    form = _FORM.match(part.reference)
    return (form[1] if form else "") or kind_of(circuit, part).letter or "X"


def _reword(draft: Draft, names: Mapping[str, str], circuit: Circuit) -> None:
    """Put new names for old ones in the promises, all at once, where a name means one thing."""
    every = Counter(p.reference for p in circuit.parts.values())
    every.update(w.number for w in circuit.wires.values())
    changed = {a: b for a, b in names.items() if a and a != b and every[a] == 1}
    if not changed or not circuit.promises:
        return
    words = "|".join(re.escape(a) for a in sorted(changed, key=len, reverse=True))
    pattern = re.compile(rf"(?<!\w)(?:{words})(?!\w)")
    for promise in circuit.promises.values():
        text = pattern.sub(lambda m: changed[m[0]], promise.text)
        draft.promises[promise.id] = replace(promise, text=text)
