"""What people say around the words that count: wire battery to fuse, add a relay, K1:30.

Words that lead in are left out, words that join are passed over, and a part that is spoken of by
its name or its kind is put in by its reference, where there is only one such part.
"""

from __future__ import annotations

from app.entry import kinds
from app.entry.ends import JOINTS, end_at, find_terminal
from app.entry.errors import Refused, listed
from app.entry.words import Clause, Word, span_of
from model.circuit import Circuit, Part
from model.kinds import Kind
from model.lookup import kind_of

PLACING = frozenset(("add", "place", "insert", "put", "draw", "new", "a", "an", "the", "another"))
WIRING = frozenset(("wire", "connect", "join", "from"))
TOWARDS = frozenset(("to", "->", "-->", "→", "=>"))
"""Words that make a wire of what stands before and after them."""
LONGEST_NAME = 5


def led_in(words: Clause) -> tuple[Clause, bool]:
    """Return the words without those that lead in, and whether they ask for a wire."""
    at, wiring = 0, False
    while at < len(words) and not words[at].quoted:
        text = words[at].text.casefold()
        wiring = wiring or text in WIRING
        if text not in WIRING and text not in PLACING:
            break
        at += 1
    return words[at:], wiring


def spelled_out(circuit: Circuit, words: Clause, wiring: bool) -> Clause:
    """Return the words with parts spoken of by name or kind put in by their references.

    Parameters
    ----------
    wiring
        Whether the words are known to ask for a wire; else a word such as "to" must say so.

    Raises
    ------
    Refused
        When there are several such parts, or none yet.
    """
    if not wiring and not _says_wire(circuit, words):
        return words
    found: list[Word] = []
    at = ends = 0
    while at < len(words):
        if ends and words[at].text.casefold() in JOINTS:
            at += 1
            continue
        named = end_at(circuit, words, at)
        used = named.used if named else _length(circuit, words[at:])
        if not used:
            break
        if named:
            found += words[at : at + used]
        else:
            part = _the_one(circuit, words[at : at + used])
            found.append(Word(part.reference, words[at].start, words[at + used - 1].end))
            after = words[at + used : at + used + 1]
            if after and find_terminal(circuit, part, after[0].text):
                found += after
                used += 1
        at, ends = at + used, ends + 1
    return (*found, *words[at:])


def spoken_of(circuit: Circuit, word: Word) -> Part | None:
    """Return the one part that a word names by its name or kind, None for any other word."""
    return _the_one(circuit, (word,)) if _length(circuit, (word,)) else None


def _says_wire(circuit: Circuit, words: Clause) -> bool:
    """Tell whether parts, spoken of somehow, stand on both sides of a word that joins them."""
    at = next((i for i, w in enumerate(words) if w.text.casefold() in TOWARDS and not w.quoted), 0)
    before, after = words[:at], words[at + 1 :]
    if not before or not after:
        return False
    return _is_end(circuit, before, whole=True) and _is_end(circuit, after, whole=False)


def _is_end(circuit: Circuit, words: Clause, whole: bool) -> bool:
    named = end_at(circuit, words, 0)
    used = named.used if named else _length(circuit, words)
    return used > 0 and (not whole or used >= len(words) - (0 if named else 1))


def _length(circuit: Circuit, words: Clause) -> int:
    """Return how many of the first words name a part or a kind, 0 for none."""
    plain = next((i for i, w in enumerate(words) if w.text.casefold() in JOINTS), len(words))
    for count in range(min(plain, LONGEST_NAME), 0, -1):
        if _named(circuit, words[:count]) or _kind(circuit, words[:count]):
            return count
    return 0


def _text(words: Clause) -> str:
    return " ".join(w.text for w in words).casefold()


def _named(circuit: Circuit, words: Clause) -> list[Part]:
    text = _text(words)
    return [p for p in circuit.parts.values() if p.name and p.name.casefold() == text]


def _kind(circuit: Circuit, words: Clause) -> Kind | None:
    if any(w.quoted for w in words):
        return None
    return kinds.phrases(circuit).get(tuple(t for w in words for t in kinds.tokens(w.text)))


def _the_one(circuit: Circuit, words: Clause) -> Part:
    """Return the only part of a name, or of a kind, or that bears the letter of the kind."""
    text, kind = _text(words), _kind(circuit, words)
    fitting = _named(circuit, words)
    if not fitting and kind is not None:
        parts = list(circuit.parts.values())
        fitting = [p for p in parts if p.kind == kind.key]
        fitting = fitting or [p for p in parts if kind_of(circuit, p).letter == kind.letter]
    if len(fitting) == 1:
        return fitting[0]
    names = [p.reference for p in fitting]
    if not fitting:
        raise Refused(
            f"There is no {text} yet: type “{text}” by itself to place one.",
            span_of(words),
            (text,),
        )
    raise Refused(f"“{text}” can be {listed(names)}: type which.", span_of(words), names)
