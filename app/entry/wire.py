"""Wires typed by their ends: one, or a chain of them, with what is said of them after."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from itertools import pairwise

from app.entry.ends import JOINTS, Named, Node, alone, end_at, end_text, is_ground
from app.entry.errors import Refused, listed
from app.entry.plan import Cursor, Recent, Step
from app.entry.values import colour_at, length_at, measure, quantities, size_at
from app.entry.words import Clause, Word, span_of
from model.changes import Change
from model.circuit import Circuit, End, Part, Wire
from model.edits import add_wire
from model.lookup import fresh_id, next_wire_number, wires_named
from model.units import show
from model.wiresize import Size

UNKNOWN = "?"
GROUND_COLOUR = "BK"
MINUS = frozenset(("-", "31"))
_NUMBER = re.compile(r"[Ww]\d{1,5}[a-z]?")
FITS = ("0.75 mm²", "18 AWG", "RD", "RD/BU", "1 m", "W7", UNKNOWN)
Pair = tuple[End | None, End | None]


@dataclass(frozen=True, slots=True)
class Given:
    """What was typed of a wire; `unknown` leaves the rest unknown instead of as last time."""

    size: Size | None = None
    length_m: float | None = None
    colour: str = ""
    tracer: str = ""
    number: str = ""
    unknown: bool = False
    spans: dict[str, tuple[int, int]] = field(default_factory=dict)


def ends_in(circuit: Circuit, words: Clause) -> tuple[list[Named], Clause]:
    """Return the ends a clause begins with, and the words after them."""
    found: list[Named] = []
    at = 0
    while at < len(words):
        if found and _joins(circuit, words, at):
            at += 1
            continue
        named = end_at(circuit, words, at)
        if named is None:
            break
        found.append(named)
        at += named.used
    return found, words[at:]


def _joins(circuit: Circuit, words: Clause, at: int) -> bool:
    """Tell whether a word only says that the next end is joined: to, and, an arrow."""
    if words[at].quoted or words[at].text.casefold() not in JOINTS:
        return False
    return at + 1 == len(words) or end_at(circuit, words, at + 1) is not None


def wire_up(
    circuit: Circuit, ends: list[Named], words: Clause, cursor: Cursor, number: str = ""
) -> Step:
    """Return the step that wires each end to the next.

    Raises
    ------
    Refused
        For an end that is not clear, a number that is taken or a word that says nothing of a wire.
    """
    given = given_in(words)
    given = replace(given, number=given.number or number)
    if given.number and wires_named(circuit, given.number):
        free = next_wire_number(circuit)
        raise Refused(
            f"{given.number} is taken: {free} is free.",
            given.spans.get("number", (0, 0)),
            (free,),
        )
    pairs = joined(circuit, ends)
    made: list[Wire] = []
    change, after = Change("", ()), circuit
    for pair in pairs:
        wire = _wire(after, pair, given if not made else replace(given, number=""), cursor.recent)
        add = add_wire(after, wire)
        change, after = change.then(add), add.apply(after)
        made.append(wire)
    label = f"Wire {made[0].number}" + (f" to {made[-1].number}" if len(made) > 1 else "")
    text = "; ".join(_preview(after, wire, given, cursor.recent) for wire in made)
    recent = _remembered(cursor.recent, made[-1], given)
    ids = tuple(w.id for w in made)
    return Step(Change(label, change.swaps), text, replace(cursor, recent=recent), ids)


def given_in(words: Clause) -> Given:
    """Return what words say of a wire: size, length, colour, number, in any order.

    Raises
    ------
    Refused
        For a word that says nothing of a wire, and for what is said twice.
    """
    given = Given()
    at = 0
    while at < len(words):
        found, used = _one(words, at)
        span = span_of(words[at : at + used])
        for key in found:
            if key in given.spans:
                text = " ".join(w.text for w in words[at : at + used])
                raise Refused(f"“{text}” is a second {_NOUNS[key]}: type only one.", span)
        spans = {**given.spans, **dict.fromkeys(found, span)}
        given = replace(given, **found, spans=spans)  # type: ignore[arg-type]
        at += used
    return given


_NOUNS = {
    "size": "size",
    "length_m": "length",
    "colour": "colour",
    "tracer": "tracer",
    "number": "number",
    "unknown": "question mark",
}


def joined(circuit: Circuit, ends: list[Named]) -> list[Pair]:
    """Return the two ends of every wire of a chain, a part alone in between passed through."""
    if len(ends) == 1:
        raise Refused("One end is typed: type the other one too, or open.", ends[0].span, ("open",))
    steps = [
        (a, b) for a, b in pairwise(ends) if len(ends) == 2 or a.part is None or a.part != b.part
    ]
    if not steps:
        raise Refused("All ends are at one part: type an end at another part.", ends[-1].span)
    taken: frozenset[Node] = frozenset()
    pairs: list[Pair] = []
    for a, b in steps:
        first = _end(circuit, a, b.part, taken)
        taken |= _nodes(first)
        second = _end(circuit, b, a.part, taken)
        taken |= _nodes(second)
        if first is not None and first == second:
            text = end_text(circuit, first)
            raise Refused(f"Both ends are {text}: type another end for one of them.", b.span)
        pairs.append((first, second))
    return pairs


def is_wire_number(text: str) -> bool:
    """Tell whether a word has the form of a wire number, W7."""
    return _NUMBER.fullmatch(text) is not None


def facts(wire: Wire) -> str:
    """Return size, colour and length of a wire as a line reads them."""
    size = wire.size.text() if wire.size else "size unknown"
    colour = "/".join(filter(None, (wire.colour, wire.tracer)))
    length = show(wire.length_m, "length") if wire.length_m is not None else "length unknown"
    return f"{size}{' ' + colour if colour else ''}, {length}"


def _one(words: Clause, at: int) -> tuple[dict[str, object], int]:
    """Return what the word here says of a wire, and how many words it takes."""
    word = words[at]
    if not word.quoted and word.text == UNKNOWN:
        return {"unknown": True}, 1
    if not word.quoted and is_wire_number(word.text):
        return {"number": word.text.upper() if word.text.islower() else word.text}, 1
    if length := length_at(words, at):
        return {"length_m": length[0]}, length[1]
    if number := _of_something_else(words, at):
        raise number
    if size := size_at(words, at):
        return {"size": size[0]}, size[1]
    if colour := colour_at(words, at):
        return {"colour": colour[0], "tracer": colour[1]}, colour[2]
    raise _says_nothing(words, at)


def _of_something_else(words: Clause, at: int) -> Refused | None:
    """Return the refusal of a number whose unit is neither a size's nor a length's."""
    number = measure(words, at)
    if number is None or "length" in quantities(number) or not quantities(number):
        return None
    return Refused(
        f"“{number.text}” is neither size nor length of a wire: type mm², AWG, m or ft.",
        number.span,
        ("mm²", "AWG", "m", "ft"),
    )


def _says_nothing(words: Clause, at: int) -> Refused:
    word: Word = words[at]
    return Refused(
        f"“{word.text}” says nothing of a wire: type a size, colour, length or number, "
        f"such as {listed(FITS[:5])}.",
        word.span,
        FITS,
    )


def _end(circuit: Circuit, named: Named, other: Part | None, taken: frozenset[Node]) -> End | None:
    if named.is_open or named.end is not None:
        return named.end
    return alone(circuit, named, other, taken)


def _nodes(end: End | None) -> frozenset[Node]:
    return frozenset() if end is None else frozenset((end.node,))


def _wire(circuit: Circuit, pair: Pair, given: Given, recent: Recent) -> Wire:
    """Return the new wire: what was typed, else what the last one had."""
    last = Recent() if given.unknown else recent
    colour, tracer = _colour(circuit, pair, given, last)
    return Wire(
        fresh_id(circuit.wires, "w", circuit.parts),
        given.number or next_wire_number(circuit),
        pair[0],
        pair[1],
        size=given.size or last.size,
        length_m=last.length_m if given.length_m is None else given.length_m,
        colour=colour,
        tracer=tracer,
    )


def _colour(circuit: Circuit, pair: Pair, given: Given, last: Recent) -> tuple[str, str]:
    if given.colour or given.unknown:
        return given.colour, given.tracer
    if any(_to_ground(circuit, end) for end in pair):
        return GROUND_COLOUR, ""
    return last.colour, last.tracer


def _to_ground(circuit: Circuit, end: End | None) -> bool:
    if end is None:
        return False
    return end.terminal in MINUS or is_ground(circuit, circuit.parts[end.part])


def _remembered(recent: Recent, wire: Wire, given: Given) -> Recent:
    """Return the last choices after a wire; a ground wire's black is not one of them."""
    size = given.size or recent.size
    length = recent.length_m if given.length_m is None else given.length_m
    if not given.colour:
        return replace(recent, size=size, length_m=length)
    return replace(recent, size=size, length_m=length, colour=wire.colour, tracer=wire.tracer)


def _preview(circuit: Circuit, wire: Wire, given: Given, recent: Recent) -> str:
    """Return "W8: S1.2 to K1.86, 0.75 mm² YE, 1 m", and what of it was not typed."""
    ends = f"{end_text(circuit, wire.first)} to {end_text(circuit, wire.second)}"
    last = [] if given.unknown else _as_last(wire, given, recent)
    tail = f" ({listed(last, last='and')} as the last wire)" if last else ""
    return f"{wire.number}: {ends}, {facts(wire)}{tail}"


def _as_last(wire: Wire, given: Given, recent: Recent) -> list[str]:
    same_colour = (wire.colour, wire.tracer) == (recent.colour, recent.tracer)
    kept = (
        ("size", given.size is None and recent.size is not None),
        ("colour", not given.colour and bool(recent.colour) and same_colour),
        ("length", given.length_m is None and recent.length_m is not None),
    )
    return [name for name, is_kept in kept if is_kept]
