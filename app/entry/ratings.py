"""What words say of a part in numbers: ratings, choices, ways."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from app.entry.errors import Refused
from app.entry.specs import (
    MAIN,
    bears,
    fits,
    has_current,
    has_quantity,
    main_spec,
    no_rating,
    takes,
)
from app.entry.values import Measure, amount, measure, quantities
from app.entry.words import Clause, Word, span_of
from model.circuit import Circuit, Part
from model.kinds import Kind, RatingSpec, Value
from model.kinds.specs import is_part_of_one
from model.lookup import rating

BARE = {"protection": "current", "diode": "resistance"}
"""Families of which a number without a unit is understood: a 15 fuse, a 680 resistor."""
MUST_BE_MORE = frozenset(("current", "voltage", "power", "resistance", "frequency"))
MAY_BE_NONE = frozenset(
    ("contact_ohm", "ground_ohm", "way_ohm", "inner_ohm", "fuse_ohm", "forward_ohm", "forward_v")
)
MOST_WAYS = 200
_TWIN = re.compile(r"(\d+(?:[.,]\d+)?)/(\d+(?:[.,]\d+)?)(W|A)?", re.IGNORECASE)
_WAYS = frozenset(("way", "ways", "pin", "pins", "pole", "poles", "screws", "fuses"))


@dataclass(frozen=True, slots=True)
class Said:
    """What was understood of some words, and those that are left over."""

    ratings: Mapping[str, Value] = field(default_factory=dict)
    ways: int = 0
    left: tuple[Word, ...] = ()
    marks: tuple[int, ...] = ()
    """How many words were left over when each number came: they part a line into stretches."""


def said(circuit: Circuit, part: Part, kind: Kind, words: Clause) -> Said:
    """Return what words say of a part of this kind.

    Raises
    ------
    Refused
        For a number the kind has no rating for.
    """
    found = Said()
    powers: list[tuple[Measure, tuple[str, ...]]] = []
    at = 0
    while at < len(words):
        pair = _twin(kind, words, at)
        number = None if pair else measure(words, at)
        if pair:
            powers += pair.powers
            found = _marked(replace(found, ratings={**found.ratings, **pair.ratings}))
            at += pair.used
        elif number is None:
            found = replace(found, left=(*found.left, words[at]))
            at += 1
        elif used := _ways(kind, words, at, number):
            found = _marked(replace(found, ways=_way_count(number)))
            at += used
        else:
            labels, found = _labels(kind, number, found)
            if "power" in quantities(number) and not has_quantity(kind, "power"):
                powers.append((number, labels))
            else:
                spec, value = _rating(kind, number, labels)
                found = _with_rating(kind, found, spec.key, value, number)
            found = _marked(found)
            at += number.used
    return _with_coil(circuit, kind, _with_powers(circuit, part, kind, found, powers))


@dataclass(frozen=True, slots=True)
class _Pair:
    used: int
    ratings: Mapping[str, Value]
    powers: tuple[tuple[Measure, tuple[str, ...]], ...]


def _twin(kind: Kind, words: Clause, at: int) -> _Pair | None:
    """Return both numbers of 60/55 W at a lamp of two filaments."""
    match = None if words[at].quoted else _TWIN.fullmatch(words[at].text)
    if match is None or "main_current_a" not in kind.specs:
        return None
    unit, used = match[3], 1
    if not unit and at + 1 < len(words) and words[at + 1].text.casefold() in ("w", "a"):
        unit, used = words[at + 1].text, 2
    if not unit:
        return None
    span = span_of(words[at : at + used])
    both = [Measure(_float(n), unit.upper(), f"{n} {unit}", span, 1) for n in match.groups()[:2]]
    if unit.casefold() == "w":
        return _Pair(used, {}, ((both[0], ("main",)), (both[1], ("dip",))))
    amperes = [_checked(both[i], "current", k) for i, k in enumerate(("main", "dip"))]
    return _Pair(used, {"main_current_a": amperes[0], "dip_current_a": amperes[1]}, ())


def _float(text: str) -> float:
    return float(text.replace(",", "."))


def _marked(found: Said) -> Said:
    return replace(found, marks=(*found.marks, len(found.left)))


def _ways(kind: Kind, words: Clause, at: int, number: Measure) -> int:
    """Return how many words say a number of ways here, 0 for none."""
    if kind.shape != "ways" or number.unit:
        return 0
    after = words[at + 1].text.casefold() if at + 1 < len(words) else ""
    return 2 if after in _WAYS else 1


def _way_count(number: Measure) -> int:
    if number.number != int(number.number) or not 1 <= number.number <= MOST_WAYS:
        raise Refused(f"“{number.text}” is no number of ways: type 1 to {MOST_WAYS}.", number.span)
    return int(number.number)


def _labels(kind: Kind, number: Measure, found: Said) -> tuple[tuple[str, ...], Said]:
    """Return the words just before a number that name a rating of its quantity, and the rest."""
    left = list(found.left)
    since = found.marks[-1] if found.marks else 0
    labels: list[str] = []
    while len(left) > since and not left[-1].quoted:
        tried = (left[-1].text.casefold(), *labels)
        if not _candidates(kind, number, tried):
            break
        labels.insert(0, left.pop().text.casefold())
    return tuple(labels), replace(found, left=tuple(left))


def _candidates(kind: Kind, number: Measure, labels: tuple[str, ...]) -> list[RatingSpec]:
    wanted = set(quantities(number))
    if "power" in wanted:
        wanted.add("current")
    return [
        s
        for s in kind.ratings
        if (s.quantity in wanted or (not number.unit and s.quantity not in ("choice", "text")))
        and all(bears(s, label) for label in labels)
    ]


def _rating(kind: Kind, number: Measure, labels: tuple[str, ...]) -> tuple[RatingSpec, float]:
    if not number.unit and not labels:
        return _bare(kind, number)
    fitting = _candidates(kind, number, labels)
    for quantity in quantities(number) or ("count", *MAIN):
        for key in MAIN.get(quantity, ()):
            if spec := next((s for s in fitting if s.key == key), None):
                return spec, _checked(number, spec.quantity, spec.key)
    if not fitting:
        raise no_rating(kind, number)
    return fitting[0], _checked(number, fitting[0].quantity, fitting[0].key)


def _bare(kind: Kind, number: Measure) -> tuple[RatingSpec, float]:
    quantity = BARE.get(kind.family, "")
    spec = main_spec(kind, quantity) if quantity else None
    if spec is None:
        raise Refused(f"“{number.text}” has no unit: {takes(kind)}.", number.span, fits(kind))
    return spec, _checked(number, quantity, spec.key)


def _checked(number: Measure, quantity: str, key: str) -> float:
    value = amount(number, quantity)
    zero_is_fine = quantity not in MUST_BE_MORE or any(key.endswith(k) for k in MAY_BE_NONE)
    if value < 0 and quantity not in ("temperature", "pressure"):
        raise Refused(
            f"“{number.text}” is less than nothing: type it without a minus.", number.span
        )
    if value == 0 and not zero_is_fine:
        raise Refused(f"“{number.text}” must be more than nothing.", number.span)
    if is_part_of_one(key) and value > 1.0:
        raise Refused(f"“{number.text}” is more than the whole: type 0 to 100 %.", number.span)
    return value


def _with_powers(
    circuit: Circuit,
    part: Part,
    kind: Kind,
    found: Said,
    powers: list[tuple[Measure, tuple[str, ...]]],
) -> Said:
    """Return what was said with powers made into currents at the voltage they are stated at."""
    ratings = dict(found.ratings)
    for number, labels in powers:
        if not has_current(kind):
            raise no_rating(kind, number)
        prefix = next((p for p in ("main", "dip") if p in labels), "")
        if not prefix and "main_current_a" in kind.specs:
            prefix = "main"
        stem = f"{prefix}_" if prefix else ""
        stated = replace(part, ratings={**part.ratings, **ratings})
        volts = rating(circuit, stated, f"{stem}at_v").number or circuit.settings.nominal_v
        ratings[f"{stem}current_a"] = float(f"{_checked(number, 'power', '') / volts:.6g}")
    return replace(found, ratings=ratings)


def _with_coil(circuit: Circuit, kind: Kind, found: Said) -> Said:
    """Return what was said, with the resistance of a 24 V coil where a 12 V circuit gets one."""
    spec = kind.specs.get("coil_ohm")
    volts = found.ratings.get("coil_v")
    if spec is None or spec.default_24 is None or not isinstance(volts, float):
        return found
    if volts <= 18 or circuit.settings.nominal_v > 18 or "coil_ohm" in found.ratings:
        return found
    return replace(found, ratings={**found.ratings, "coil_ohm": spec.default_24})


def _with_rating(kind: Kind, found: Said, key: str, value: float, number: Measure) -> Said:
    if key in found.ratings:
        raise Refused(
            f"“{number.text}” is a second {kind.specs[key].title}: type only one.", number.span
        )
    return replace(found, ratings={**found.ratings, key: value})
