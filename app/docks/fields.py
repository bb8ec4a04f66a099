"""What Details shows of a part or wire, as data: title, value, default with source, how to set it.

Values are read and written as people type them, through `model.units`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from app.docks.coils import released
from app.entry.ends import OPEN
from app.entry.lying import zone_and_celsius
from app.schedule.part_values import zone_name
from app.schedule.wire_values import ENDS, WireSetter, wire_text
from app.theme import INSULATION
from model.changes import Change
from model.circuit import Circuit, Part, Wire
from model.editing import rename_part
from model.editing.lying import put_in_zone
from model.edits import set_part, set_rating
from model.errors import QuantityError
from model.kinds import Duty, RatingSpec
from model.kinds.specs import is_part_of_one
from model.lookup import body_of, duty_of, kind_of, label, rating
from model.own_tables import type_names
from model.units import parse, show
from model.zones import part_warmth, wire_warmth

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
        _zone_field(circuit, part),
    ]
    if slots := _slots_for(circuit, part):
        seat = _seat(circuit, part)
        rows.append(Field("host", "Sits in", seat, _Seat(part.id), "nothing", "", slots))
    rows += _type_field(circuit, part)
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
        note=released(circuit, part) if spec.key == "suppression" else "",
    )


def _type_field(circuit: Circuit, part: Part) -> list[Field]:
    """Return the row of a part's type, where the circuit has tables with types for its kind."""
    names = type_names(circuit, frozenset(kind_of(circuit, part).specs))
    if not names and not part.type:
        return []
    title = "of a table of yours, behind what is not stated"
    return [Field("type", "Type", part.type, _PartText(part.id, "type"), "none", title, names,
                  "Ratings")]  # fmt: skip


def _zone_field(circuit: Circuit, part: Part) -> Field:
    """Return the row of a part's zone; without one of its own it says how warm it is and why."""
    warmth = part_warmth(circuit, part)
    held = f"{warmth.zone or 'as the circuit'}, {show(warmth.celsius, 'temperature')}"
    return Field("zone", "Zone", zone_name(circuit, part), _Zone(part.id), held)


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
    """Return the rows of a wire; those of the harness only where the circuit has one."""
    colours = tuple(INSULATION)
    rows = (
        ("number", "Number", "", ()),
        ("first", "From", "open", ()),
        ("second", "To", "open", ()),
        ("size", "Size", "not known", ()),
        ("length_m", "Length", "not known", ()),
        ("colour", "Colour", "not known", colours),
        ("tracer", "Tracer", "none", colours),
        ("found_colour", "Colour as found", "the same", ()),
        ("insulation", "Insulation", "not known", ()),
        ("circuit", "Circuit", "", ()),
        ("confidence", "Confidence", "not said", CONFIDENCE[1:]),
        *_harness(circuit, wire),
        *((f"{end}_{key}", f"{title} at {word}", "not known", ())
          for end, word in (("first", "From"), ("second", "To"))
          for key, title in (("terminal", "Terminal"), ("seal", "Seal"))),
        ("note", "Note", "", ()),
    )  # fmt: skip
    return [_wire_field(circuit, wire, *row) for row in rows]


def _harness(circuit: Circuit, wire: Wire) -> list[tuple[str, str, str, tuple[str, ...]]]:
    """Return the rows of cables and bundles, none where the circuit has none, and of the zone."""
    found = []
    if circuit.cables:
        names = tuple(c.name or c.id for c in circuit.cables.values())
        found.append(("cable", "Cable", "none", names))
    if circuit.branches:
        found.append(("branches", "Bundles", "none", ()))
    warmth = wire_warmth(circuit, wire)
    held = f"{warmth.zone or 'as the circuit'}, {show(warmth.celsius, 'temperature')}"
    found.append(("zone", "Zone", held, ()))
    return found


def _wire_field(
    circuit: Circuit,
    wire: Wire,
    key: str,
    title: str,
    default: str,
    choices: tuple[str, ...],
) -> Field:
    text = wire_text(circuit, wire, key)
    value = "" if key in ENDS and text == OPEN else text
    return Field(key, title, value, WireSetter(wire.id, key), default, "", choices)


def written(value: float | str | None, quantity: str) -> str:
    """Return a rating as people read it."""
    if value is None:
        return ""
    if isinstance(value, str) or quantity in ("choice", "text"):
        return str(value)
    return show(float(value), quantity)


def _yes(value: bool) -> str:
    return "yes" if value else "no"


@dataclass(frozen=True, slots=True)
class _Reference:
    part_id: str

    def __call__(self, circuit: Circuit, text: str) -> Change | None:
        return rename_part(circuit, self.part_id, text).change


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
class _Zone:
    part_id: str

    def __call__(self, circuit: Circuit, text: str) -> Change | None:
        return put_in_zone(circuit, [self.part_id], *zone_and_celsius(circuit, text)).change


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
        return rating_change(circuit, self.part_id, self.spec, text)


def rating_change(circuit: Circuit, part_id: str, spec: RatingSpec, text: str) -> Change:
    """Return the change of a rating to what was typed; nothing goes back to the default.

    Raises
    ------
    QuantityError
        The text is no such value.
    """
    plain = spec.quantity in ("choice", "text")
    value = None if not text else text if plain else parse(text, spec.quantity)
    if is_part_of_one(spec.key) and isinstance(value, float) and not 0.0 <= value <= 1.0:
        raise QuantityError(f"“{text}” is no part of the whole: type 0 to 100 %.")
    return set_rating(circuit, part_id, spec.key, value)


@dataclass(frozen=True, slots=True)
class _Duty:
    part_id: str
    key: str

    def __call__(self, circuit: Circuit, text: str) -> Change | None:
        part = circuit.parts[self.part_id]
        stated = {"yes": True, "no": False}.get(text)
        new = replace(part, duty=replace(part.duty, **{self.key: stated}))
        return set_part(circuit, new, f"Change duty of {label(part)}")
