"""What a load is meant to do, and notes on parts and wires, as they are typed.

``duty M1 critical, not stops in crash`` says yes and no; what is not named stays as it was.
``note W5 found loose`` keeps a remark.
"""

from __future__ import annotations

from dataclasses import replace

from app.entry.errors import Refused, listed
from app.entry.plan import Cursor, Step
from app.entry.words import Clause, Word, span_of
from model.circuit import Circuit, Part, Wire
from model.edits import set_part, set_wire
from model.lookup import kind_of, label, wire_label

PHRASES = {
    "off at rest": ("off_at_rest", True),
    "critical": ("critical", True),
    "ordinary": ("critical", False),
    "stops in crash": ("stops_in_crash", True),
    "runs engine stopped": ("runs_engine_stopped", True),
    "keeps engine": ("keeps_engine", True),
}
"""Phrases of duties, with the field and what they say; "not" before one denies it."""
_FILLERS = frozenset(("a", "the", "with", "while", "when", "and", "is", "may", "must", "running"))


def duty_step(circuit: Circuit, part: Part, words: Clause, cursor: Cursor) -> Step:
    """Return the step that states duties of a load.

    Raises
    ------
    Refused
        When the part is no load, or words name no duty.
    """
    if kind_of(circuit, part).duty is None:
        raise Refused(f"{label(part)} is no load: only loads have duties.", span_of(words))
    stated = duties_in(words)
    new = replace(part, duty=replace(part.duty, **stated))
    text = f"Change duty of {label(part)}"
    told = ", ".join(_told(key, value) for key, value in stated.items())
    return Step(set_part(circuit, new, text), f"{label(part)}: {told}", cursor, (part.id,))


def duties_in(words: Clause) -> dict[str, bool]:
    """Return the duties that words state, yes or no, by field."""
    left = [w for w in words if w.text.casefold() not in _FILLERS]
    found: dict[str, bool] = {}
    while left:
        denied = left[0].text.casefold() == "not"
        rest = left[1:] if denied else left
        phrase = next((p for p in PHRASES if _begins(rest, p)), None)
        if phrase is None:
            fits = tuple(PHRASES)
            raise Refused(
                f"“{' '.join(w.text for w in left)}” is no duty: type {listed(list(fits))}, with "
                "“not” before it to deny it.",
                span_of(tuple(left)),
                fits,
            )
        key, says = PHRASES[phrase]
        found[key] = says is not denied
        left = rest[len(phrase.split()) :]
    if not found:
        raise Refused(f"Which duty? Type {listed(list(PHRASES))}.", fits=tuple(PHRASES))
    return found


def _begins(words: list[Word], phrase: str) -> bool:
    wanted = phrase.split()
    return [w.text.casefold() for w in words[: len(wanted)]] == wanted


def _told(key: str, value: bool) -> str:
    phrase = next(p for p, (k, says) in PHRASES.items() if k == key and says)
    return phrase if value else f"not {phrase}"


def note_step(circuit: Circuit, thing: Part | Wire, words: Clause, cursor: Cursor) -> Step:
    """Return the step that keeps a note on a part or wire; no words take it away."""
    note = " ".join(w.text for w in words)
    name = label(thing) if isinstance(thing, Part) else wire_label(thing)
    text = f"Note on {name}"
    if isinstance(thing, Part):
        change = set_part(circuit, replace(thing, note=note), text)
    else:
        change = set_wire(circuit, replace(thing, note=note), text)
    told = f"note “{note}”" if note else "no note"
    return Step(change, f"{name}: {told}", cursor, (thing.id,))
