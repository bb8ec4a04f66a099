"""What Details shows of a part or wire, as data: title, value, default with source, how to set it.

Values are read and written as people type them, through `model.units`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from app.ends import find_end
from app.theme import INSULATION
from model.changes import Change
from model.circuit import Circuit, End, Part, Wire
from model.edits import rename_part, set_part, set_rating, set_wire
from model.kinds import Duty, RatingSpec
from model.lookup import body_of, duty_of, end_label, kind_of, label, rating
from model.units import parse, show
from model.wiresize import parse_size

Setter = Callable[[Circuit, str], Change | None]
DUTIES = {
    "off_at_rest": "off at rest",
    "critical": "critical (3 % drop)",
    "stops_in_crash": "stops in a crash",
    "runs_engine_stopped": "may run, engine stopped",
    "keeps_engine": "keeps the engine running",
}
CONFIDENCE = ("", "seen", "measured", "assumed")


@dataclass(frozen=True, slots=True)
class Field:
    """One row of Details.

    `value` is what a person stated ("" for nothing), `default` what holds without that, `source`
    where the default is from, `note` stands below in any case. With `choices` it is a list to
    choose from.
    """

    key: str
    title: str
    value: str
    setter: Setter
    default: str = ""
    source: str = ""
    choices: tuple[str, ...] = ()
    group: str = ""
    note: str = ""


def part_fields(circuit: Circuit, part: Part) -> list[Field]:
    """Return the rows of a part."""
    kind = kind_of(circuit, part)
    rows = [
        Field("reference", "Reference", part.reference, _Reference(part.id)),
        Field("name", "Name", part.name, _PartText(part.id, "name")),
        Field("location", "Location", part.location, _PartText(part.id, "location")),
    ]
    if slots := _slots_for(circuit, part):
        seat = _seat(circuit, part)
        rows.append(Field("host", "Sits in", seat, _Seat(part.id), "nothing", "", slots))
    rows += [_rating_field(circuit, part, spec) for spec in kind.ratings]
    if kind.duty is not None:
        rows += [_duty_field(circuit, part, key) for key in DUTIES]
    rows.append(Field("note", "Note", part.note, _PartText(part.id, "note"), group="Note"))
    return rows


def _rating_field(circuit: Circuit, part: Part, spec: RatingSpec) -> Field:
    """Return the row of one rating; what is not stated shows its default and source."""
    stated = part.ratings.get(spec.key)
    others = {k: v for k, v in part.ratings.items() if k != spec.key}
    held = rating(circuit, replace(part, ratings=others), spec.key)
    default = written(held.value, spec.quantity)
    return Field(
        spec.key,
        spec.title[:1].upper() + spec.title[1:],
        written(stated, spec.quantity),
        _Rating(part.id, spec),
        default=default or "not stated",
        source=held.source,
        choices=spec.choices,
        group="Ratings",
    )


def _slots_for(circuit: Circuit, part: Part) -> tuple[str, ...]:
    """Return the slots of other parts that take this one, as people read them."""
    family = kind_of(circuit, part).family
    return tuple(
        _slot_label(host, slot.name)
        for host in circuit.parts.values()
        for slot in body_of(circuit, host).slots
        if host.id != part.id and slot.takes in ("", family)
    )


def _slot_label(host: Part, slot: str) -> str:
    return f"{label(host)} · {slot}"


def _seat(circuit: Circuit, part: Part) -> str:
    host = circuit.parts.get(part.host)
    return _slot_label(host, part.slot) if host else ""


def _duty_field(circuit: Circuit, part: Part, key: str) -> Field:
    stated = getattr(part.duty, key)
    default = getattr(duty_of(circuit, replace(part, duty=Duty())), key)
    value = "" if stated is None else _yes(stated)
    source = "default of its kind"
    title = DUTIES[key]
    return Field(
        key,
        title[:1].upper() + title[1:],
        value,
        _Duty(part.id, key),
        _yes(default),
        source,
        ("yes", "no"),
        "Duty",
    )


def wire_fields(circuit: Circuit, wire: Wire) -> list[Field]:
    """Return the rows of a wire."""
    size = wire.size.text() if wire.size else ""
    length = show(wire.length_m, "length") if wire.length_m is not None else ""
    colours = tuple(INSULATION)
    return [
        Field("number", "Number", wire.number, _WireText(wire.id, "number")),
        Field("first", "From", _end(circuit, wire.first), _WireEnd(wire.id, "first"), "open"),
        Field("second", "To", _end(circuit, wire.second), _WireEnd(wire.id, "second"), "open"),
        Field("size", "Size", size, _WireSize(wire.id), "not known"),
        Field("length_m", "Length", length, _WireLength(wire.id), "not known"),
        Field("colour", "Colour", wire.colour, _WireText(wire.id, "colour"), "not known", "",
              colours),
        Field("tracer", "Tracer", wire.tracer, _WireText(wire.id, "tracer"), "none", "", colours),
        Field("circuit", "Circuit", wire.circuit, _WireText(wire.id, "circuit")),
        Field("confidence", "Confidence", wire.confidence, _WireText(wire.id, "confidence"),
              "not said", "", CONFIDENCE[1:]),
        Field("note", "Note", wire.note, _WireText(wire.id, "note")),
    ]  # fmt: skip


def written(value: float | str | None, quantity: str) -> str:
    """Return a rating as people read it."""
    if value is None:
        return ""
    if isinstance(value, str) or quantity in ("choice", "text"):
        return str(value)
    return show(float(value), quantity)


def _yes(value: bool) -> str:
    return "yes" if value else "no"


def _end(circuit: Circuit, end: End | None) -> str:
    return end_label(circuit, end) if end else ""


@dataclass(frozen=True, slots=True)
class _Reference:
    part_id: str

    def __call__(self, circuit: Circuit, text: str) -> Change | None:
        return rename_part(circuit, self.part_id, text)


@dataclass(frozen=True, slots=True)
class _PartText:
    part_id: str
    key: str

    def __call__(self, circuit: Circuit, text: str) -> Change | None:
        part = circuit.parts[self.part_id]
        value: dict[str, Any] = {self.key: text}
        new = replace(part, **value)
        return set_part(circuit, new, f"Change {self.key} of {label(part)}")


@dataclass(frozen=True, slots=True)
class _Seat:
    part_id: str

    def __call__(self, circuit: Circuit, text: str) -> Change | None:
        part = circuit.parts[self.part_id]
        found = [
            (host.id, slot.name)
            for host in circuit.parts.values()
            for slot in body_of(circuit, host).slots
            if _slot_label(host, slot.name) == text
        ]
        host, slot = found[0] if found else ("", "")
        where = text or "a place of its own"
        return set_part(
            circuit, replace(part, host=host, slot=slot), f"Put {label(part)} in {where}"
        )


@dataclass(frozen=True, slots=True)
class _Rating:
    part_id: str
    spec: RatingSpec

    def __call__(self, circuit: Circuit, text: str) -> Change | None:
        plain = self.spec.quantity in ("choice", "text")
        value = None if not text else text if plain else parse(text, self.spec.quantity)
        return set_rating(circuit, self.part_id, self.spec.key, value)


@dataclass(frozen=True, slots=True)
class _Duty:
    part_id: str
    key: str

    def __call__(self, circuit: Circuit, text: str) -> Change | None:
        part = circuit.parts[self.part_id]
        stated = {"yes": True, "no": False}.get(text)
        new = replace(part, duty=replace(part.duty, **{self.key: stated}))
        return set_part(circuit, new, f"Change duty of {label(part)}")


@dataclass(frozen=True, slots=True)
class _WireText:
    wire_id: str
    key: str

    def __call__(self, circuit: Circuit, text: str) -> Change | None:
        value: dict[str, Any] = {self.key: text}
        return set_wire(circuit, replace(circuit.wires[self.wire_id], **value))


@dataclass(frozen=True, slots=True)
class _WireSize:
    wire_id: str

    def __call__(self, circuit: Circuit, text: str) -> Change | None:
        size = parse_size(text) if text else None
        return set_wire(circuit, replace(circuit.wires[self.wire_id], size=size))


@dataclass(frozen=True, slots=True)
class _WireLength:
    wire_id: str

    def __call__(self, circuit: Circuit, text: str) -> Change | None:
        length = parse(text, "length") if text else None
        return set_wire(circuit, replace(circuit.wires[self.wire_id], length_m=length))


@dataclass(frozen=True, slots=True)
class _WireEnd:
    wire_id: str
    key: str

    def __call__(self, circuit: Circuit, text: str) -> Change | None:
        end = find_end(circuit, text) if text and text != "open" else None
        value: dict[str, Any] = {self.key: end}
        return set_wire(circuit, replace(circuit.wires[self.wire_id], **value))
