"""Reads and writes quantities the way the trade does; pint does the arithmetic of units.

Loading pint takes a fifth of a second, so it is loaded at the first text that is read: drawing
and checking a circuit that is already on disk never needs it.
"""

from __future__ import annotations

import math
import re
from functools import cache
from typing import TYPE_CHECKING

from model.errors import QuantityError, UnknownNameError
from model.quantities import QUANTITIES, Quantity, Unit, quantity_named
from model.wiresize import Size, parse_size

if TYPE_CHECKING:
    from pint import UnitRegistry

SIZE = "size"
EXACT_DIGITS = 12
_SHOWN_DIGITS = 3
_KEPT_DIGITS = 14
"""A conversion leaves rounding noise in the last digits; nobody typed those."""
_LONGEST = 60

_TEXT = re.compile(
    r"(?P<number>[+-]?(?:[0-9]+(?:[.,'’0-9]| (?=[0-9]{3}))*|[.,][0-9]+)(?:[eE][+-]?[0-9]{1,3})?)"
    r"\s*(?P<unit>.*)"
)
_PLAIN = re.compile(r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?")
_SAME_SIGN = str.maketrans(
    {"−": "-", "μ": "µ", "\u2126": "Ω", "\u00a0": " ", "\u202f": " ", "\u2009": " "}
)


@cache
def registry() -> UnitRegistry[float]:
    """Return the unit registry of this process, made at the first call."""
    import pint

    return pint.UnitRegistry()


def parse(text: str, quantity: str, *, decimal: str = ".") -> float:
    """Read a quantity.

    Parameters
    ----------
    text : str
        A number with or without a unit: ``8``, ``8 A``, ``74,1 mA``, ``-40 °F``.
    quantity : str
        A name of `model.quantities.QUANTITIES`.
    decimal : str
        The person's decimal mark. The other one is read as decimal too, unless it could as well
        separate thousands.

    Returns
    -------
    float
        In the quantity's inside unit: SI, but °C, Ah, Ω·mm²/m.

    Raises
    ------
    QuantityError
        No number, no such unit, another quantity, not finite, or out of what is possible.
    """
    if quantity == SIZE:
        raise UnknownNameError("A wire size is no plain number: read it with parse_value.")
    kind = quantity_named(quantity)
    number, unit_text = _split(text, kind, decimal)
    unit = _unit(text, unit_text, kind)
    value = _convert(number, unit.pint, kind.inside)
    if not kind.low <= value <= kind.high:
        raise QuantityError(f"“{text.strip()}” is not possible for {kind.noun}. {_ask(kind)}")
    return value


def parse_value(text: str, quantity: str, *, decimal: str = ".") -> float | Size:
    """Read a quantity or, for ``size``, a wire size; see `parse` and `parse_size`."""
    return parse_size(text) if quantity == SIZE else parse(text, quantity, decimal=decimal)


def show(
    value: float | Size,
    quantity: str,
    *,
    decimal: str = ".",
    digits: int | None = None,
    unit: str | None = None,
) -> str:
    """Write a quantity with a unit that suits it.

    Parameters
    ----------
    value : float or Size
        In the quantity's inside unit; a `Size` for ``size``.
    quantity : str
        A name of `model.quantities.QUANTITIES`, or ``size``.
    decimal : str
        The decimal mark to write.
    digits : int, optional
        Significant digits; as many as are of use where not given.
    unit : str, optional
        The label of the unit to write in, such as ``ft``.

    Returns
    -------
    str
        ``0.52 V``, ``12 mV``, ``5 mΩ``, ``90 Ω``, ``0.75 mm²``, ``18 AWG``.
    """
    if isinstance(value, Size):
        return value.text(decimal)
    kind = quantity_named(quantity)
    if not math.isfinite(value):
        raise QuantityError(f"There is no finite number to show for {kind.noun}.")
    chosen = kind.unit(_suitable(value, kind) if unit is None else unit)
    number = value / chosen.scale if chosen.scale else _convert(value, kind.inside, chosen.pint)
    written = _written(number, digits, kind.decimals).replace(".", decimal)
    return f"{written} {chosen.label}".rstrip()


def show_exact(value: float | Size, quantity: str, *, decimal: str = ".") -> str:
    """Write a quantity with all its digits, for a field in which it is edited."""
    return show(value, quantity, decimal=decimal, digits=EXACT_DIGITS)


def _split(text: str, kind: Quantity, decimal: str) -> tuple[float, str]:
    plain = text.translate(_SAME_SIGN).strip()
    match = _TEXT.fullmatch(plain) if len(plain) <= _LONGEST else None
    if match is None:
        what = f"“{plain[:_LONGEST]}” is no number" if plain else "Nothing is entered"
        raise QuantityError(f"{what}; {kind.noun} is meant. {_ask(kind)}")
    return _number(match["number"], kind, decimal), match["unit"].strip()


def _number(text: str, kind: Quantity, decimal: str) -> float:
    other = "," if decimal == "." else "."
    if _could_be_thousands(text, decimal, other):
        raise QuantityError(
            f"“{text}” may hold a thousands mark: write {kind.noun} without one, with "
            f"“{decimal}” for the decimals only."
        )
    plain = text.replace(",", ".")
    if not _PLAIN.fullmatch(plain):
        raise QuantityError(f"“{text}” is no number; {kind.noun} is meant. {_ask(kind)}")
    number = float(plain)
    if not math.isfinite(number):
        raise QuantityError(f"“{text}” is too large to be {kind.noun}. {_ask(kind)}")
    return number


def _could_be_thousands(text: str, decimal: str, other: str) -> bool:
    marks = [c for c in text if c in ".,'’ "]
    if len(marks) > 1 or (marks and marks[0] in "'’ "):
        return True
    whole, mark, part = text.lstrip("+-").partition(other)
    return bool(mark) and len(part) == 3 and 1 <= len(whole.lstrip("0")) <= 3


def _unit(text: str, unit_text: str, kind: Quantity) -> Unit:
    if not unit_text:
        return kind.units[0]
    found = _unit_written(unit_text, kind)
    if found is not None:
        return found
    for other in QUANTITIES.values():
        if _unit_written(unit_text, other):
            raise QuantityError(
                f"“{text.strip()}” is {other.noun}; {kind.noun} is meant here. {_ask(kind)}"
            )
    raise QuantityError(f"“{unit_text}” is no unit of {kind.noun}. {_ask(kind)}")


def _unit_written(text: str, kind: Quantity) -> Unit | None:
    return _spellings(kind).get(text) or _loose_spellings(kind).get(text.casefold())


@cache
def _spellings(kind: Quantity) -> dict[str, Unit]:
    return {word: unit for unit in kind.units for word in (unit.label, *unit.spellings) if word}


@cache
def _loose_spellings(kind: Quantity) -> dict[str, Unit]:
    """Units by their spelling in small letters, without those that capitals tell apart."""
    words: dict[str, set[Unit]] = {}
    for word, unit in _spellings(kind).items():
        words.setdefault(word.casefold(), set()).add(unit)
    return {word: units.pop() for word, units in words.items() if len(units) == 1}


def _ask(kind: Quantity) -> str:
    labels = [unit.label for unit in kind.units if unit.label]
    if not labels:
        return "Enter a number alone."
    listed = " or ".join(filter(None, (", ".join(labels[:-1]), labels[-1])))
    return f"Enter a number in {listed}."


def _convert(number: float, unit: str, to: str) -> float:
    value = float(registry().Quantity(number, unit).to(to).magnitude)
    return float(f"{value:.{_KEPT_DIGITS}g}")


def _suitable(value: float, kind: Quantity) -> str:
    if value == 0.0:
        return kind.units[0].label
    size = abs(value) * (1.0 + 1e-9)
    return next((label for label, least in kind.steps if size >= least), kind.steps[-1][0])


def _written(number: float, digits: int | None, decimals: int) -> str:
    if number == 0.0:
        return "0"
    wanted = _SHOWN_DIGITS if digits is None else digits
    if not 1e-6 <= abs(number) < 1e15:
        return f"{number:.{wanted}g}"
    places = wanted - 1 - math.floor(math.log10(abs(number)))
    if digits is None:
        places = max(places, decimals if abs(number) >= 1.0 else 0)
    text = f"{number:.{max(places, 0)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
