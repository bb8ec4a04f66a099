"""Parts placed by their names: kind, reference, ratings and name from the words of a clause."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from app.entry import kinds
from app.entry.errors import Refused
from app.entry.plan import Cursor, Step
from app.entry.positions import are_positions, with_positions
from app.entry.ratings import said
from app.entry.specs import choice_in, main_spec, shown, units_for
from app.entry.spot import beside, free_spot
from app.entry.values import measure
from app.entry.words import Clause, Word
from model.changes import Change
from model.circuit import Circuit, Part, Place, Sheet
from model.edits import add_part, put
from model.kinds import Kind
from model.lookup import fresh_id, kind_of, next_reference, parts_named
from model.units import show

MOST_AT_ONCE = 20
_REFERENCE = re.compile(r"[A-Za-z]{1,4}\d{1,4}[a-z]?")
_LETTERS = re.compile(r"[A-Z]{2,5}")


@dataclass(frozen=True, slots=True)
class Order:
    """What a clause asks for: kind, how many, reference ("" the next), words before and after."""

    kind: Kind
    count: int
    reference: Word | None
    before: Clause
    named: Clause
    after: Clause


def place_parts(circuit: Circuit, words: Clause, cursor: Cursor) -> Step:
    """Return the step that places what a clause names.

    Raises
    ------
    Refused
        When the words name no kind, the reference is taken or a number fits no rating.
    """
    order = _ordered(circuit, _after_colon(words))
    change, text = Change("", ()), ""
    made: list[Part] = []
    after, at = circuit, cursor.at
    for _ in range(order.count):
        part = _part(after, order)
        add = _added(after, part, Cursor(cursor.sheet_id, at))
        spot = _spot_of(add.apply(after), part.id)
        change, after = Change(add.label, change.swaps + add.swaps), add.apply(after)
        at = beside(after, part, spot) if spot else at
        text, made = text or _preview(after, part, order.kind), [*made, part]
    if order.count > 1:
        text = f"{made[0].reference} to {made[-1].reference}: {text.partition(': ')[2]}"
        change = Change(f"Place {made[0].reference} to {made[-1].reference}", change.swaps)
    moved = replace(cursor, at=at, recent=cursor.recent.with_kind(order.kind.key))
    return Step(change, text, moved, tuple(p.id for p in made))


def looks_like_reference(text: str) -> bool:
    """Tell whether a word has the form of a reference: letters and a number."""
    return _REFERENCE.fullmatch(text) is not None


def taken(circuit: Circuit, word: Word) -> Refused:
    """Return the refusal of a reference that another part has."""
    other = parts_named(circuit, word.text)[0]
    free = next_reference(circuit, word.text.rstrip("0123456789") or word.text)
    name = f" “{other.name}”" if other.name else ""
    what = f"{kind_of(circuit, other).title}{name}"
    return Refused(f"{word.text} is taken ({what}): {free} is free.", word.span, (free,))


def _ordered(circuit: Circuit, words: Clause) -> Order:
    count, rest = _count(_with_pins(words))
    reference, rest = _leading_reference(circuit, rest)
    found = _kind_in(circuit, rest)
    run_end = rest.index(found.run[-1]) + 1
    named = found.run[found.start : found.end]
    before = found.run[: found.start]
    start = rest.index(found.run[0])
    after = rest[:start] + found.run[found.end :] + rest[run_end:]
    if reference is None and len(found.run) > found.end:
        follower = found.run[found.end]
        if looks_like_reference(follower.text) and not follower.quoted:
            reference = follower
            after = tuple(w for w in after if w is not follower)
    if reference is not None and count > 1:
        raise Refused(
            f"{count} parts cannot share “{reference.text}”: leave the reference out.",
            reference.span,
        )
    return Order(found.kind, count, reference, before, named, after)


@dataclass(frozen=True, slots=True)
class _InRun:
    kind: Kind
    run: Clause
    start: int
    end: int


def _kind_in(circuit: Circuit, words: Clause) -> _InRun:
    """Return the kind that the first stretch of words with one names."""
    runs = _runs(words)
    for way in (kinds.exact, kinds.close):
        for run in runs:
            hit = way(circuit, run)
            if hit:
                return _InRun(hit.kind, run, hit.start, hit.end)
    raise kinds.unknown(circuit, runs[0] if runs else words)


def _runs(words: Clause) -> list[Clause]:
    """Return the stretches of plain words between numbers and quoted names."""
    runs: list[list[Word]] = [[]]
    at = 0
    while at < len(words):
        number = measure(words, at)
        if number or words[at].quoted:
            runs.append([])
        else:
            runs[-1].append(words[at])
        at += number.used if number else 1
    return [tuple(run) for run in runs if run]


def _after_colon(words: Clause) -> Clause:
    """Return the words with those after a colon marked as a name, numbers apart."""
    colon = next(
        (i for i, w in enumerate(words) if w.text.endswith(":") and not w.quoted and w.text != ":"),
        None,
    )
    if colon is None:
        return words
    made = [*words[:colon], replace(words[colon], text=words[colon].text[:-1])]
    at = colon + 1
    while at < len(words):
        number = measure(words, at)
        used = number.used if number and number.unit else 1
        plain = words[at : at + used]
        made += plain if number and number.unit else [replace(w, quoted=True) for w in plain]
        at += used
    return tuple(made)


def _with_pins(words: Clause) -> Clause:
    """Return the words with 4 pin made one: relays are called so, by their terminals."""
    at = next((i for i, w in enumerate(words) if w.text.casefold() in ("pin", "pins")), 0)
    relay = any(w.text.casefold().startswith("relay") for w in words)
    if not relay or not at or not words[at - 1].text.isdigit():
        return words
    one = Word(f"{words[at - 1].text}pin", words[at - 1].start, words[at].end)
    return (*words[: at - 1], one, *words[at + 1 :])


def _count(words: Clause) -> tuple[int, Clause]:
    number = measure(words, 0)
    if number is None or number.unit or len(words) == 1:
        return 1, words
    if number.number != int(number.number) or not 1 <= number.number <= MOST_AT_ONCE:
        raise Refused(
            f"“{number.text}” is no number of parts: type 1 to {MOST_AT_ONCE}.", number.span
        )
    return int(number.number), words[1:]


def _leading_reference(circuit: Circuit, words: Clause) -> tuple[Word | None, Clause]:
    first = words[0]
    if len(words) < 2 or first.quoted or kinds.exact(circuit, (first,)):
        return None, words
    if looks_like_reference(first.text) or _LETTERS.fullmatch(first.text):
        return first, words[1:]
    return None, words


def _part(circuit: Circuit, order: Order) -> Part:
    kind = order.kind
    reference = next_reference(circuit, kind.letter)
    if order.reference is not None:
        reference = order.reference.text
        if parts_named(circuit, reference):
            raise taken(circuit, order.reference)
    bare = Part(fresh_id(circuit.parts, "p", circuit.wires), kind.key, reference)
    known = said(circuit, bare, kind, order.after)
    part = replace(bare, ratings=dict(known.ratings), ways=known.ways)
    left = known.left
    if len(left) == 1 and not left[0].quoted and (choice := choice_in(kind, "", left[0])):
        return replace(part, ratings={**part.ratings, choice[0]: choice[1]}, name=_name(order, ()))
    if kind.shape == "table" and are_positions(left):
        return replace(with_positions(circuit, part, left), name=_name(order, ()))
    return replace(part, name=_name(order, left))


def _name(order: Order, left: Clause) -> str:
    """Return the part's name: what is quoted, else all words if some stood before the kind."""
    quoted = [w for w in left if w.quoted]
    if quoted:
        return " ".join(w.text for w in quoted)
    telling = order.before or " ".join(w.text.casefold() for w in order.named) in kinds.TELLING
    words = (*order.before, *order.named, *left) if telling else left
    return " ".join(w.text for w in words)


def _added(circuit: Circuit, part: Part, cursor: Cursor) -> Change:
    """Return the change that adds the part and, where the cursor has a point, its place."""
    if cursor.at is None:
        return add_part(circuit, part)
    text = f"Place {part.reference}"
    sheet = circuit.sheets.get(cursor.sheet_id) or next(iter(circuit.sheets.values()), None)
    with_part = put(circuit, "parts", part, text)
    x, y = free_spot(circuit, sheet.id if sheet else "", part, cursor.at)
    if sheet is None:
        sheet = Sheet(cursor.sheet_id or "s1", "Sheet 1")
    place = Place(fresh_id(sheet.places, "c"), part.id, x, y)
    moved = replace(sheet, places={**sheet.places, place.id: place})
    return with_part.then(put(circuit, "sheets", moved, text), text)


def _spot_of(circuit: Circuit, part_id: str) -> tuple[float, float] | None:
    places = (p for s in circuit.sheets.values() for p in s.places.values())
    return next(((p.x, p.y) for p in places if p.part == part_id), None)


def _preview(circuit: Circuit, part: Part, kind: Kind) -> str:
    """Return the line that says what is placed, with the main rating where it is a default."""
    said_of = shown(kind, part.ratings) or _default(circuit, kind)
    name = f" “{part.name}”" if part.name else ""
    ways = f", {part.ways} ways" if part.ways else ""
    return f"{part.reference}: {kind.title}{name}{ways}" + (f", {said_of}" if said_of else "")


def _default(circuit: Circuit, kind: Kind) -> str:
    for quantity in units_for(kind):
        spec = main_spec(kind, quantity) if quantity != "count" else None
        value = spec.at(circuit.settings.nominal_v) if spec else None
        if spec is not None and isinstance(value, float | int):
            return f"{show(float(value), quantity)} (default)"
    return ""
