"""Suggestions for one word: what can be typed there, ranked by likeness and by the last choices."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from rapidfuzz import fuzz, process

MOST = 12
LIKE = 60.0
"""Likeness in per cent below which a word is not suggested."""
BEGUN, WITHIN = 200.0, 100.0


@dataclass(frozen=True, slots=True)
class Suggestion:
    """A word to put in place of the one at the cursor, what it is, and how well it fits.

    `start` is where the text that it replaces begins.
    """

    text: str
    what: str
    score: float
    start: int = 0


@dataclass(frozen=True, slots=True)
class Offer:
    """A word that can stand here: `weight` (0 to 90) puts some before others alike."""

    text: str
    what: str
    weight: float = 0.0
    key: str = ""

    @property
    def typed(self) -> str:
        """What is compared with the text typed."""
        return (self.key or self.text).casefold()


def ranked(offers: Iterable[Offer], typed: str, start: int) -> list[Suggestion]:
    """Return the offers that fit what is typed, best first, each text once."""
    best: dict[str, Suggestion] = {}
    for offer, score in _scored(list(offers), typed.casefold()):
        known = best.get(offer.text)
        if known is None or known.score < score:
            best[offer.text] = Suggestion(offer.text, offer.what, round(score, 1), start)
    order = sorted(best.values(), key=lambda s: (-s.score, len(s.text)))
    return order[:MOST]


def _scored(offers: list[Offer], typed: str) -> list[tuple[Offer, float]]:
    """Return the offers with their scores: begun so, holding it, or like it."""
    if not typed:
        return [(o, o.weight) for o in offers]
    made: list[tuple[Offer, float]] = []
    rest: list[Offer] = []
    for offer in offers:
        if offer.typed.startswith(typed):
            made.append((offer, BEGUN + offer.weight - min(len(offer.typed) - len(typed), 9)))
        elif typed in offer.typed:
            made.append((offer, WITHIN + offer.weight))
        else:
            rest.append(offer)
    if len(typed) > 1 and len(made) < MOST:
        names = [o.typed for o in rest]
        like = process.extract(typed, names, scorer=fuzz.ratio, limit=MOST, score_cutoff=LIKE)
        made += [(rest[i], score / 2 + rest[i].weight / 4) for _, score, i in like]
    return made
