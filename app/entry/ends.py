"""Ends of wires among the words of a line: K1.86, K1 86, X1.3/b, open, or a part alone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rapidfuzz import fuzz, process

from app.entry.errors import Refused, listed
from app.entry.values import measure
from app.entry.words import Clause, Word
from model.circuit import Circuit, End, Part
from model.kinds.body import Terminal
from model.lookup import body_of, kind_of, label, marking

OPEN = "open"
JOINTS = frozenset(("to", "and", "->", "-->", "→", "=>", "-", "–", "—"))
"""Words between two ends that say nothing more than that they are joined."""
_PINS = frozenset(("pin", "terminal"))
RETURNS = frozenset(("-", "31", "85"))
"""Terminals that go to ground where they can (DIN 72552: 31 ground, 85 end of the winding)."""
_MINUS = str.maketrans({"−": "-", "–": "-"})
Node = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Named:
    """An end as typed: a part and terminal, a part alone, or open (no part); words taken."""

    part: Part | None
    end: End | None
    span: tuple[int, int]
    used: int

    @property
    def is_open(self) -> bool:
        """Whether the wire ends nowhere here."""
        return self.part is None


def part_called(circuit: Circuit, word: Word) -> Part | None:
    """Return the part of this reference, in other capitals if only one has it so.

    Raises
    ------
    Refused
        When several parts have it.
    """
    if word.quoted or not word.text:
        return None
    parts = [p for p in circuit.parts.values() if p.reference == word.text]
    if not parts:
        small = word.text.casefold()
        parts = [p for p in circuit.parts.values() if p.reference.casefold() == small]
    if len(parts) > 1:
        raise Refused(
            f"{len(parts)} parts are called “{word.text}”: rename all but one of them first.",
            word.span,
        )
    return parts[0] if parts else None


def end_at(circuit: Circuit, words: Clause, at: int) -> Named | None:
    """Return the end that starts at a word, None when it is none.

    Raises
    ------
    Refused
        For what is clearly meant as an end, but has no such part or terminal.
    """
    word = words[at]
    if word.quoted:
        return None
    if word.text.casefold() == OPEN:
        return Named(None, None, word.span, 1)
    part = part_called(circuit, word)
    if part is None:
        return _dotted(circuit, word) or _run_together(circuit, word)
    pin = 1 if at + 2 < len(words) and words[at + 1].text.casefold() in _PINS else 0
    after = words[at + 1 + pin] if at + 1 + pin < len(words) else None
    if after is not None and not after.quoted and not _has_unit(words, at + 1 + pin):
        terminal = find_terminal(circuit, part, after.text)
        if terminal:
            end = End(part.id, terminal.key, terminal.face)
            return Named(part, end, (word.start, after.end), 2 + pin)
    return Named(part, None, word.span, 1)


def find_terminal(circuit: Circuit, part: Part, text: str) -> Terminal | None:
    """Return the part's terminal of this marking; of two faces the free one, else the first."""
    key, _, face = text.translate(_MINUS).partition("/")
    all_of_them = body_of(circuit, part).terminals
    for fold in (str, str.casefold):
        found = [
            t
            for t in all_of_them
            if fold(key) in (fold(t.key), fold(marking(part, t.key)))
            and face.casefold() in ("", t.face)
        ]
        if len(found) == 1:
            return found[0]
        if len({t.key for t in found}) == 1:
            used = used_nodes(circuit)
            return next((t for t in found if (part.id, t.node) not in used), found[0])
    return None


def used_nodes(circuit: Circuit) -> set[Node]:
    """Return every node that a wire ends at."""
    ends = (end for wire in circuit.wires.values() for end in (wire.first, wire.second))
    return {end.node for end in ends if end is not None}


def free_terminals(circuit: Circuit, part: Part, taken: frozenset[Node]) -> list[Terminal]:
    """Return the terminals no wire is at; a part with one terminal always has it free."""
    terminals = body_of(circuit, part).terminals
    if len(terminals) == 1:
        return list(terminals)
    used = used_nodes(circuit) | taken
    return [t for t in terminals if (part.id, t.node) not in used]


def alone(
    circuit: Circuit, named: Named, other: Part | None, taken: frozenset[Node] = frozenset()
) -> End:
    """Return the end at a part typed without a terminal: the free one that fits.

    Parameters
    ----------
    other
        The part at the wire's other end; a ground point there asks for a terminal that returns.
    taken
        Nodes that wires of the same line have taken.

    Raises
    ------
    Refused
        When none is free, or several fit and the part has more than two.
    """
    part = named.part
    assert part is not None
    free = free_terminals(circuit, part, taken)
    fitting = _fitting(free, other is not None and is_ground(circuit, other))
    if fitting and (len(fitting) == 1 or len(body_of(circuit, part).terminals) <= 2):
        return End(part.id, fitting[0].key, fitting[0].face)
    names = [terminal_text(part, t) for t in free]
    if not free:
        names = [terminal_text(part, t) for t in body_of(circuit, part).terminals]
        raise Refused(
            f"Every terminal of {label(part)} has a wire: name the one to join, {listed(names)}.",
            named.span,
            names,
        )
    raise Refused(
        f"{label(part)} has {len(free)} free terminals: is it {listed(names)}?", named.span, names
    )


def is_ground(circuit: Circuit, part: Part) -> bool:
    """Tell whether a part is a ground point."""
    return kind_of(circuit, part).family == "ground"


def terminal_text(part: Part, terminal: Terminal) -> str:
    """Return a terminal as it is typed, K1.86 or X1.3/b."""
    face = f"/{terminal.face}" if terminal.face else ""
    return f"{label(part)}.{marking(part, terminal.key)}{face}"


def end_text(circuit: Circuit, end: End | None) -> str:
    """Return an end as it is typed."""
    if end is None:
        return OPEN
    part = circuit.parts[end.part]
    face = f"/{end.face}" if end.face else ""
    return f"{label(part)}.{marking(part, end.terminal)}{face}"


def no_part(circuit: Circuit, text: str, span: tuple[int, int]) -> Refused:
    """Return the refusal for a reference that no part has."""
    references = [p.reference for p in circuit.parts.values() if p.reference]
    found = process.extract(text, references, scorer=fuzz.ratio, processor=str.casefold, limit=3)
    near = [reference for reference, _, _ in found]
    hint = f"is it {listed(near)}?" if near else "place it first."
    return Refused(f"No part is called “{text}”: {hint}", span, near)


def _dotted(circuit: Circuit, word: Word) -> Named | None:
    dots = [i for i, letter in enumerate(word.text) if letter == "." and i]
    for dot in dots:
        left = Word(word.text[:dot], word.start, word.start + dot)
        part = part_called(circuit, left)
        if part is None:
            continue
        terminal = find_terminal(circuit, part, word.text[dot + 1 :])
        if terminal is None:
            raise _no_terminal(circuit, part, word.text[dot + 1 :], word)
        return Named(part, End(part.id, terminal.key, terminal.face), word.span, 1)
    if dots and word.text[0].isalpha():
        raise no_part(circuit, word.text[: dots[0]], (word.start, word.start + dots[0]))
    return None


def _run_together(circuit: Circuit, word: Word) -> Named | None:
    """Return the end that is written without a stop: K1:30, K1-30, K1/86, G1+."""
    text = word.text.translate(_MINUS)
    at = next((i for i, letter in enumerate(text) if letter in ":/-+" and i), 0)
    part = part_called(circuit, Word(text[:at], word.start, word.start + at)) if at else None
    if part is None:
        return None
    key = text[at:] if text[at:] in ("+", "-") else text[at + 1 :]
    terminal = find_terminal(circuit, part, key) if key else None
    if terminal is None:
        return None
    return Named(part, End(part.id, terminal.key, terminal.face), word.span, 1)


def _no_terminal(circuit: Circuit, part: Part, text: str, word: Word) -> Refused:
    terminals = body_of(circuit, part).terminals
    names = [terminal_text(part, t) for t in terminals]
    what = f"has no terminal “{text}”" if text else "needs a terminal here"
    known = listed(list(dict.fromkeys(marking(part, t.key) for t in terminals)), 8)
    has = f"it has {known}." if terminals else "it has none."
    return Refused(f"{label(part)} {what}: {has}", word.span, names)


def _fitting(free: Sequence[Terminal], to_ground: bool) -> list[Terminal]:
    if to_ground:
        return [t for t in free if t.key in RETURNS] or list(free)
    return [t for t in free if t.key not in RETURNS] or list(free)


def _has_unit(words: Clause, at: int) -> bool:
    """Tell whether a word is a number with a unit, so that it is no terminal."""
    found = measure(words, at)
    return found is not None and found.unit != ""
