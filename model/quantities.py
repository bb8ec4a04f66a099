"""The kinds of quantity people enter and read, with the trade's units, as data."""

from __future__ import annotations

import math
from dataclasses import dataclass

from model.errors import UnknownNameError


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit of a quantity.

    Attributes
    ----------
    label : str
        As shown after a number; empty for a plain number.
    pint : str
        The unit library's name of it.
    scale : float
        How many of the quantity's inside unit it is; 0 where an offset belongs to it (°F).
    spellings : tuple of str
        Other ways in which people write it.
    """

    label: str
    pint: str
    scale: float
    spellings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Quantity:
    """A kind of quantity.

    Attributes
    ----------
    name : str
        What the rest of the program calls it.
    noun : str
        With its article, for sentences.
    inside : str
        The unit library's name of the unit numbers have inside the program.
    units : tuple of Unit
        The first is the one of a number without a unit.
    steps : tuple of (str, float)
        Labels with the smallest inside value each is used from, largest first.
    low, high : float
        What is possible at all, inside unit.
    decimals : int
        Places after the point that a large value keeps when it is shown.
    """

    name: str
    noun: str
    inside: str
    units: tuple[Unit, ...]
    steps: tuple[tuple[str, float], ...]
    low: float = 0.0
    high: float = math.inf
    decimals: int = 0

    def unit(self, label: str) -> Unit:
        """Return the unit of this label."""
        for unit in self.units:
            if unit.label == label:
                return unit
        known = ", ".join(u.label for u in self.units)
        raise UnknownNameError(f"“{label}” is no unit of {self.noun}: use {known}.")


_METRES = (
    Unit("m", "meter", 1.0, ("metre", "metres", "meter", "meters")),
    Unit("mm", "millimeter", 1e-3),
    Unit("cm", "centimeter", 1e-2),
    Unit("ft", "foot", 0.3048, ("foot", "feet", "'", "′")),
    Unit("in", "inch", 0.0254, ("inch", "inches", '"', "″")),
)

_ALL = (
    Quantity(
        "current",
        "a current",
        "ampere",
        (
            Unit("A", "ampere", 1.0, ("amp", "amps", "ampere", "amperes")),
            Unit("mA", "milliampere", 1e-3),
            Unit("µA", "microampere", 1e-6, ("uA",)),
            Unit("kA", "kiloampere", 1e3),
        ),
        (("A", 0.1), ("mA", 1e-4), ("µA", 0.0)),
        low=-1e6,
        high=1e6,
    ),
    Quantity(
        "voltage",
        "a voltage",
        "volt",
        (
            Unit("V", "volt", 1.0, ("volt", "volts")),
            Unit("mV", "millivolt", 1e-3),
            Unit("µV", "microvolt", 1e-6, ("uV",)),
            Unit("kV", "kilovolt", 1e3),
        ),
        (("V", 0.1), ("mV", 1e-4), ("µV", 0.0)),
        low=-1e6,
        high=1e6,
        decimals=2,
    ),
    Quantity(
        "resistance",
        "a resistance",
        "ohm",
        (
            Unit("Ω", "ohm", 1.0, ("ohm", "ohms")),
            Unit("mΩ", "milliohm", 1e-3, ("mohm", "milliohm", "milliohms")),
            Unit("µΩ", "microohm", 1e-6, ("uohm",)),
            Unit("kΩ", "kiloohm", 1e3, ("kohm", "kiloohm")),
            Unit("MΩ", "megaohm", 1e6, ("Mohm", "megohm")),
        ),
        (("MΩ", 1e6), ("kΩ", 1e3), ("Ω", 0.1), ("mΩ", 1e-5), ("µΩ", 0.0)),
        high=1e12,
    ),
    Quantity(
        "length",
        "a length",
        "meter",
        _METRES,
        (("m", 0.01), ("mm", 0.0)),
        high=1e5,
        decimals=2,
    ),
    Quantity(
        "diameter",
        "a diameter",
        "meter",
        (_METRES[1], *_METRES[2:], _METRES[0]),
        (("mm", 0.0),),
        high=100.0,
    ),
    Quantity(
        "temperature",
        "a temperature",
        "degC",
        (
            Unit("°C", "degC", 1.0, ("C", "degC", "℃", "° C")),
            Unit("°F", "degF", 0.0, ("F", "degF", "℉", "° F")),
            Unit("K", "kelvin", 0.0, ("kelvin",)),
        ),
        (("°C", 0.0),),
        low=-273.15,
        high=2000.0,
    ),
    Quantity(
        "power",
        "a power",
        "watt",
        (
            Unit("W", "watt", 1.0, ("watt", "watts")),
            Unit("mW", "milliwatt", 1e-3),
            Unit("µW", "microwatt", 1e-6, ("uW",)),
            Unit("kW", "kilowatt", 1e3),
        ),
        (("kW", 1e3), ("W", 0.1), ("mW", 1e-4), ("µW", 0.0)),
        low=-1e9,
        high=1e9,
    ),
    Quantity(
        "time",
        "a time",
        "second",
        (
            Unit("s", "second", 1.0, ("sec", "second", "seconds")),
            Unit("ms", "millisecond", 1e-3),
            Unit("µs", "microsecond", 1e-6, ("us",)),
            Unit("min", "minute", 60.0, ("minute", "minutes")),
            Unit("h", "hour", 3600.0, ("hr", "hrs", "hour", "hours")),
        ),
        (("h", 7200.0), ("min", 600.0), ("s", 0.1), ("ms", 1e-4), ("µs", 0.0)),
        high=1e10,
    ),
    Quantity(
        "frequency",
        "a frequency",
        "hertz",
        (
            Unit("Hz", "hertz", 1.0, ("1/s", "/s")),
            Unit("/min", "1/minute", 1 / 60, ("1/min", "per minute", "per min", "a minute")),
            Unit("kHz", "kilohertz", 1e3),
        ),
        (("Hz", 0.0),),
        high=1e9,
    ),
    Quantity(
        "pressure",
        "a pressure",
        "pascal",
        (
            Unit("bar", "bar", 1e5),
            Unit("psi", "psi", 6894.757293168361, ("lbf/in²", "lb/in²")),
            Unit("kPa", "kilopascal", 1e3),
            Unit("mbar", "millibar", 1e2),
            Unit("Pa", "pascal", 1.0),
            Unit("MPa", "megapascal", 1e6),
        ),
        (("bar", 0.0),),
        low=-1.02e5,
        high=1e9,
    ),
    Quantity(
        "resistance_per_length",
        "a resistance per length",
        "ohm/meter",
        (
            Unit("mΩ/m", "milliohm/meter", 1e-3, ("mohm/m", "Ω/km", "ohm/km")),
            Unit("Ω/m", "ohm/meter", 1.0, ("ohm/m",)),
            Unit("mΩ/ft", "milliohm/foot", 1e-3 / 0.3048, ("mohm/ft", "Ω/kft", "Ω/1000 ft")),
        ),
        (("mΩ/m", 0.0),),
        high=1e6,
    ),
    Quantity(
        "resistivity",
        "a resistivity",
        "ohm*millimeter**2/meter",
        (
            Unit("Ω·mm²/m", "ohm*millimeter**2/meter", 1.0, ("ohm mm2/m", "Ωmm²/m", "Ω mm²/m")),
            Unit("Ω·mm²/km", "ohm*millimeter**2/kilometer", 1e-3, ("Ωmm²/km", "Ω mm²/km")),
            Unit("Ω·m", "ohm*meter", 1e6, ("ohm m", "Ωm", "Ω m")),
        ),
        (("Ω·mm²/m", 0.0),),
        high=1e12,
    ),
    Quantity(
        "capacity",
        "a battery capacity",
        "ampere*hour",
        (Unit("Ah", "ampere*hour", 1.0, ("A·h",)), Unit("mAh", "milliampere*hour", 1e-3)),
        (("Ah", 0.0),),
        high=1e6,
    ),
    Quantity(
        "i2t",
        "a melting energy",
        "ampere**2*second",
        (Unit("A²s", "ampere**2*second", 1.0, ("A2s", "A^2s", "A²·s")),),
        (("A²s", 0.0),),
        high=1e12,
    ),
    Quantity(
        "inductance",
        "an inductance",
        "henry",
        (
            Unit("mH", "millihenry", 1e-3),
            Unit("H", "henry", 1.0),
            Unit("µH", "microhenry", 1e-6, ("uH",)),
        ),
        (("H", 1.0), ("mH", 1e-3), ("µH", 0.0)),
        high=1e6,
    ),
    Quantity(
        "capacitance",
        "a capacitance",
        "farad",
        (
            Unit("µF", "microfarad", 1e-6, ("uF",)),
            Unit("nF", "nanofarad", 1e-9),
            Unit("mF", "millifarad", 1e-3),
            Unit("F", "farad", 1.0),
        ),
        (("F", 1.0), ("µF", 1e-6), ("nF", 0.0)),
        high=1e6,
    ),
    Quantity(
        "share",
        "a share",
        "dimensionless",
        (Unit("%", "percent", 0.01, ("percent", "per cent")),),
        (("%", 0.0),),
        low=-1e3,
        high=1e3,
    ),
    Quantity(
        "count",
        "a number",
        "dimensionless",
        (Unit("", "dimensionless", 1.0, ("×", "x", "times")),),
        (("", 0.0),),
        low=-1e9,
        high=1e9,
    ),
)

QUANTITIES = {quantity.name: quantity for quantity in _ALL}
"""Every quantity by name. A wire's size is none of them: it is a designation, not a number."""


def quantity_named(name: str) -> Quantity:
    """Return the quantity of this name; raises `UnknownNameError` naming those there are."""
    try:
        return QUANTITIES[name]
    except KeyError:
        known = ", ".join(QUANTITIES)
        raise UnknownNameError(f"There is no quantity “{name}”: use {known} or size.") from None
