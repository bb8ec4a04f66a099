"""Numbers with units, wire sizes and colours among the words of a line."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from app.entry.errors import Refused, listed
from app.entry.words import Clause, Word, span_of
from model.errors import AmbiguousSize, QuantityError, UnknownNameError
from model.quantities import QUANTITIES, Unit
from model.tables.names import split_colour
from model.units import parse
from model.wiresize import Size, parse_size

TYPED = (
    "current",
    "voltage",
    "resistance",
    "power",
    "time",
    "frequency",
    "pressure",
    "temperature",
    "share",
    "length",
    "capacity",
)
"""Quantities whose units are understood in a line."""
LONG_MM = 150.0
"""From here on plain mm are a length: no wire of a vehicle is that thick, by either reading."""
SIZE_UNITS = frozenset(("mm²", "mm2", "mm^2", "sqmm", "qmm", "awg", "ga", "gauge"))
_NUMBER = re.compile(r"([+-]?(?:\d{1,9}(?:[.,]\d{1,9})?|[.,]\d{1,9}))(.*)", re.DOTALL)
_AUGHT = re.compile(r"([1-9]/0|0{2,4})(.*)", re.DOTALL)
_SAME = str.maketrans({"−": "-", "μ": "µ", "\u2126": "Ω"})
_EXACT_DIGITS = 12


@dataclass(frozen=True, slots=True)
class Measure:
    """A number with its unit as typed ("" for none), its stretch and how many words it took."""

    number: float
    unit: str
    text: str
    span: tuple[int, int]
    used: int


def measure(words: Clause, at: int) -> Measure | None:
    """Return the number that starts at a word, with its unit there or in the next word."""
    if at >= len(words) or words[at].quoted:
        return None
    match = _NUMBER.fullmatch(words[at].text.translate(_SAME))
    if match is None:
        return None
    number, unit, used = match[1], match[2], 1
    if unit and not is_unit(unit):
        return None
    if not unit and at + 1 < len(words) and _is_plain_unit(words[at + 1]):
        unit, used = words[at + 1].text.translate(_SAME), 2
    taken = words[at : at + used]
    if _could_be_thousands(number):
        either = (number.replace(",", "."), number.replace(",", ""))
        raise Refused(f"“{number}” can be {listed(either)}: write it so.", span_of(taken), either)
    text = " ".join(w.text for w in taken)
    return Measure(float(number.replace(",", ".")), unit, text, span_of(taken), used)


def is_unit(text: str) -> bool:
    """Tell whether a text is a unit that is understood in a line."""
    return bool(_units(text)) or text.casefold() in SIZE_UNITS or text == "mm"


def quantities(found: Measure) -> tuple[str, ...]:
    """Return the quantities that the unit of a number can belong to."""
    return tuple(name for name, _ in _units(found.unit)) if found.unit else ()


def amount(found: Measure, quantity: str) -> float:
    """Return a number in the quantity's inside unit; one without unit is in the usual unit.

    Raises
    ------
    Refused
        When the unit is another quantity's, or the value is out of what is possible.
    """
    kind = QUANTITIES[quantity]
    unit = dict(_units(found.unit)).get(quantity) if found.unit else kind.units[0]
    if unit is None:
        labels = listed(u.label for u in kind.units)
        raise Refused(f"“{found.text}” is not {kind.noun}: type it in {labels}.", found.span)
    value = _inside(found, unit, quantity)
    if not kind.low <= value <= kind.high:
        raise Refused(f"“{found.text}” is not possible for {kind.noun}.", found.span)
    return value


def _inside(found: Measure, unit: Unit, quantity: str) -> float:
    if unit.scale:
        return float(f"{found.number * unit.scale:.{_EXACT_DIGITS}g}")
    try:
        return parse(f"{found.number:.9f} {unit.label}", quantity)
    except QuantityError as error:
        raise Refused(str(error), found.span) from error


def size_at(words: Clause, at: int) -> tuple[Size, int] | None:
    """Return the wire size that starts at a word and the number of words it takes.

    Raises
    ------
    Refused
        For a size in plain mm, and for one that no wire has.
    """
    for used in (2, 1):
        taken = words[at : at + used]
        if len(taken) == used and _looks_like_size(taken):
            return _size(taken), used
    return None


def colour_at(words: Clause, at: int) -> tuple[str, str, int] | None:
    """Return colour and tracer that start at a word ("" for none) and how many words they take."""
    for used in (2, 1):
        taken = words[at : at + used]
        if len(taken) < used or any(w.quoted for w in taken):
            continue
        found = colours_in(" ".join(w.text for w in taken))
        if found:
            return (*found, used)
    return None


@lru_cache(maxsize=1024)
def colours_in(text: str) -> tuple[str, str] | None:
    """Return the letters of colour and tracer in a text, None when it is no colour."""
    try:
        found = split_colour(text)
    except UnknownNameError:
        return None
    return (found[0].code, found[1].code if len(found) > 1 else "")


def _looks_like_size(taken: Clause) -> bool:
    texts = [w.text for w in taken]
    if any(w.quoted for w in taken):
        return False
    match = _AUGHT.fullmatch(texts[0]) or _NUMBER.fullmatch(texts[0])
    if len(taken) == 2:
        gauge = texts[0].casefold() == "awg" and re.fullmatch(r"\d+(?:/0)?", texts[1])
        bare = match is not None and not match[2]
        return bool(gauge) or (bare and (texts[1].casefold() in SIZE_UNITS or texts[1] == "mm"))
    aught = _AUGHT.fullmatch(texts[0])
    if (aught and not aught[2]) or re.fullmatch(r"awg\d+", texts[0], re.IGNORECASE):
        return True
    return match is not None and match[2].casefold() in (*SIZE_UNITS, "", "mm")


def length_at(words: Clause, at: int) -> tuple[float, int] | None:
    """Return the length in m that starts at a word, and the number of words it takes."""
    found = measure(words, at)
    if found is None or "length" not in quantities(found):
        return None
    if found.unit == "mm" and found.number < LONG_MM:
        return None
    return amount(found, "length"), found.used


def _size(taken: Clause) -> Size:
    text = " ".join(w.text for w in taken)
    try:
        return parse_size(text)
    except AmbiguousSize as error:
        length = f"{text.casefold().removesuffix('mm').strip().replace(',', '.')}"
        fits = (error.square.text(), error.auto.text(), f"{float(length) / 1000:.6g} m")
        raise Refused(
            f"“{text}” can be {fits[0]} of copper, “auto” cable of that outside diameter "
            f"({fits[1]}), or a length ({fits[2]}): type one of them.",
            span_of(taken),
            fits,
        ) from error
    except QuantityError as error:
        raise Refused(str(error), span_of(taken)) from error


def _is_plain_unit(word: Word) -> bool:
    return not word.quoted and is_unit(word.text.translate(_SAME))


def _could_be_thousands(number: str) -> bool:
    whole, mark, part = number.lstrip("+-").partition(",")
    return bool(mark) and len(part) == 3 and whole.lstrip("0") != ""


@lru_cache(maxsize=1024)
def _units(text: str) -> tuple[tuple[str, Unit], ...]:
    """Return (quantity, unit) for every quantity of a line that has a unit of this spelling."""
    exact, loose = [], []
    for name in TYPED:
        for unit in QUANTITIES[name].units:
            spellings = (unit.label, *unit.spellings)
            if text in spellings:
                exact.append((name, unit))
            elif text.casefold() in [s.casefold() for s in spellings]:
                loose.append((name, unit))
    found = exact or loose
    names = [name for name, _ in found]
    return tuple(pair for pair in found if names.count(pair[0]) == 1)
