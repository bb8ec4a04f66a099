"""A typed line read into one change, or into a refusal that says what would fit."""

from __future__ import annotations

from dataclasses import dataclass

from app.entry import kinds
from app.entry.edit import VERBS, by_verb, edit_part, edit_wire, wire_called
from app.entry.ends import no_part, part_called
from app.entry.errors import Refused
from app.entry.place import looks_like_reference, place_parts, taken
from app.entry.plan import Cursor, Step
from app.entry.wire import ends_in, is_wire_number, wire_up
from app.entry.words import Clause, clauses, span_of
from model.changes import Change
from model.circuit import Circuit
from model.errors import ModelError


@dataclass(frozen=True, slots=True)
class Entry:
    """What a line comes to.

    `change` is the one act of undo, unapplied; `preview` says it in words; `cursor` is where the
    next part goes, with the last choices; `made` are ids of the parts and wires it concerns.
    """

    change: Change
    preview: str
    cursor: Cursor
    made: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why a line cannot be done: a sentence, the stretch of text it is about, what would fit."""

    sentence: str
    start: int = 0
    end: int = 0
    fits: tuple[str, ...] = ()


def read(circuit: Circuit, line: str, cursor: Cursor | None = None) -> Entry | Refusal:
    """Read a line.

    Parameters
    ----------
    circuit : Circuit
        As it is now; the change fits this one.
    line : str
        As typed; see the package for its forms.
    cursor : Cursor, optional
        Where a new part goes, and the last choices.

    Returns
    -------
    Entry or Refusal
        Never raises, whatever the text.
    """
    try:
        return _read(circuit, line, cursor or Cursor())
    except Refused as refused:
        return Refusal(refused.sentence, *refused.span, refused.fits)
    except ModelError as error:
        return Refusal(str(error), 0, len(line))


def _read(circuit: Circuit, line: str, cursor: Cursor) -> Entry:
    parts = clauses(line)
    if not parts:
        raise Refused(
            "Type a part, such as relay or fuse 15 A, or two ends, such as S1.2 K1.86.",
            fits=("relay", "fuse 15 A"),
        )
    steps: list[Step] = []
    after = circuit
    for clause in parts:
        steps.append(_step(after, clause, cursor))
        after, cursor = steps[-1].change.apply(after), steps[-1].cursor
    label = steps[0].change.label + (f" and {len(steps) - 1} more" if len(steps) > 1 else "")
    change = Change(label, tuple(s for step in steps for s in step.change.swaps))
    made = tuple(i for step in steps for i in step.made)
    return Entry(change, "; ".join(s.preview for s in steps), cursor, made)


def _step(circuit: Circuit, words: Clause, cursor: Cursor) -> Step:
    """Return what one clause comes to, by what its first words are."""
    first = words[0]
    if not first.quoted and first.text.casefold() in VERBS:
        return by_verb(circuit, words, cursor)
    ends, rest = ends_in(circuit, words)
    if len(ends) > 1:
        return wire_up(circuit, ends, rest, cursor)
    if ends:
        return _of_one(circuit, words, cursor)
    if wire := wire_called(circuit, first):
        ends, rest = ends_in(circuit, words[1:])
        return edit_wire(circuit, wire, ends, rest, cursor)
    if is_wire_number(first.text) and not first.quoted:
        ends, rest = ends_in(circuit, words[1:])
        if len(ends) > 1:
            return wire_up(circuit, ends, rest, cursor, first.text)
        raise no_wire(circuit, words)
    _refuse_unplaced(circuit, words)
    return place_parts(circuit, words, cursor)


def no_wire(circuit: Circuit, words: Clause) -> Refused:
    """Return the refusal for a wire number that no wire has."""
    numbers = [w.number for w in circuit.wires.values() if w.number][-3:]
    has = f"the last one is {numbers[-1]}" if numbers else "there is none yet"
    return Refused(
        f"No wire has the number “{words[0].text}”: {has}; type two ends for a new one.",
        words[0].span,
        numbers,
    )


def _of_one(circuit: Circuit, words: Clause, cursor: Cursor) -> Step:
    """Return what a clause comes to that begins with one end only."""
    ends, rest = ends_in(circuit, words)
    part = part_called(circuit, words[0])
    if part is None or (ends[0].end is not None and not rest):
        return wire_up(circuit, ends, rest, cursor)
    if kinds.exact(circuit, words[1:2]) and not _is_edit(words):
        raise taken(circuit, words[0])
    return edit_part(circuit, part, words[1:], cursor)


def _is_edit(words: Clause) -> bool:
    """Tell whether a kind's word after a reference may be a choice: K1 diode, M1 motor."""
    return words[1].text.casefold() in ("diode", "resistor", "motor", "led")


def _refuse_unplaced(circuit: Circuit, words: Clause) -> None:
    """Refuse a reference without a part where ends or values follow: K9 86, K9 85 ohm."""
    first = words[0]
    if first.quoted or not looks_like_reference(first.text):
        return
    if kinds.exact(circuit, words) or kinds.close(circuit, words[1:] or words):
        return
    if len(words) == 1 and kinds.close(circuit, words):
        return
    raise no_part(circuit, first.text, span_of(words[:1]))
