"""Zones and bundles in a line: zone "engine bay" 85 °C K1 F2, bundle B1 W3 W7."""

from __future__ import annotations

import re
from collections.abc import Iterable

from app.entry.ends import no_part, part_called
from app.entry.errors import Refused
from app.entry.plan import Cursor, Step
from app.entry.values import measure
from app.entry.words import Clause, Word, span_of
from model.circuit import Circuit
from model.editing import EditError
from model.editing.draft import Edit
from model.editing.lying import branch_called, lay_in_bundle, put_in_zone, zone_called
from model.lookup import label, wire_label, wires_named
from model.units import parse, show

LYING = ("zone", "bundle")
_WARM = re.compile(r"(.*[^\s,])[\s,]*\s([-+−]?\d+(?:[.,]\d+)?\s*(?:°\s?[CF]?|[CFK])?)\s*")


def zone_and_celsius(circuit: Circuit, text: str) -> tuple[str, float | None]:
    """Return a zone's name and the temperature typed after it: “engine bay 85 °C”.

    A zone that is called just so is meant, number and all.
    """
    found = _WARM.fullmatch(text.strip())
    if found is None or zone_called(circuit, text):
        return text.strip(), None
    return found[1].strip(), parse(found[2], "temperature")


def lying_step(circuit: Circuit, verb: str, words: Clause, cursor: Cursor) -> Step:
    """Return the step of a clause that begins with `zone` or `bundle`.

    Raises
    ------
    Refused
        No name, or something after it is neither a temperature nor a part or wire.
    """
    name, at = words[0].text, 1
    celsius = None
    warm = measure(words, at)
    if verb == "zone" and warm is not None and warm.unit.casefold() not in ("a", "v", "w", "m"):
        celsius = parse(warm.text, "temperature")
        at += warm.used
    ids = [_thing(circuit, w, wires_only=verb == "bundle") for w in words[at:]]
    return said_of(circuit, verb, name, celsius, ids, cursor, span_of(words))


def said_of(
    circuit: Circuit,
    verb: str,
    name: str,
    celsius: float | None,
    ids: Iterable[str],
    cursor: Cursor,
    span: tuple[int, int],
) -> Step:
    """Return the step that puts things into a zone, or wires into a bundle."""
    chosen = tuple(ids)
    try:
        edit = _edit(circuit, verb, name, celsius, chosen)
    except EditError as error:
        raise Refused(str(error), span) from error
    return Step(edit.change, _told(edit.change.apply(circuit), verb, name), cursor, chosen)


def _edit(
    circuit: Circuit, verb: str, name: str, celsius: float | None, ids: tuple[str, ...]
) -> Edit:
    if verb == "zone":
        return put_in_zone(circuit, ids, "" if name.casefold() == "none" else name, celsius)
    return lay_in_bundle(circuit, ids, name)


def _thing(circuit: Circuit, word: Word, *, wires_only: bool) -> str:
    """Return the id of the part or wire that a word names."""
    wires = wires_named(circuit, word.text) or [
        w for w in circuit.wires.values() if w.number.casefold() == word.text.casefold()
    ]
    if len(wires) > 1:
        raise Refused(f"{len(wires)} wires are called “{word.text}”.", word.span)
    if wires:
        return wires[0].id
    part = None if wires_only else part_called(circuit, word)
    if part is not None:
        return part.id
    if wires_only:
        raise Refused(f"No wire is called “{word.text}”: only wires lie in a bundle.", word.span)
    raise no_part(circuit, word.text, word.span)


def _told(circuit: Circuit, verb: str, name: str) -> str:
    """Return what holds then: the zone with its temperature, the bundle with its wires."""
    if verb == "zone":
        zone = zone_called(circuit, name)
        if zone is None:
            return "In no zone"
        inside = [label(p) for p in circuit.parts.values() if p.zone == zone.id]
        inside += [wire_label(w) for w in circuit.wires.values() if w.zone == zone.id]
        return f"Zone {zone.name}, {show(zone.temperature_c, 'temperature')}: " + (
            ", ".join(inside[:8]) or "nothing in it yet"
        )
    branch = branch_called(circuit, name)
    assert branch is not None
    wires = [wire_label(w) for w in circuit.wires.values() if branch.id in w.branches]
    return f"Bundle {branch.name}: {', '.join(wires[:10]) or 'no wires yet'}"
