"""A typed line read into one change, or into a refusal that says what would fit."""

from __future__ import annotations

from dataclasses import dataclass

from app.entry import kinds
from app.entry.edit import by_verb, edit_part, edit_wire, verb_of, wire_called
from app.entry.ends import no_part, part_called
from app.entry.errors import Refused
from app.entry.place import looks_like_reference, place_parts, taken
from app.entry.plain import led_in, spelled_out
from app.entry.plan import Cursor, Step
from app.entry.values import colour_at, measure, size_at
from app.entry.wire import ends_in, is_wire_number, wire_up
from app.entry.words import Clause, clauses, span_of
from model.changes import Change
from model.circuit import Circuit
from model.errors import ModelError

HELP = frozenset(("help", "?", "hilfe"))
COMMANDS = frozenset(
    (
        *("undo", "redo", "save", "open", "close", "quit", "exit", "print", "export"),
        *("copy", "cut", "paste", "duplicate", "rotate", "mirror", "tidy", "align"),
        *("find", "search", "zoom", "fit", "operate", "run", "check", "new", "file", "edit"),
    )
)
"""Words for what the menus do; they name no part."""


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
    parts = _continued(circuit, clauses(line))
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
    if verb_of(words[0]):
        return by_verb(circuit, words, cursor)
    _refuse_command(circuit, words)
    plain, wiring = led_in(words)
    if wiring and not plain:
        raise _two_ends(words)
    words = spelled_out(circuit, plain or words, wiring)
    first = words[0]
    ends, rest = ends_in(circuit, words)
    if len(ends) > 1 or (wiring and ends):
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
    if wiring:
        known = looks_like_reference(first.text) and not first.quoted
        raise no_part(circuit, first.text, first.span) if known else _two_ends(words)
    _refuse_unplaced(circuit, words)
    return place_parts(circuit, words, cursor)


def _continued(circuit: Circuit, parts: list[Clause]) -> list[Clause]:
    """Return the clauses, those that only say more put to the one before: S1 K1, 0.75, red."""
    found: list[Clause] = []
    for words in parts:
        if found and _says_more(circuit, words):
            found[-1] = (*found[-1], *words)
        else:
            found.append(words)
    return found


def _says_more(circuit: Circuit, words: Clause) -> bool:
    """Tell whether a clause begins with a number or a colour and names no part or wire."""
    if kinds.exact(circuit, words) or part_called(circuit, words[0]):
        return False
    try:
        return bool(measure(words, 0) or size_at(words, 0) or colour_at(words, 0))
    except Refused:
        return True


def _two_ends(words: Clause) -> Refused:
    """Return the refusal of a wire whose ends are not typed."""
    return Refused(
        "Type the two ends of the wire, such as S1.2 K1.86 or battery to fuse.", span_of(words)
    )


def _refuse_command(circuit: Circuit, words: Clause) -> None:
    """Refuse a single word that asks for help or for something that the menus do."""
    text = words[0].text.casefold()
    if len(words) > 1 or words[0].quoted or part_called(circuit, words[0]):
        return
    if text in HELP:
        raise Refused(
            "Type a part, such as relay or fuse 15 A; two ends to wire, such as S1.2 K1.86 0.75 YE "
            "1 m; or a change, such as F1 20 A.",
            words[0].span,
            ("relay", "fuse 15 A"),
        )
    if text in COMMANDS:
        raise Refused(
            f"“{words[0].text}” is a command, not a part: leave with Escape, then find it in the "
            "menus or with Help, Find a command.",
            words[0].span,
        )


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
