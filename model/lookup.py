"""Questions asked of a circuit: kinds, bodies, ratings with their origin, references, ids."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from model.circuit import Circuit, End, Part, Wire
from model.errors import UnknownNameError
from model.kinds import KINDS, Body, Duty, Kind, RatingSpec, Value, shaped_body
from model.own_tables import typed_rating
from model.tables.relays import Suppression, suppression_of

NO_DUTY = Duty(False, False, False, True, False)


@dataclass(frozen=True, slots=True)
class Rated:
    """A rating's value and where it came from: "part", "type", "constants" or "default"."""

    value: Value
    origin: str
    source: str

    @property
    def number(self) -> float | None:
        """The value as a number, or None."""
        return self.value if isinstance(self.value, float | int) else None


def kind_of(circuit: Circuit, part: Part) -> Kind:
    """Return the part's kind, built in or the user's own.

    Raises
    ------
    UnknownNameError
        When no kind of that key exists.
    """
    kind = KINDS.get(part.kind)
    if kind is not None:
        return kind
    own = circuit.own_kinds.get(part.kind)
    if own is not None:
        return own.kind
    raise UnknownNameError(f"{label(part)} is of the unknown kind “{part.kind}”.")


def body_of(circuit: Circuit, part: Part) -> Body:
    """Return what the part is made of inside, its own table and ways taken into account."""
    kind = kind_of(circuit, part)
    if not kind.shape:
        return kind.body
    return shaped_body(kind, part.terminals, part.table, part.rest, part.ways)


def rating(circuit: Circuit, part: Part, key: str) -> Rated:
    """Return a rating: what the part states, its type, the circuit's constant, or the default."""
    spec = kind_of(circuit, part).specs.get(key)
    stated = part.ratings.get(key)
    if stated is not None:
        return Rated(stated, "part", "stated")
    if spec is None:
        return Rated(None, "default", "not a rating of this kind")
    typed = typed_rating(circuit, part.type, key) if part.type else None
    if typed is not None:
        return Rated(typed[0], "type", typed[1])
    constant = getattr(circuit.settings.constants, spec.constant) if spec.constant else None
    if constant is not None:
        return Rated(constant, "constants", "constants of this circuit")
    if spec.table:
        row = suppression_of_part(circuit, part)
        return Rated(row.release_s, "default", f"{row.title} · {row.source} · {row.standing}")
    return Rated(spec.at(_class_v(circuit, part, spec)), "default", spec.source)


def suppression_of_part(circuit: Circuit, part: Part) -> Suppression:
    """Return the row of the table of coil suppression for what a relay has across its coil."""
    way = word(circuit, part, "suppression") or "none"
    coil_v = number(circuit, part, "coil_v", circuit.settings.nominal_v)
    return suppression_of(way, number(circuit, part, "suppression_ohm"), coil_v)


def _class_v(circuit: Circuit, part: Part, spec: RatingSpec) -> float:
    """Return the voltage a default is for: the circuit's, or the part's own where it states one.

    One 12 V battery of two in a 24 V circuit cranks at 9.5 V, and a 24 V relay among 12 V parts
    has a 24 V coil.
    """
    stated = part.ratings.get(spec.follows) if spec.follows else None
    return float(stated) if isinstance(stated, float | int) else circuit.settings.nominal_v


def number(circuit: Circuit, part: Part, key: str, otherwise: float = 0.0) -> float:
    """Return a rating as a number, `otherwise` where it has none."""
    value = _value(circuit, part, key)
    return float(value) if isinstance(value, float | int) else otherwise


def _value(circuit: Circuit, part: Part, key: str) -> Value:
    """Return a rating's value without its origin, which asking for thousands would be slow."""
    stated = part.ratings.get(key)
    if stated is not None:
        return stated
    spec = kind_of(circuit, part).specs.get(key)
    if spec is None:
        return None
    typed = typed_rating(circuit, part.type, key) if part.type else None
    if typed is not None:
        return typed[0]
    if spec.table:
        return suppression_of_part(circuit, part).release_s
    constant = getattr(circuit.settings.constants, spec.constant) if spec.constant else None
    return spec.at(_class_v(circuit, part, spec)) if constant is None else constant


def word(circuit: Circuit, part: Part, key: str) -> str:
    """Return a rating as a word, "" where it has none."""
    value = _value(circuit, part, key)
    return value if isinstance(value, str) else ""


def duty_of(circuit: Circuit, part: Part) -> Duty:
    """Return the part's duty with every field filled: stated, or its kind's default."""
    return part.duty.over(kind_of(circuit, part).duty or NO_DUTY).over(NO_DUTY)


def rest_of(circuit: Circuit, part: Part) -> str:
    """Return the rest position of a control, "" for anything else."""
    return body_of(circuit, part).rest


def controls(circuit: Circuit) -> dict[str, tuple[str, ...]]:
    """Return the names of the positions of every control, by part id."""
    found = {}
    for part in circuit.parts.values():
        body = body_of(circuit, part)
        if body.positions:
            found[part.id] = tuple(p.name for p in body.positions)
    return found


def label(part: Part) -> str:
    """Return what people call the part: its reference, else its name, else its kind."""
    return part.reference or part.name or part.kind


def wire_label(wire: Wire) -> str:
    """Return what people call the wire: its number, else "a wire"."""
    return wire.number or "a wire without a number"


def marking(part: Part, key: str) -> str:
    """Return the marking shown at a terminal: the real part's own, else the kind's."""
    return dict(part.markings).get(key, key)


def end_label(circuit: Circuit, end: End | None) -> str:
    """Return an end as people write it, K1.86; "open" for none."""
    if end is None:
        return "open"
    part = circuit.parts.get(end.part)
    return f"{label(part) if part else '?'}.{marking(part, end.terminal) if part else end.terminal}"


def wires_at(circuit: Circuit, part_id: str) -> Iterator[Wire]:
    """Yield the wires with an end at the part."""
    for wire in circuit.wires.values():
        if any(end is not None and end.part == part_id for end in (wire.first, wire.second)):
            yield wire


def parts_named(circuit: Circuit, reference: str) -> list[Part]:
    """Return every part of that reference (more than one is a finding)."""
    return [p for p in circuit.parts.values() if p.reference == reference]


def wires_named(circuit: Circuit, number: str) -> list[Wire]:
    """Return every wire of that number."""
    return [w for w in circuit.wires.values() if w.number == number]


def fresh_id(table: Mapping[str, object], prefix: str, *others: Mapping[str, object]) -> str:
    """Return an id that no table has: the prefix and the next number.

    Parts and wires share their ids: give the one's table and the other's.
    """
    pattern = re.compile(re.escape(prefix) + r"(\d+)\Z")
    keys = [key for known in (table, *others) for key in known]
    used = [int(m.group(1)) for key in keys if (m := pattern.match(key))]
    return f"{prefix}{max(used, default=0) + 1}"


def next_reference(circuit: Circuit, letter: str) -> str:
    """Return the first free reference of a letter: K1, K2 …"""
    taken = {p.reference for p in circuit.parts.values()}
    count = 1
    while f"{letter}{count}" in taken:
        count += 1
    return f"{letter}{count}"


def next_wire_number(circuit: Circuit) -> str:
    """Return the number after the highest one of the form W12, as long as that one: W08, W09 …"""
    used = [w.number[1:] for w in circuit.wires.values() if re.fullmatch(r"W\d+", w.number)]
    highest = max(used, key=int, default="0")
    return f"W{int(highest) + 1:0{len(highest)}d}"
