"""Suggestions for one word: what can be typed there, ranked by likeness and by the last choices."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from heapq import nsmallest

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
    """A word that can stand here: `weight` (0 to 90) puts some before others alike.

    `what` may be a question that is asked only of what is shown: there are hundreds of parts.
    """

    text: str
    what: str | Callable[[], str]
    weight: float = 0.0
    key: str = ""

    @property
    def typed(self) -> str:
        """What is compared with the text typed."""
        return (self.key or self.text).casefold()


def ranked(offers: Iterable[Offer], typed: str, start: int) -> list[Suggestion]:
    """Return the offers that fit what is typed, best first, each text once."""
    best: dict[str, tuple[float, Offer]] = {}
    for offer, score in _scored(list(offers), typed.casefold()):
        known = best.get(offer.text)
        if known is None or known[0] < score:
            best[offer.text] = (score, offer)
    order = nsmallest(MOST, best.values(), key=lambda s: (-s[0], len(s[1].text)))
    return [Suggestion(o.text, _told(o), round(score, 1), start) for score, o in order]


def _told(offer: Offer) -> str:
    return offer.what if isinstance(offer.what, str) else offer.what()


def _scored(offers: list[Offer], typed: str) -> list[tuple[Offer, float]]:
    """Return the offers with their scores: begun so, holding it, or like it."""
    if not typed:
        return [(o, o.weight) for o in offers]
    made: list[tuple[Offer, float]] = []
    rest: list[Offer] = []
    for offer in offers:
        name = offer.typed
        if name.startswith(typed):
            longer = min(len(name) - len(typed), 90)
            made.append((offer, BEGUN + offer.weight - longer / 100))
        elif typed in name:
            made.append((offer, WITHIN + offer.weight))
        else:
            rest.append(offer)
    if len(typed) > 1 and len(made) < MOST:
        names = [o.typed for o in rest]
        like = process.extract(typed, names, scorer=fuzz.ratio, limit=MOST, score_cutoff=LIKE)
        made += [(rest[i], score / 2 + rest[i].weight / 4) for _, score, i in like]
    return made
