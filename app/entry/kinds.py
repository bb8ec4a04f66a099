"""The kind of part that some typed words mean: exactly, cut short or misspelt."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from rapidfuzz import fuzz, process

from app.entry.errors import Refused, listed
from app.entry.words import Clause, span_of
from model.circuit import Circuit
from model.kinds import KINDS, Kind

Tokens = tuple[str, ...]
SAID = {
    "relay diode": "relay-diode",
    "relay resistor": "relay-resistor",
    "kill switch": "master-switch",
    "main switch": "master-switch",
    "toggle switch": "switch",
    "oil pressure switch": "pressure-switch",
    "horn button": "push-make",
    "headlight": "lamp-twin",
    "light": "lamp",
    "fuel injector": "injector",
    "4pin relay": "relay-make",
    "5pin relay": "relay-changeover",
}
"""Words people say for a kind beside its own aliases (common practice, no source)."""
TELLING = frozenset(
    (
        *("kill switch", "main switch", "fuel pump", "oil switch", "oil pressure switch"),
        *("ignition switch", "light switch", "stop button", "horn button", "headlamp", "headlight"),
    )
)
"""Words for a kind that say more than its title, and so are the part's name as well."""
FOR = frozenset(("for", "of", "at", "in", "on", "by", "near", "with", "under", "behind"))
COMMON = ("relay", "fuse", "switch", "lamp", "pump", "ground")
GUESS = 50.0
"""Likeness in per cent from which a kind is worth asking about."""
CLOSE = 78.0
"""Likeness in per cent from which a misspelt word is taken for a kind's."""
APART = 6.0
"""By how much the likest kind must be ahead of the next one."""


@dataclass(frozen=True, slots=True)
class Found:
    """The kind some words mean, and which of them (start and end in the clause's words)."""

    kind: Kind
    start: int
    end: int


def kinds(circuit: Circuit) -> Mapping[str, Kind]:
    """Return every kind by key: the program's, then the person's own."""
    if not circuit.own_kinds:
        return KINDS
    return {**{k: own.kind for k, own in circuit.own_kinds.items()}, **KINDS}


def phrases(circuit: Circuit) -> Mapping[Tokens, Kind]:
    """Return the kind that each phrase stands for."""
    if not circuit.own_kinds:
        return _phrases(tuple(KINDS.values()))
    return _phrases(tuple(kinds(circuit).values()))


def tokens(text: str) -> Tokens:
    """Return the words of a text as they are compared: small letters, no hyphens or stops."""
    plain = re.sub(r"[^\w+/ ]", "", text.casefold().replace("-", ""))
    return tuple(plain.split())


def exact(circuit: Circuit, words: Clause) -> Found | None:
    """Return the kind that words name exactly, by the rule of the last or the first among them."""
    known = phrases(circuit)
    if turned := _turned_round(known, words):
        return Found(turned, 0, len(words))
    hits: list[Found] = []
    at = 0
    until = next((i for i, w in enumerate(words) if w.text.casefold() in FOR), len(words))
    while at < len(words):
        hit = _longest(known, words, at)
        if hit and (not hits or hit.start < until):
            hits.append(hit)
        at = hit.end if hit else at + 1
    if not hits:
        return None
    end = len(words) if hits[-1].end == len(words) else until
    return hits[-1] if hits[-1].end == end else hits[0]


def close(circuit: Circuit, words: Clause) -> Found | None:
    """Return the kind that words mean though they are cut short or misspelt."""
    known = phrases(circuit)
    for start, end in dict.fromkeys(((0, len(words)), (len(words) - 1, len(words)), (0, 1))):
        near = _begun(known, words[start:end]) or _like(known, words[start:end])
        if near:
            return Found(near, start, end)
    return None


def guesses(circuit: Circuit, text: str, most: int = 5) -> list[str]:
    """Return the phrases that a text is likest to, one a kind."""
    said = _spoken(tuple(kinds(circuit).values()))
    known = {phrase: key for phrase, (key, _) in said.items()}
    plain = " ".join(tokens(text))
    begun = sorted((p for p in known if plain and p.startswith(plain)), key=len)
    found = process.extract(plain, list(known), scorer=fuzz.ratio, limit=12, score_cutoff=GUESS)
    like = [phrase for phrase, _, _ in found]
    best: dict[str, str] = {}
    for phrase in (*begun, *like):
        best.setdefault(known[phrase], said[phrase][1])
    return list(best.values())[:most]


def unknown(circuit: Circuit, words: Clause) -> Refused:
    """Return the refusal for words that name no kind."""
    text = " ".join(w.text for w in words)
    fits = guesses(circuit, text)
    ask = f"is it {listed(fits)}?" if fits else f"type one such as {listed(COMMON)}."
    return Refused(f"“{text}” names no part: {ask}", span_of(words), fits or COMMON)


def _longest(known: Mapping[Tokens, Kind], words: Clause, at: int) -> Found | None:
    for end in range(min(len(words), at + 5), at, -1):
        said = tuple(t for w in words[at:end] for t in tokens(w.text))
        kind = known.get(said) or known.get(_singular(said))
        if kind:
            return Found(kind, at, end)
    return None


def _turned_round(known: Mapping[Tokens, Kind], words: Clause) -> Kind | None:
    """Return the kind of which these are all the words, in another order: switch light."""
    said = tuple(t for w in words for t in tokens(w.text))
    if len(said) < 2 or said in known:
        return None
    return next((k for p, k in known.items() if len(p) > 1 and sorted(p) == sorted(said)), None)


def _singular(said: Tokens) -> Tokens:
    if not said:
        return said
    last = said[-1]
    short = last[:-2] if last.endswith(("ches", "xes")) else last.removesuffix("s")
    return (*said[:-1], short)


def _begun(known: Mapping[Tokens, Kind], words: Clause) -> Kind | None:
    """Return the kind whose name begins so, if there is only one."""
    text = " ".join(t for w in words for t in tokens(w.text))
    if len(text) < 2:
        return None
    names = {" ".join(p): k for p, k in known.items() if " ".join(p).startswith(text)}
    single = {n: k for n, k in names.items() if " " not in n}
    for some in (single, names):
        found = {k.key: k for k in some.values()}
        if len(found) == 1:
            return next(iter(found.values()))
    return None


def _like(known: Mapping[Tokens, Kind], words: Clause) -> Kind | None:
    """Return the kind whose name is likest, if it is near enough and well ahead of the next."""
    text = " ".join(t for w in words for t in tokens(w.text))
    if len(text) < 3:
        return None
    names = {" ".join(p): k for p, k in known.items()}
    best = process.extract(text, list(names), scorer=fuzz.ratio, limit=4, score_cutoff=CLOSE)
    if not best:
        return None
    kind, score = names[best[0][0]], best[0][1]
    rival = next((s for n, s, _ in best if names[n] is not kind), 0.0)
    return kind if score - rival >= APART else None


@lru_cache(maxsize=16)
def _spoken(known: tuple[Kind, ...]) -> Mapping[str, tuple[str, str]]:
    """Return what each phrase that people say stands for, and how it is spelt: key, spelling."""
    made: dict[str, tuple[str, str]] = {}
    for kind in known:
        for text in (*kind.aliases, *(() if "," in kind.title else (kind.title.casefold(),))):
            made.setdefault(" ".join(tokens(text)), (kind.key, text))
    keys = {k.key for k in known}
    for text, key in SAID.items():
        if key in keys:
            made.setdefault(text, (key, text))
    return made


@lru_cache(maxsize=16)
def _phrases(known: tuple[Kind, ...]) -> Mapping[Tokens, Kind]:
    made: dict[Tokens, Kind] = {}
    for kind in known:
        for text in (*kind.aliases, kind.title, kind.key):
            for spelt in (text, text.replace("-", " ")):
                made.setdefault(tokens(spelt), kind)
    by_key = {k.key: k for k in known}
    for text, key in SAID.items():
        if key in by_key:
            made.setdefault(tokens(text), by_key[key])
    return {p: k for p, k in made.items() if p}
