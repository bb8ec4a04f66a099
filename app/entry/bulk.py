"""One text said of several parts or wires: 2.5 mm² RD for six wires, 8 A for three pumps.

What is not typed stays as each has it. Beside what follows a reference or wire number in the typed
line there are ``duty critical`` for loads, ``circuit 31``, ``bundle B1``, ``seen``, ``measured``
and ``assumed`` for wires, and ``note …`` and ``zone bay`` for both.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from app.entry.duties import duty_step, note_step
from app.entry.edit import edit_part, edit_wire
from app.entry.errors import Refused
from app.entry.lying import LYING, said_of, zone_and_celsius
from app.entry.plan import Cursor, Step
from app.entry.read import Entry, Refusal
from app.entry.specs import main_spec, units_for
from app.entry.words import Clause, clauses, span_of
from model.changes import Change, Swap
from model.circuit import Circuit, Part, Wire
from model.edits import set_wire
from model.errors import ModelError
from model.kinds import Kind
from model.lookup import kind_of, label, rating, wire_label
from model.units import show

SEVERAL = "several"
"""What is said of a value in which those selected differ."""
CONFIDENCE = ("seen", "measured", "assumed")


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
    if _first(found[0]) in ("note", "zone"):
        return _of(circuit, [*parts, *wires], found[0])
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
        step = _step(after, after.parts.get(key) or after.wires[key], words)
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


def _step(circuit: Circuit, thing: Part | Wire, words: Clause) -> Step:
    """Return the change of one of them."""
    verb = _first(words)
    if verb == "note":
        return note_step(circuit, thing, words[1:], Cursor())
    if verb in LYING and len(words) > 1:
        return _lying(circuit, verb, thing, words)
    if isinstance(thing, Part):
        if verb == "duty":
            return duty_step(circuit, thing, words[1:], Cursor())
        return edit_part(circuit, thing, words, Cursor())
    if verb == "circuit" or (verb in CONFIDENCE and len(words) == 1):
        return _said_of_wire(circuit, thing, words)
    if verb == "duty":
        raise Refused("Wires have no duties: select loads only.", span_of(words))
    return edit_wire(circuit, thing, [], words, Cursor())


def _lying(circuit: Circuit, verb: str, thing: Part | Wire, words: Clause) -> Step:
    """Return the step that puts one of them into a zone or bundle."""
    if verb == "bundle" and isinstance(thing, Part):
        raise Refused("Only wires lie in a bundle: select wires.", span_of(words))
    text = " ".join(w.text for w in words[1:])
    name, celsius = zone_and_celsius(circuit, text) if verb == "zone" else (text, None)
    return said_of(circuit, verb, name, celsius, [thing.id], Cursor(), span_of(words))


def _said_of_wire(circuit: Circuit, wire: Wire, words: Clause) -> Step:
    """Return the change of the circuit a wire is counted to, or of how well it is known."""
    if _first(words) == "circuit":
        new = replace(wire, circuit=" ".join(w.text for w in words[1:]))
    else:
        new = replace(wire, confidence=_first(words))
    name = wire_label(wire)
    return Step(set_wire(circuit, new, f"Change {name}"), name, Cursor(), (wire.id,))


def _first(words: Clause) -> str:
    """Return the first word in small letters, "" where it is quoted."""
    return "" if words[0].quoted else words[0].text.casefold()


def _what(circuit: Circuit, parts: list[str], wires: list[str]) -> str:
    """Return what holds now, and what can be typed."""
    if wires:
        held = _of_wires([circuit.wires[i] for i in wires])
        return f"{_names(circuit, wires)}: {held}. Type what is to change."
    held = _of_parts(circuit, [circuit.parts[i] for i in parts])
    return f"{_names(circuit, parts)}: {held}. Type what is to change."


def _of_wires(wires: list[Wire]) -> str:
    """Return size, colour and length that all have, or that they differ."""
    size = _one({w.size.text() if w.size else "not known" for w in wires})
    colour = _one({"/".join(filter(None, (w.colour, w.tracer))) or "not known" for w in wires})
    lengths = {show(w.length_m, "length") if w.length_m is not None else "?" for w in wires}
    length = _one(lengths).replace("?", "not known")
    return f"size {size}, colour {colour}, length {length}"


def _of_parts(circuit: Circuit, parts: list[Part]) -> str:
    """Return the main ratings that all have, or that they differ."""
    kinds = {kind_of(circuit, p).key: kind_of(circuit, p) for p in parts}
    if len(kinds) > 1:
        return f"of {SEVERAL} kinds"
    (kind,) = kinds.values()
    held = [_rating(circuit, parts, kind, q) for q in units_for(kind)]
    return ", ".join(filter(None, held)) or kind.title


def _rating(circuit: Circuit, parts: list[Part], kind: Kind, quantity: str) -> str:
    """Return the main rating of a quantity, in words."""
    spec = main_spec(kind, quantity)
    if spec is None:
        return ""
    values = {rating(circuit, p, spec.key).value for p in parts}
    shown = {show(float(v), quantity) for v in values if isinstance(v, float | int)}
    return f"{spec.title} {_one(shown)}" if shown and len(shown) == len(values) else ""


def _one(values: set[str]) -> str:
    return next(iter(values)) if len(values) == 1 else SEVERAL
