"""Completion of the word at the cursor of a line: what can stand there, best first."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import chain

from app.entry import kinds, offers
from app.entry.duties import PHRASES
from app.entry.edit import VERBS, verb_of, wire_called
from app.entry.ends import Named, part_called
from app.entry.errors import Refused
from app.entry.lying import LYING
from app.entry.plain import led_in, spelled_out
from app.entry.plan import Recent
from app.entry.suggest import Offer, Suggestion, ranked
from app.entry.values import measure
from app.entry.wire import ends_in, is_wire_number
from app.entry.words import Clause, Word, last_clause
from model.circuit import Circuit
from model.kinds import Kind
from model.lookup import kind_of

_NUMBER = re.compile(r"\d{1,9}(?:[.,]\d{0,9})?")
_ABOUT = {
    "wire": "join two ends; the ends alone do as well",
    "name": "give a part its name",
    "rename": "another reference or wire number",
    "delete": "take parts or wires away",
    "duty": "say what a load is meant to do",
    "note": "keep a remark on a part or wire",
    "zone": "how warm it is around parts and wires",
    "bundle": "which wires lie together",
}


def complete(
    circuit: Circuit, text: str, cursor: int | None = None, recent: Recent | None = None
) -> list[Suggestion]:
    """Return what can stand at the cursor, best first.

    Parameters
    ----------
    circuit : Circuit
        As it is now.
    text : str
        The line so far.
    cursor : int, optional
        The cursor's place in it; its end where not given.
    recent : Recent, optional
        The last choices.

    Returns
    -------
    list of Suggestion
        At most twelve; each replaces the text from its `start` to the cursor. Never raises.
    """
    until = text[: len(text) if cursor is None else max(cursor, 0)]
    clause = last_clause(until)
    word = clause[-1] if clause and clause[-1].end == len(until) else None
    if word is not None and word.quoted:
        return []
    before = clause[:-1] if word else clause
    typed = word.text if word else ""
    start = word.start if word else len(until)
    try:
        found = list(_offers(circuit, before, typed, recent or Recent()))
    except Refused:
        return []
    number = _bare_number(before, typed)
    if number is not None and any(o.key == number.text for o in found):
        typed, start = number.text, number.start
    return ranked(found, typed, start)


def _offers(circuit: Circuit, before: Clause, typed: str, recent: Recent) -> Iterator[Offer]:
    """Yield what can follow the words before the cursor's."""
    if "." in typed and (part := part_called(circuit, _plain(typed.partition(".")[0]))):
        return offers.terminal_offers(circuit, part, dotted=True)
    if not before:
        return _at_start(circuit, typed, recent)
    if verb_of(before[0]):
        return _after_verb(circuit, before, typed)
    before, wiring = led_in(before)
    if not before:
        start = _at_start(circuit, typed, recent)
        return _ends_after(circuit, Named(None, None, (0, 0), 0), typed) if wiring else start
    before = _spelled(circuit, before, wiring)
    first = before[0]
    number = _number_text(before, typed)
    ends, rest = ends_in(circuit, before)
    if len(ends) > 1:
        more = _ends_after(circuit, ends[-1], typed) if not rest else iter(())
        return chain(offers.fact_offers(circuit, recent, number), more)
    if ends:
        return _after_one(circuit, ends[0], rest, typed, number)
    if wire_called(circuit, first) or is_wire_number(first.text):
        return chain(
            offers.fact_offers(circuit, recent, number), offers.part_offers(circuit, typed, 5.0)
        )
    return _in_part(circuit, before, number, recent)


def _spelled(circuit: Circuit, before: Clause, wiring: bool) -> Clause:
    """Return the words with parts put in by reference; one that is not clear yet stays as it is."""
    try:
        return spelled_out(circuit, before, wiring)
    except Refused:
        return before


def _at_start(circuit: Circuit, typed: str, recent: Recent) -> Iterator[Offer]:
    yield from offers.kind_offers(circuit, recent)
    if not typed:
        return
    yield from offers.part_offers(circuit, typed, 30.0)
    yield from offers.wire_offers(circuit, typed)
    yield from (Offer(verb, _ABOUT[verb], 2.0) for verb in (*VERBS, "wire"))
    if part := part_called(circuit, _plain(typed)):
        yield from offers.terminal_offers(circuit, part, dotted=True)


def _after_verb(circuit: Circuit, before: Clause, typed: str) -> Iterator[Offer]:
    verb = verb_of(before[0])
    if verb in LYING and len(before) == 1:
        known = circuit.zones if verb == "zone" else circuit.branches
        yield from (Offer(r.name or r.id, r.note, 20.0) for r in known.values())
        return
    if verb in LYING:
        if verb == "zone":
            yield from offers.part_offers(circuit, typed, 30.0)
        yield from offers.wire_offers(circuit, typed)
        return
    if len(before) > 1 and verb == "duty":
        yield from (Offer(p, "duty", 5.0) for p in (*PHRASES, "not"))
    if len(before) > 1 and verb != "delete":
        return
    yield from offers.part_offers(circuit, typed, 30.0)
    if verb not in ("name", "duty"):
        yield from offers.wire_offers(circuit, typed)


def _after_one(
    circuit: Circuit, named: Named, rest: Clause, typed: str, number: str
) -> Iterator[Offer]:
    """Yield what can follow one end: another end; of a part alone its terminals and ratings."""
    part = named.part
    if part is not None and named.end is None:
        kind = kind_of(circuit, part)
        if rest and rest[-1].text.casefold() in ("rest", "rests"):
            yield from offers.position_offers(circuit, part)
        yield from _of_part(circuit, kind, number)
        yield from offers.label_offers(kind)
        if rest:
            return
        yield from offers.terminal_offers(circuit, part, dotted=False)
    yield from _ends_after(circuit, named, typed)


def _ends_after(circuit: Circuit, named: Named, typed: str) -> Iterator[Offer]:
    """Yield ends to wire a part to: free terminals of the newest parts, then all references."""
    if typed and (part := part_called(circuit, _plain(typed))):
        yield from offers.terminal_offers(circuit, part, dotted=True)
    if typed:
        yield from offers.part_offers(circuit, typed, 30.0)
    yield from offers.free_offers(circuit, named.part)


def _in_part(circuit: Circuit, before: Clause, number: str, recent: Recent) -> Iterator[Offer]:
    """Yield what can follow the words of a part that is being placed."""
    words = tuple(w for i, w in enumerate(before) if not w.quoted and not measure(before, i))
    found = kinds.exact(circuit, words) if words else None
    if found is None:
        return offers.kind_offers(circuit, recent)
    more = offers.kind_offers(circuit, Recent()) if found.end == len(words) else iter(())
    return chain(_of_part(circuit, found.kind, number), offers.label_offers(found.kind), more)


def _of_part(circuit: Circuit, kind: Kind, number: str) -> Iterator[Offer]:
    if number:
        yield from offers.number_offers(number, kind)
    yield from offers.rating_offers(circuit, kind)


def _number_text(before: Clause, typed: str) -> str:
    number = _bare_number(before, typed)
    return number.text if number else ""


def _bare_number(before: Clause, typed: str) -> Word | None:
    """Return the number without a unit that is being typed, or that stands just before."""
    if _NUMBER.fullmatch(typed):
        start = before[-1].end + 1 if before else 0
        return Word(typed, start, start + len(typed))
    if not typed and before and _NUMBER.fullmatch(before[-1].text):
        return before[-1]
    return None


def _plain(text: str) -> Word:
    return Word(text, 0, len(text))
