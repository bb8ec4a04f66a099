"""Ohms of everything that conducts: wires, contacts, fuses, coils, loads, batteries."""

from __future__ import annotations

from itertools import pairwise

from model.circuit import Circuit, Part, Wire
from model.lookup import number, rating, word
from model.tables.copper import conductor_ohm_per_m
from model.wiresize import Size

ASSUMED_LENGTH_M = 1.0
ASSUMED_SIZE = Size(mm2=1.0)
WIRE_ENDS_OHM = 0.002
COPPER_ZERO_C = -234.5
"""The temperature at which copper's resistance, drawn on as a line, would be zero."""
BLADE_DROP_V = (
    (1.0, 0.176), (2.0, 0.141), (3.0, 0.135), (4.0, 0.136), (5.0, 0.129), (7.5, 0.119),
    (10.0, 0.109), (15.0, 0.104), (20.0, 0.098), (25.0, 0.091), (30.0, 0.086), (40.0, 0.081),
)  # fmt: skip
"""Drop of 32 V blade fuses at rated current, one maker's sheets (partly derived)."""


def hot_factor(temperature_c: float) -> float:
    """Return a copper coil's resistance at a temperature over that at 20 °C (IEC 60228 form)."""
    return (temperature_c - COPPER_ZERO_C) / (20.0 - COPPER_ZERO_C)


def wire_ohm(circuit: Circuit, wire: Wire) -> float:
    """Return the resistance of a wire with its two ends; missing values are assumed."""
    constants = circuit.settings.constants
    ends = constants.wire_ends_ohm
    if wire.ends_ohm is not None:
        ends = wire.ends_ohm
    length = ASSUMED_LENGTH_M if wire.length_m is None else wire.length_m
    return copper_ohm_per_m(circuit, wire.size or ASSUMED_SIZE) * length + (
        WIRE_ENDS_OHM if ends is None else ends
    )


def copper_ohm_per_m(circuit: Circuit, size: Size) -> float:
    """Return the resistance of a metre of wire by the circuit's constant or its chosen table."""
    settings = circuit.settings
    if settings.constants.copper_ohm_mm2_m is not None:
        return settings.constants.copper_ohm_mm2_m / size.area_mm2
    temperature = settings.conditions.temperature_c
    return conductor_ohm_per_m(size, settings.chosen.copper, temperature).ohm_per_m


def fuse_ohm(circuit: Circuit, part: Part) -> float:
    """Return the resistance of a fuse: stated, by the circuit's constant, or typical."""
    stated = part.ratings.get("fuse_ohm")
    if isinstance(stated, float | int):
        return float(stated)
    amps = max(number(circuit, part, "rating_a", 15.0), 0.1)
    constant = circuit.settings.constants.fuse_ohm_a
    return constant / amps if constant is not None else blade_drop_v(amps) / amps


def blade_drop_v(amps: float) -> float:
    """Return the typical drop of a fuse at its rating, between the rows of the table."""
    rows = BLADE_DROP_V
    if amps <= rows[0][0]:
        return rows[0][1]
    for (low, at_low), (high, at_high) in pairwise(rows):
        if amps <= high:
            return at_low + (at_high - at_low) * (amps - low) / (high - low)
    return rows[-1][1]


def coil_ohm(circuit: Circuit, part: Part, key: str) -> float:
    """Return a coil's resistance at the temperature of the circuit's conditions."""
    return number(circuit, part, key, 90.0) * hot_factor(circuit.settings.conditions.temperature_c)


def battery_inner_ohm(circuit: Circuit, part: Part) -> float:
    """Return a battery's inner resistance: stated, or warm, from its cranking rating."""
    stated = rating(circuit, part, "inner_ohm").number
    if stated is not None:
        return float(stated)
    cold_a = max(number(circuit, part, "cca_a", 600.0), 1.0)
    cells = circuit.settings.nominal_v / 12.0
    return cells * (12.6 - 7.2) / cold_a / 2.0


def battery_emf(circuit: Circuit, part: Part, supply: str) -> float:
    """Return a battery's voltage without load while resting, charging or cranking."""
    if supply == "charging":
        return number(circuit, part, "charging_v", 14.2)
    if supply == "cranking":
        return number(circuit, part, "cranking_v", 9.5)
    missing = 1.0 - min(max(number(circuit, part, "charge", 1.0), 0.0), 1.0)
    fall = FULL_TO_FLAT_V * circuit.settings.nominal_v / 12.0
    return number(circuit, part, "voltage_v", 12.6) - missing * fall


FULL_TO_FLAT_V = 12.65 - 11.89
"""Fall of the rest voltage from full to flat, lead-acid at 26.7 °C (a battery maker's table)."""


def load_amps_volts(circuit: Circuit, part: Part, prefix: str) -> tuple[float, float]:
    """Return the running current of a load and the voltage it is stated at."""
    volts = number(circuit, part, f"{prefix}at_v", circuit.settings.nominal_v)
    fixed = rating(circuit, part, f"{prefix}resistance_ohm").number
    if fixed is not None and fixed > 0:
        return volts / float(fixed), volts
    return number(circuit, part, f"{prefix}current_a", 1.0), volts


def load_law(circuit: Circuit, part: Part, prefix: str) -> str:
    """Return the law of a load; a stated resistance makes it a resistor."""
    fixed = rating(circuit, part, f"{prefix}resistance_ohm").number
    return "resistor" if fixed is not None else word(circuit, part, f"{prefix}law") or "resistor"
