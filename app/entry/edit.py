"""Changes typed by naming the thing first, or after a word: name, rename, delete, duty, note."""

from __future__ import annotations

from dataclasses import replace

from app.entry.duties import duty_step, note_step
from app.entry.ends import Named, end_text, no_part, part_called
from app.entry.errors import Refused
from app.entry.lying import LYING, lying_step
from app.entry.place import taken
from app.entry.plain import led_in, spoken_of
from app.entry.plan import Cursor, Step
from app.entry.positions import are_positions, with_positions, with_rest
from app.entry.ratings import said
from app.entry.specs import bears_label, choice_in, shown
from app.entry.wire import facts, given_in, joined
from app.entry.words import Clause, Word, span_of
from model.circuit import Circuit, Part, Wire
from model.edits import delete, rename_part, set_part, set_wire
from model.kinds import Kind
from model.lookup import body_of, kind_of, label, parts_named, wire_label, wires_at, wires_named

VERBS = ("name", "rename", "delete", "duty", "note", *LYING)
SAME_AS = {"remove": "delete", "erase": "delete"}
"""Other words for the verbs."""


def wire_called(circuit: Circuit, word: Word) -> Wire | None:
    """Return the wire of this number, in other capitals if only one has it so.

    Raises
    ------
    Refused
        When several wires have it.
    """
    if word.quoted or not word.text:
        return None
    wires = wires_named(circuit, word.text)
    if not wires:
        small = word.text.casefold()
        wires = [w for w in circuit.wires.values() if w.number.casefold() == small]
    if len(wires) > 1:
        raise Refused(
            f"{len(wires)} wires are called “{word.text}”: rename all but one of them first.",
            word.span,
        )
    return wires[0] if wires else None


def verb_of(word: Word) -> str:
    """Return the verb that a word is, "" for any other word."""
    text = "" if word.quoted else word.text.casefold()
    return SAME_AS.get(text, text if text in VERBS else "")


def by_verb(circuit: Circuit, words: Clause, cursor: Cursor) -> Step:
    """Return the step of a clause that begins with one of the verbs."""
    verb = verb_of(words[0])
    if len(words) < 2:
        what = "its name" if verb in LYING else "a reference or a wire number"
        raise Refused(f"{verb} what? Type {what} after it.", words[0].span)
    if verb == "delete":
        return _delete(circuit, words[1:], cursor)
    if verb in LYING:
        return lying_step(circuit, verb, words[1:], cursor)
    if verb in ("duty", "note"):
        return _duty_or_note(circuit, verb, words[1:], cursor)
    return (_name if verb == "name" else _rename)(circuit, words[1:], cursor)


def edit_wire(
    circuit: Circuit, wire: Wire, ends: list[Named], words: Clause, cursor: Cursor
) -> Step:
    """Return the step that changes what was typed of a wire, its ends too where both are."""
    given = given_in(words)
    if "number" in given.spans:
        text = f"rename {wire.number} {given.number}"
        raise Refused(f"A number is changed with “{text}”.", given.spans["number"], (text,))
    if not ends and not words:
        raise Refused(
            f"{wire.number} has {facts(wire)}: type what is to change, such as 2.5 mm² RD 1.2 m.",
            fits=("2.5 mm²", "RD", "1.2 m"),
        )
    new = _moved(circuit, wire, ends) if ends else wire
    if given.size or given.unknown:
        new = replace(new, size=given.size)
    if given.length_m is not None or given.unknown:
        new = replace(new, length_m=given.length_m)
    if given.colour or given.unknown:
        new = replace(new, colour=given.colour, tracer=given.tracer)
    change = set_wire(circuit, new, f"Change {wire.number}")
    first, second = end_text(circuit, new.first), end_text(circuit, new.second)
    text = f"{wire.number}: {first} to {second}, {facts(new)}"
    return Step(change, text, cursor, (wire.id,))


def edit_part(circuit: Circuit, part: Part, words: Clause, cursor: Cursor) -> Step:
    """Return the step that changes what was typed of a part: ratings, choices, name, rest."""
    kind = kind_of(circuit, part)
    words = _without_is(words)
    if not words:
        raise Refused(
            f"{label(part)} is a {kind.title}: type what is to change, or the end to wire it to.",
        )
    known = said(circuit, part, kind, words)
    _keep_wires(circuit, part, known.ways, words)
    new = replace(part, ratings={**part.ratings, **known.ratings}, ways=known.ways or part.ways)
    new = _with_words(circuit, new, kind, known.left)
    changed = {k: v for k, v in new.ratings.items() if part.ratings.get(k) != v}
    text = _edit_text(kind, part, new, {**known.ratings, **changed})
    change = set_part(circuit, new, f"Change {label(part)}")
    return Step(change, text, cursor, (part.id,))


def _without_is(words: Clause) -> Clause:
    """Return the words without those that only say that a value follows: M1 = 8 A, F1 to 20 A."""
    left = tuple(w for w in words if w.quoted or w.text != "=")
    return left[1:] if left and left[0].text.casefold() in ("to", "is") else left


def _delete(circuit: Circuit, words: Clause, cursor: Cursor) -> Step:
    parts: list[Part] = []
    wires: list[Wire] = []
    for word in led_in(words)[0]:
        part = part_called(circuit, word)
        wire = None if part else wire_called(circuit, word)
        if part is None and wire is None:
            part = spoken_of(circuit, word)
        if part is None and wire is None:
            raise no_part(circuit, word.text, word.span)
        parts += [part] if part else []
        wires += [wire] if wire else []
    cut = {w.id for p in parts for w in wires_at(circuit, p.id)} - {w.id for w in wires}
    change = delete(circuit, [p.id for p in parts], [w.id for w in wires])
    names = ", ".join(dict.fromkeys((*(label(p) for p in parts), *(wire_label(w) for w in wires))))
    tail = f" with {len(cut)} {'wire' if len(cut) == 1 else 'wires'}" if cut else ""
    return Step(change, f"Delete {names}{tail}", cursor)


def _duty_or_note(circuit: Circuit, verb: str, words: Clause, cursor: Cursor) -> Step:
    part = part_called(circuit, words[0])
    if part is not None and verb == "duty":
        return duty_step(circuit, part, words[1:], cursor)
    thing = part or (wire_called(circuit, words[0]) if verb == "note" else None)
    if thing is None:
        raise no_part(circuit, words[0].text, words[0].span)
    return note_step(circuit, thing, words[1:], cursor)


def _name(circuit: Circuit, words: Clause, cursor: Cursor) -> Step:
    part = part_called(circuit, words[0])
    if part is None:
        raise no_part(circuit, words[0].text, words[0].span)
    name = " ".join(w.text for w in words[1:])
    if not name and len(words) == 1:
        raise Refused(f"Type the name of {label(part)} after it.", words[0].span)
    text = f"Name {label(part)} “{name}”"
    change = set_part(circuit, replace(part, name=name), text)
    return Step(change, f"{label(part)}: named “{name}”", cursor, (part.id,))


def _rename(circuit: Circuit, words: Clause, cursor: Cursor) -> Step:
    old, new = words[0], words[1] if len(words) == 2 else None
    part = part_called(circuit, old)
    wire = None if part else wire_called(circuit, old)
    if part is None and wire is None:
        raise no_part(circuit, old.text, old.span)
    if new is None or not new.text:
        raise Refused(f"Type one new name after {old.text}.", span_of(words))
    if part is not None:
        if new.text != part.reference and parts_named(circuit, new.text):
            raise taken(circuit, new)
        change = rename_part(circuit, part.id, new.text)
        return Step(change, f"Rename {label(part)} to {new.text}", cursor, (part.id,))
    assert wire is not None
    if new.text != wire.number and wires_named(circuit, new.text):
        raise Refused(f"{new.text} is the number of another wire.", new.span)
    text = f"Rename {wire.number} to {new.text}"
    return Step(set_wire(circuit, replace(wire, number=new.text), text), text, cursor, (wire.id,))


def _moved(circuit: Circuit, wire: Wire, ends: list[Named]) -> Wire:
    """Return the wire at both ends typed; the terminals it leaves count as free."""
    if len(ends) != 2:
        raise Refused(f"Type both ends of {wire.number}.", ends[0].span)
    freed = replace(circuit, wires={k: w for k, w in circuit.wires.items() if k != wire.id})
    first, second = joined(freed, ends)[0]
    return replace(wire, first=first, second=second)


def _keep_wires(circuit: Circuit, part: Part, ways: int, words: Clause) -> None:
    """Refuse fewer ways than have wires."""
    if not ways:
        return
    kept = {t.node for t in body_of(circuit, replace(part, ways=ways)).terminals}
    ends = (e for w in wires_at(circuit, part.id) for e in (w.first, w.second))
    lost = [e for e in ends if e is not None and e.part == part.id and e.node[1] not in kept]
    if lost:
        raise Refused(
            f"{label(part)} has a wire at {end_text(circuit, lost[0])}: {ways} ways are too few.",
            span_of(words),
        )


def _with_words(circuit: Circuit, part: Part, kind: Kind, left: tuple[Word, ...]) -> Part:
    """Return the part with what plain words say: a quoted name, a choice, a rest position."""
    if are_positions(left) and kind.shape == "table":
        return with_positions(circuit, part, left)
    at = 0
    while at < len(left):
        word, after = left[at], left[at + 1] if at + 1 < len(left) else None
        if word.quoted:
            part, used = replace(part, name=word.text), 1
        elif word.text.casefold() in ("rest", "rests") and after is not None:
            part, used = with_rest(circuit, part, after), 2
        elif after is not None and (found := choice_in(kind, word.text.casefold(), after)):
            part, used = replace(part, ratings={**part.ratings, found[0]: found[1]}), 2
        elif found := choice_in(kind, "", word):
            part, used = replace(part, ratings={**part.ratings, found[0]: found[1]}), 1
        else:
            raise _not_understood(circuit, part, kind, word)
        at += used
    return part


def _not_understood(circuit: Circuit, part: Part, kind: Kind, word: Word) -> Refused:
    name = label(part)
    if verb := verb_of(word):
        text = f"{verb} {name}"
        return Refused(f"“{word.text}” stands first: type “{text}”.", word.span, (text,))
    if bears_label(kind, word.text):
        return Refused(f"“{word.text}” of {name} needs a value after it.", word.span)
    if "." in word.text:
        return no_part(circuit, word.text.partition(".")[0], word.span)
    text = f"name {name} {word.text}"
    return Refused(
        f"“{word.text}” is no rating, choice or terminal of {name}; a name is typed “{text}”.",
        word.span,
        (text,),
    )


def _edit_text(kind: Kind, old: Part, new: Part, ratings: dict[str, float | str | None]) -> str:
    told = [shown(kind, ratings)] if ratings else []
    told += [f"named “{new.name}”"] if new.name != old.name else []
    told += [f"{new.ways} ways"] if new.ways != old.ways else []
    told += [f"at rest {new.rest}"] if new.rest != old.rest else []
    told += ["positions " + ", ".join(p.name for p in new.table)] if new.table != old.table else []
    return f"{label(old)}: {', '.join(told) or 'stays as it is'}"
