"""What is known of a part, value by value: how a table reads it, and what a text makes of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from app.controls import positions_of
from app.entry import kinds
from app.entry.bulk import change_all
from app.entry.duties import PHRASES, duties_in
from app.entry.errors import Refused, listed
from app.entry.lying import zone_and_celsius
from app.entry.read import Refusal
from app.entry.words import clauses
from model.changes import Change
from model.circuit import Circuit, Part
from model.editing import rename_part, replace_kind, set_parts
from model.editing.lying import put_in_zone
from model.edits import set_part
from model.kinds import Duty, Kind, RatingSpec
from model.lookup import body_of, duty_of, kind_of, label, rating
from model.units import show

MOST_RATINGS = 4


def ratings_stated(circuit: Circuit, part: Part) -> str:
    """Return the ratings that a person stated, in brief: "15 A", "85 Ω, diode"."""
    specs = kind_of(circuit, part).specs
    said = [_written(specs[k], v) for k, v in part.ratings.items() if k in specs]
    return ", ".join(said[:MOST_RATINGS]) + (" …" if len(said) > MOST_RATINGS else "")


def ratings_brief(circuit: Circuit, part: Part) -> str:
    """Return the ratings stated, or where there is none the first of its kind, as a default."""
    stated = ratings_stated(circuit, part)
    if stated:
        return stated
    for spec in kind_of(circuit, part).ratings:
        value = rating(circuit, part, spec.key).value
        if value is not None:
            return f"{_written(spec, value)} (default)"
    return ""


def duty_brief(circuit: Circuit, part: Part) -> str:
    """Return the duties of a load that hold, "" for any other part."""
    if kind_of(circuit, part).duty is None:
        return ""
    duty = duty_of(circuit, part)
    held = [p for p, (key, says) in PHRASES.items() if says and getattr(duty, key)]
    return ", ".join(held) or "ordinary"


def part_change(circuit: Circuit, part_id: str, key: str, text: str) -> Change | None:
    """Return the change that a text typed for a value of a part comes to.

    Raises
    ------
    Refused, ModelError
        The text is no such value.
    """
    part, typed = circuit.parts[part_id], text.strip()
    special = _CHANGES.get(key)
    if special is not None:
        return special(circuit, part, typed)
    if typed == getattr(part, key):
        return None
    return set_parts(circuit, [part_id], **{key: typed}).change


def position_named(circuit: Circuit, part: Part, text: str) -> str:
    """Return the position of a control that a text names, in any capitals or cut short.

    Raises
    ------
    Refused
        The part has no positions, or none of that name.
    """
    names = [p.name for p in positions_of(circuit, part.id)]
    if not names:
        raise Refused(f"{label(part)} is no control: it has no positions.")
    small = text.strip().casefold()
    same = [n for n in names if n.casefold() == small]
    begun = [n for n in names if small and n.casefold().startswith(small)]
    found = same or begun
    if len(found) != 1:
        raise Refused(f"{label(part)} has the positions {listed(names, 12, 'and')}.", fits=names)
    return found[0]


def _reference(circuit: Circuit, part: Part, text: str) -> Change | None:
    if text == part.reference:
        return None
    return rename_part(circuit, part.id, text).change


def _kind(circuit: Circuit, part: Part, text: str) -> Change | None:
    kind = _kind_named(circuit, text)
    return None if kind.key == part.kind else replace_kind(circuit, [part.id], kind.key).change


def _kind_named(circuit: Circuit, text: str) -> Kind:
    """Return the kind of a title or of a plain name."""
    for kind in kinds.kinds(circuit).values():
        if kind.title.casefold() == text.casefold():
            return kind
    words = tuple(word for clause in clauses(text) for word in clause)
    found = kinds.exact(circuit, words) if words else None
    if found is None or (found.start, found.end) != (0, len(words)):
        fits = kinds.guesses(circuit, text, 3) if text else []
        hint = f"is it {listed(fits)}?" if fits else "type its plain name, such as relay."
        raise Refused(f"“{text}” is no kind of part: {hint}", fits=fits)
    return found.kind


def _ratings(circuit: Circuit, part: Part, text: str) -> Change | None:
    """Return the change of ratings, typed as in a line: 8 A; nothing goes back to defaults."""
    if text in (ratings_stated(circuit, part), ratings_brief(circuit, part)):
        return None
    if not text:
        return set_part(circuit, replace(part, ratings={}), f"Ratings of {label(part)}: defaults")
    made = change_all(circuit, [part.id], text)
    if isinstance(made, Refusal):
        raise Refused(made.sentence, fits=made.fits)
    return made.change


def _duty(circuit: Circuit, part: Part, text: str) -> Change | None:
    """Return the change of duties: those typed hold, those no longer there do not."""
    if text == duty_brief(circuit, part):
        return None
    if kind_of(circuit, part).duty is None:
        raise Refused(f"{label(part)} is no load: only loads have duties.")
    if not text:
        return set_part(circuit, replace(part, duty=Duty()), f"Duty of {label(part)}: defaults")
    words = tuple(word for clause in clauses(text) for word in clause)
    now, stated = duty_of(circuit, part), duties_in(words)
    gone = {k: False for k, says in PHRASES.values() if says and getattr(now, k)}
    new = replace(part.duty, **{**gone, **stated})
    return set_part(circuit, replace(part, duty=new), f"Change duty of {label(part)}")


def zone_name(circuit: Circuit, part: Part) -> str:
    """Return the name of the zone stated for a part, "" where none is."""
    zone = circuit.zones.get(part.zone)
    return (zone.name or zone.id) if zone else part.zone


def _zone(circuit: Circuit, part: Part, text: str) -> Change | None:
    """Return the change of a part's zone: a name, a new one with its temperature, or nothing."""
    if text == zone_name(circuit, part):
        return None
    return put_in_zone(circuit, [part.id], *zone_and_celsius(circuit, text)).change


def _rest(circuit: Circuit, part: Part, text: str) -> Change | None:
    name = position_named(circuit, part, text)
    if name == body_of(circuit, part).rest:
        return None
    return set_part(circuit, replace(part, rest=name), f"Change rest of {label(part)}")


def _written(spec: RatingSpec, value: Any) -> str:
    if isinstance(value, str) or spec.quantity in ("choice", "text"):
        return str(value)
    return show(float(value), spec.quantity)


_CHANGES: dict[str, Callable[[Circuit, Part, str], Change | None]] = {
    "reference": _reference,
    "kind": _kind,
    "ratings": _ratings,
    "duty": _duty,
    "rest": _rest,
    "zone": _zone,
}
