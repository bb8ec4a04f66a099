"""One text said of several parts or wires: 2.5 mm² RD for six wires, 8 A for three pumps."""

from __future__ import annotations

from collections.abc import Iterable

from app.entry.edit import edit_part, edit_wire
from app.entry.errors import Refused
from app.entry.plan import Cursor
from app.entry.read import Entry, Refusal
from app.entry.words import Clause, clauses
from model.changes import Change, Swap
from model.circuit import Circuit
from model.errors import ModelError
from model.lookup import label, wire_label


def change_all(circuit: Circuit, ids: Iterable[str], text: str) -> Entry | Refusal:
    """Return what a text changes of all of these parts, or of all of these wires.

    Parameters
    ----------
    circuit : Circuit
        As it is now.
    ids : iterable of str
        What is selected: parts, or wires. Of both together the wires are left alone where the
        text says something of parts, and the other way round.
    text : str
        As after a reference or a wire number in the typed line.

    Returns
    -------
    Entry or Refusal
        One change for all of them; refused as a whole where one of them refuses.
    """
    chosen = set(ids)
    parts = [i for i in circuit.parts if i in chosen]
    wires = [i for i in circuit.wires if i in chosen]
    if not parts and not wires:
        return Refusal("Nothing is selected: select wires, or parts of a kind, first.")
    found = clauses(text)
    if not found:
        return Refusal(_what(circuit, parts, wires))
    try:
        return _of(circuit, wires or parts, found[0])
    except (Refused, ModelError) as error:
        if not (parts and wires):
            return Refusal(str(error))
    try:
        return _of(circuit, parts, found[0])
    except (Refused, ModelError) as error:
        return Refusal(str(error))


def _of(circuit: Circuit, ids: list[str], words: Clause) -> Entry:
    """Return the change of parts, or of wires."""
    swaps: list[Swap] = []
    after = circuit
    for key in ids:
        if key in after.wires:
            step = edit_wire(after, after.wires[key], [], words, Cursor())
        else:
            step = edit_part(after, after.parts[key], words, Cursor())
        swaps += step.change.swaps
        after = step.change.apply(after)
    names, said = _names(circuit, ids), " ".join(w.text for w in words)
    change = Change(f"Change {names}", tuple(swaps))
    return Entry(change, f"{names}: {said}", Cursor(), tuple(ids))


def _names(circuit: Circuit, ids: list[str], most: int = 3) -> str:
    known = [
        wire_label(circuit.wires[i]) if i in circuit.wires else label(circuit.parts[i])
        for i in ids[:most]
    ]
    return ", ".join(known) + (f" and {len(ids) - most} more" if len(ids) > most else "")


def _what(circuit: Circuit, parts: list[str], wires: list[str]) -> str:
    """Return what can be typed for these."""
    if wires:
        return f"{_names(circuit, wires)}: type a size, a colour, a length, such as 2.5 mm² RD 1 m"
    return f"{_names(circuit, parts)}: type ratings, such as 8 A"
