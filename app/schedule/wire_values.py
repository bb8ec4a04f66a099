"""What is known of a wire, value by value: how each is read by people, and what a text makes of it.

The Schedule and Details show and change wires through this module, so that both take the same.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass, replace
from typing import Any

from app.entry.ends import end_text
from app.entry.errors import Refused, listed
from app.entry.lying import zone_and_celsius
from app.entry.values import colours_in
from app.schedule.ends import read_end
from model.changes import Change
from model.circuit import Circuit, Fit, Wire
from model.editing import rejoin, rename_wire
from model.editing.lying import put_in_zone
from model.editing.sound import check_sound
from model.edits import set_wire
from model.lookup import wire_label
from model.tables.names import split_colour
from model.units import parse, show
from model.wiresize import Size, parse_size

CONFIDENCE = ("seen", "measured", "assumed")
ENDS = ("first", "second")
COLOURS = ("colour", "tracer", "found_colour")
FITS = tuple(f"{end}_{what}" for end in ENDS for what in ("terminal", "seal", "strip_m", "number"))
"""What is crimped on each end: first_terminal, first_seal … as the keys of columns."""


LINKS = ("cable", "branches", "zone")
WORDS = {"length_m": "length", "found_colour": "colour as found", "strip_m": "stripped length"}
"""What people call a field where that is another word."""


def wire_text(circuit: Circuit, wire: Wire, key: str) -> str:
    """Return a value of a wire as people read and type it, "" where nothing is known."""
    special = _TEXTS.get(key)
    if special is not None:
        return special(circuit, wire)
    if key in FITS:
        return _fit_text(wire, key)
    return str(getattr(wire, key))


def wire_change(circuit: Circuit, wire_id: str, key: str, text: str) -> Change | None:
    """Return the change that a text typed for a value of a wire comes to.

    Raises
    ------
    Refused, ModelError
        The text is no such value: one sentence says why and what would be.
    """
    wire, typed = circuit.wires[wire_id], text.strip()
    if typed == wire_text(circuit, wire, key):
        return None
    if key in ENDS:
        other = wire.second if key == "first" else wire.first
        return rejoin(circuit, wire_id, key, read_end(circuit, typed, wire_id, other)).change
    if key == "number":
        return rename_wire(circuit, wire_id, typed).change
    if key in FITS:
        return _fit_change(circuit, wire, key, typed)
    if key == "zone":
        return put_in_zone(circuit, [wire_id], *zone_and_celsius(circuit, typed)).change
    fields = wire_fields_typed(circuit, key, typed)
    check_sound(Wire("w", **{k: v for k, v in fields.items() if k not in LINKS}))
    what = f"Change {WORDS.get(key, key)} of {wire_label(wire)}"
    return set_wire(circuit, replace(wire, **fields), what)


def wire_fields_typed(circuit: Circuit, key: str, text: str) -> dict[str, Any]:
    """Return the fields of a wire that a text sets: a colour typed as RD/BU sets the tracer too."""
    if key == "size":
        return {key: parse_size(text) if text else None}
    if key == "length_m":
        return {key: parse(text, "length") if text else None}
    if key in COLOURS:
        return _colour(key, text)
    if key == "confidence":
        return {key: _confidence(text)}
    if key == "branches":
        return {key: _branches(circuit, text)}
    if key == "cable":
        return {key: _cable(circuit, text)}
    return {key: text}


def _colour(key: str, text: str) -> dict[str, Any]:
    if not text or text == "?":
        return {key: ""}
    found = colours_in(text)
    if found is None:
        split_colour(text)  # says what colours there are
        raise Refused(f"“{text}” is no wire colour.")
    first, second = found
    if second and key == "tracer":
        raise Refused(f"A tracer is one colour: {first} or {second}?", fits=found)
    if key == "found_colour":
        return {key: f"{first}/{second}" if second else first}
    return {key: first, "tracer": second} if second else {key: first}


def _confidence(text: str) -> str:
    fitting = [word for word in CONFIDENCE if text and word.startswith(text.casefold())]
    if text and len(fitting) != 1:
        raise Refused(f"“{text}” is not known here: type {listed(CONFIDENCE)}.", fits=CONFIDENCE)
    return fitting[0] if fitting else ""


def _branches(circuit: Circuit, text: str) -> tuple[str, ...]:
    """Return the branches that a text names in their order, such as B1-B3 or “B1, B3”."""
    names = {b.name or b.id: b.id for b in circuit.branches.values()}
    words = [w for w in text.replace("–", "-").replace(",", "-").split("-") if w.strip()]
    return tuple(_linked(names, circuit.branches, word.strip(), "branch") for word in words)


def _cable(circuit: Circuit, text: str) -> str:
    names = {c.name or c.id: c.id for c in circuit.cables.values()}
    return _linked(names, circuit.cables, text, "cable") if text else ""


def _linked(names: dict[str, str], ids: Collection[str], text: str, what: str) -> str:
    """Return the id of a branch or cable that a text names."""
    found = names.get(text, text if text in ids else "")
    if not found:
        there = f"there are {listed(names, last='and')}" if names else "there are none yet"
        there = there.replace("are", "is") if len(names) == 1 else there
        raise Refused(f"No {what} is called “{text}”: {there}.", fits=tuple(names))
    return found


def _fit_of(wire: Wire, key: str) -> tuple[str, str, Fit]:
    """Return which end's fit a key means, its field, and the fit."""
    end, _, name = key.partition("_")
    fit = wire.first_fit if end == "first" else wire.second_fit
    return f"{end}_fit", name, fit


def _fit_text(wire: Wire, key: str) -> str:
    _, name, fit = _fit_of(wire, key)
    value = getattr(fit, name)
    if name == "strip_m":
        return "" if value is None else show(value, "length")
    return str(value)


def _fit_change(circuit: Circuit, wire: Wire, key: str, text: str) -> Change:
    field, name, fit = _fit_of(wire, key)
    value: Any = (parse(text, "length") if text else None) if name == "strip_m" else text
    made: dict[str, Any] = {field: replace(fit, **{name: value})}
    check_sound(Wire("w", **made))
    what = f"Change {WORDS.get(name, name)} of {wire_label(wire)}"
    return set_wire(circuit, replace(wire, **made), what)


def _size(circuit: Circuit, wire: Wire) -> str:
    return wire.size.text() if isinstance(wire.size, Size) else ""


def _length(circuit: Circuit, wire: Wire) -> str:
    return "" if wire.length_m is None else show(wire.length_m, "length")


def _first(circuit: Circuit, wire: Wire) -> str:
    return end_text(circuit, wire.first)


def _second(circuit: Circuit, wire: Wire) -> str:
    return end_text(circuit, wire.second)


def _branch_names(circuit: Circuit, wire: Wire) -> str:
    known = circuit.branches
    return "-".join((known[b].name or b) if b in known else b for b in wire.branches)


def _zone_name(circuit: Circuit, wire: Wire) -> str:
    zone = circuit.zones.get(wire.zone)
    return (zone.name or zone.id) if zone else wire.zone


def _cable_name(circuit: Circuit, wire: Wire) -> str:
    cable = circuit.cables.get(wire.cable)
    return (cable.name or cable.id) if cable else wire.cable


_TEXTS: dict[str, Callable[[Circuit, Wire], str]] = {
    "first": _first,
    "second": _second,
    "size": _size,
    "length_m": _length,
    "branches": _branch_names,
    "cable": _cable_name,
    "zone": _zone_name,
}


@dataclass(frozen=True, slots=True)
class WireSetter:
    """What a text typed for one value of one wire does, as Details asks for it."""

    wire_id: str
    key: str

    def __call__(self, circuit: Circuit, text: str) -> Change | None:
        """Return the change, None where it would be the same."""
        return wire_change(circuit, self.wire_id, self.key, text)
