"""`size FILE [REF …]`: the smallest fuse and wire that satisfy every rule, and why no smaller."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from app.commands.errors import ExitCode, WrongCall
from app.commands.names import Names
from app.commands.opening import opened, table_arguments, with_tables
from app.commands.talk import Talk
from app.commands.verb import Verb
from checks.sizing import Contact, Sized, Tried, size_loads
from model.circuit import Circuit
from model.lookup import label
from model.units import show

AXIS = 46
"""Letters of the line on which load, fuse and wire are drawn."""


def _arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "refs", nargs="*", metavar="REF", help="a load by its reference; every load if none is told"
    )
    table_arguments(parser)


def _run(options: argparse.Namespace, talk: Talk) -> int:
    circuit = with_tables(opened(options.file, talk), options.table, talk)
    names = Names(circuit)
    parts = [names_part(circuit, names, ref) for ref in options.refs]
    found = list(size_loads(circuit, parts))
    name = Path(options.file).name
    if options.json:
        head = {"file": name, "circuit": circuit.settings.title}
        talk.json(head | {"loads": [_data(circuit, names, s) for s in found]})
    else:
        talk.data(f"{circuit.settings.title or name}\n")
        for sized in found:
            for line in _lines(circuit, names, sized, talk):
                talk.data(line)
            talk.data("")
        if not found:
            talk.data("No load runs in any state.")
    stuck = any(s.stuck for s in found)
    return ExitCode.FOUND if stuck else ExitCode.GOOD


def names_part(circuit: Circuit, names: Names, ref: str) -> str:
    """Return the id of the part that a reference names.

    Raises
    ------
    WrongCall
        When no part has it.
    """
    found = [i for i, n in names.parts.items() if n.casefold() == ref.casefold()]
    if not found:
        loads = ", ".join(label(p) for p in list(circuit.parts.values())[:8])
        raise WrongCall(f"No part is called {ref}; there are {loads} …")
    return found[0]


def _data(circuit: Circuit, names: Names, sized: Sized) -> dict[str, Any]:
    """Return what a load needs as the JSON gives it."""
    return {
        "load": names.parts[sized.load],
        "current_a": sized.amps,
        "drop_share": sized.share,
        "fuse": names.parts.get(sized.fuse, ""),
        "fuse_a": sized.fuse_a or None,
        "fits_a": sized.fits_a,
        "wires": [names.wires.get(w, w) for w in sized.wires],
        "sizes": [_size(circuit, w) for w in sized.wires],
        "fits_size": sized.fits.text() if sized.fits else None,
        "contacts": [_contact(names, c) for c in sized.contacts],
        "smaller": [{"what": t.what, "rule": t.rule, "why": t.why} for t in sized.tried],
        "stuck": sized.stuck,
        "assumed": [names.wires.get(w, w) for w in sized.assumed],
        "ampacity_table": circuit.settings.chosen.ampacity,
    }


def _contact(names: Names, contact: Contact) -> dict[str, Any]:
    return {
        "part": names.parts[contact.part],
        "current_a": contact.amps,
        "kind": contact.kind,
        "rating_a": contact.rating_a,
        "needs_a": contact.needs_a,
    }


def _size(circuit: Circuit, wire: str) -> str | None:
    size = circuit.wires[wire].size
    return size.text() if size else None


def _lines(circuit: Circuit, names: Names, sized: Sized, talk: Talk) -> Iterator[str]:
    """Yield what a load needs as lines: now and fitting, the axis, why nothing smaller."""
    load = circuit.parts[sized.load]
    yield f"{names.parts[load.id]}  {load.name}".rstrip() + f": {show(sized.amps, 'current')}"
    if sized.fuse:
        fits = f"{sized.fits_a:g} A" if sized.fits_a is not None else "none fits"
        yield f"  fuse {names.parts[sized.fuse]}: now {sized.fuse_a:g} A, smallest {fits}"
    if sized.wires:
        now = ", ".join(dict.fromkeys(_size(circuit, w) or "unknown" for w in sized.wires))
        fits = sized.fits.text() if sized.fits else "none fits"
        listed = ", ".join(names.wires.get(w, w) for w in sized.wires)
        yield talk.wrapped(f"wires {listed}: now {now}, smallest {fits}", "  ")
    for contact in sized.contacts:
        kind = "" if contact.kind == "resistive" else f" ({contact.kind})"
        yield (
            f"  contact of {names.parts[contact.part]}: rated {contact.rating_a:g} A, needs "
            f"{show(contact.needs_a, 'current')}{kind}"
        )
    if sized.fits_a is not None:
        yield f"  {axis(sized)}"
    if sized.stuck:
        yield talk.wrapped(f"Nothing fits. {sized.stuck}", "  ")
    if sized.assumed:
        listed = ", ".join(names.wires.get(w, w) for w in sized.assumed)
        yield talk.wrapped(f"Size or length of {listed} is assumed.", "  ")
    for tried in sized.tried:
        yield from _tried(tried, talk)


def _tried(tried: Tried, talk: Talk) -> Iterator[str]:
    yield talk.wrapped(f"not {tried.what}: {tried.why}", "    ")


def axis(sized: Sized) -> str:
    """Return load and fuse on one line of current: 0 ──●load────▲fuse──."""
    most = max(sized.amps, sized.fits_a or 0.0, sized.fuse_a) or 1.0
    marks = {
        round(sized.amps / most * AXIS): f"load {sized.amps:.3g}",
        round((sized.fits_a or 0.0) / most * AXIS): f"fuse {sized.fits_a:g} A",
    }
    line, at = "0 ", 0
    for place, text in sorted(marks.items()):
        line += "─" * max(place - at, 1) + f"┤{text}├"
        at = place
    return line


SIZE = Verb("size", "Sizes the fuse and the wires of loads.", _arguments, _run)
