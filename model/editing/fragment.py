"""A selection as text: a small circuit file of its own, and back.

The text is the file format of `model.file`, so it goes through any clipboard, mail or chat, can be
read by hand, and opens as a file. It holds the chosen parts with everything that sits in them, the
wires between them, the kinds of one's own, cables, harness branches and zones that they name, and
their places and kept routes on one sheet. Left behind are the acceptances and promises of the
circuit and its settings but the nominal voltage.

A wire whose far end is outside is kept, open there, where it was chosen itself; else it stays
behind. A part that sits in another that is not chosen leaves it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from model.circuit import Circuit, End, Part, Settings, Sheet, Wire
from model.editing.errors import EditError
from model.editing.own_tables import used_tables
from model.file import FileError, Loaded, dumps, loads

LONGEST = 8_000_000
"""Most characters of a pasted text; a circuit of ten thousand wires takes about two million."""
NAME = "The pasted text"
_START = re.compile(r'\{\s*"voltwalk"')


def with_guests(circuit: Circuit, ids: Iterable[str]) -> set[str]:
    """Return the ids and those of all parts that sit in them."""
    found = {i for i in ids if i in circuit.parts or i in circuit.wires}
    grows = True
    while grows:
        guests = {p.id for p in circuit.parts.values() if p.host in found} - found
        grows = bool(guests)
        found |= guests
    return found


def fragment(circuit: Circuit, ids: Iterable[str], shown: Sheet | None = None) -> Circuit:
    """Return a selection as a circuit of its own.

    Parameters
    ----------
    ids
        Parts and wires; others are passed over.
    shown
        The sheet whose places and routes go along, as drawn; None takes the first one.
    """
    chosen = with_guests(circuit, ids)
    parts = {k: _freed(p, chosen) for k, p in circuit.parts.items() if k in chosen}
    wires = {}
    for wire in circuit.wires.values():
        cut = _cut(wire, chosen)
        whole = None not in (cut.first, cut.second)
        if wire.id in chosen or whole:
            wires[wire.id] = cut
    cables = {w.cable for w in wires.values()}
    branches = {b for w in wires.values() for b in w.branches} | {p.branch for p in parts.values()}
    zones = {p.zone for p in parts.values()} | {w.zone for w in wires.values()}
    zones |= {b.zone for k, b in circuit.branches.items() if k in branches}
    kinds = {p.kind for p in parts.values()}
    return Circuit(
        parts,
        wires,
        _sheets(circuit, shown, parts, wires),
        {k: b for k, b in circuit.branches.items() if k in branches},
        {k: c for k, c in circuit.cables.items() if k in cables},
        {k: o for k, o in circuit.own_kinds.items() if k in kinds},
        zones={k: z for k, z in circuit.zones.items() if k in zones},
        own_tables=used_tables(circuit, parts.values(), wires.values()),
        settings=Settings(nominal_v=circuit.settings.nominal_v),
    )


def copy_text(circuit: Circuit, ids: Iterable[str], shown: Sheet | None = None) -> str:
    """Return a selection as text; see `fragment`.

    Raises
    ------
    EditError
        Nothing of the circuit is selected.
    """
    made = fragment(circuit, ids, shown)
    if not made.parts and not made.wires:
        raise EditError("Nothing is selected to copy; select parts or wires first.")
    return dumps(made)


def read_text(text: str) -> Loaded:
    """Return the circuit in a text; what stands before and after it is passed over.

    Raises
    ------
    EditError
        There is none, or it is not sound: one sentence, and nothing is half read.
    """
    if len(text) > LONGEST:
        raise EditError(
            f"The pasted text has {len(text):,} characters, more than any circuit; open it as a "
            "file instead."
        )
    start = _START.search(text)
    if start is None:
        raise EditError(
            "The pasted text is no part of a circuit; copy parts or wires on a sheet first."
        )
    inner = text[start.start() : text.rfind("}") + 1]
    try:
        return loads(inner, NAME)
    except FileError as error:
        raise EditError(str(error)) from error


def _freed(part: Part, chosen: set[str]) -> Part:
    """Return a part that sits in nothing left behind."""
    if not part.host or part.host in chosen:
        return part
    return replace(part, host="", slot="")


def _cut(wire: Wire, chosen: set[str]) -> Wire:
    """Return a wire, open at the ends whose parts are left behind."""
    first, second = _inside(wire.first, chosen), _inside(wire.second, chosen)
    if first is wire.first and second is wire.second:
        return wire
    return replace(wire, first=first, second=second)


def _inside(end: End | None, chosen: set[str]) -> End | None:
    return end if end is None or end.part in chosen else None


def _sheets(
    circuit: Circuit, shown: Sheet | None, parts: dict[str, Part], wires: dict[str, Wire]
) -> dict[str, Sheet]:
    """Return the one sheet of a fragment: chosen places, routes of wires that are whole."""
    sheet = shown or next(iter(circuit.sheets.values()), None)
    if sheet is None:
        return {}
    whole = {k for k, w in wires.items() if w == circuit.wires[k]}
    places = {k: p for k, p in sheet.places.items() if p.part in parts}
    routes = {k: r for k, r in sheet.routes.items() if k in whole and k in wires}
    if not places and not routes:
        return {}
    return {sheet.id: Sheet(sheet.id, sheet.name, places, routes)}
