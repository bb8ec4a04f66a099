"""Ohms of everything that conducts: wires, contacts, fuses, coils, loads, batteries."""

from __future__ import annotations

from model.circuit import Circuit, Part, Wire
from model.lookup import number, rating, word
from model.own_tables import own_copper
from model.tables.copper import conductor_ohm_per_m
from model.tables.fuses import fuse_styles, warm_ohm
from model.tables.relays import coil_factor
from model.tables.supplies import inner_ohm, rest_voltage_v
from model.wiresize import Size
from model.zones import copper_c, wire_copper_c

ASSUMED_LENGTH_M = 1.0
ASSUMED_SIZE = Size(mm2=1.0)
WIRE_ENDS_OHM = 0.002


def wire_ohm(circuit: Circuit, wire: Wire) -> float:
    """Return the resistance of a wire with its two ends; missing values are assumed."""
    constants = circuit.settings.constants
    ends = constants.wire_ends_ohm
    if wire.ends_ohm is not None:
        ends = wire.ends_ohm
    length = ASSUMED_LENGTH_M if wire.length_m is None else wire.length_m
    celsius = wire_copper_c(circuit, wire)
    return copper_ohm_per_m(circuit, wire.size or ASSUMED_SIZE, celsius) * length + (
        WIRE_ENDS_OHM if ends is None else ends
    )


def copper_ohm_per_m(circuit: Circuit, size: Size, temperature_c: float) -> float:
    """Return the resistance of a metre of wire by the circuit's constant or its chosen table."""
    settings = circuit.settings
    if settings.constants.copper_ohm_mm2_m is not None:
        return settings.constants.copper_ohm_mm2_m / size.area_mm2
    own = own_copper(circuit)
    return conductor_ohm_per_m(size, settings.chosen.copper, temperature_c, own).ohm_per_m


def fuse_ohm(circuit: Circuit, part: Part) -> float:
    """Return the resistance of a fuse: stated, by the circuit's constant, or typical."""
    stated = part.ratings.get("fuse_ohm")
    if isinstance(stated, float | int):
        return float(stated)
    amps = max(number(circuit, part, "rating_a", 15.0), 0.1)
    constant = circuit.settings.constants.fuse_ohm_a
    return constant / amps if constant is not None else warm_ohm(_style(circuit, part), amps).ohm


def _style(circuit: Circuit, part: Part) -> str:
    """Return the form of a fuse that the table of elements knows; a blade fuse else."""
    band = word(circuit, part, "band")
    return band if band in fuse_styles() else "blade"


def coil_ohm(circuit: Circuit, part: Part, key: str) -> float:
    """Return a coil's resistance as warm as its zone, or as the circuit's conditions say."""
    return number(circuit, part, key, 90.0) * coil_factor(copper_c(circuit, part))


def battery_inner_ohm(circuit: Circuit, part: Part) -> float:
    """Return a battery's inner resistance: stated, or warm, from its cranking rating."""
    stated = rating(circuit, part, "inner_ohm").number
    if stated is not None:
        return float(stated)
    cold_a = max(number(circuit, part, "cca_a", 600.0), 1.0)
    return inner_ohm(cold_a, battery_class_v(circuit, part))


def battery_class_v(circuit: Circuit, part: Part) -> float:
    """Return what a battery is called by its rest voltage: 6, 12, 24 V … (6.3 V a block)."""
    rest_v = number(circuit, part, "voltage_v", circuit.settings.nominal_v)
    return 6.0 * max(round(rest_v / 6.3), 1)


def battery_emf(circuit: Circuit, part: Part, supply: str) -> float:
    """Return a battery's voltage without load while resting, charging or cranking."""
    if supply == "charging":
        return number(circuit, part, "charging_v", 14.2)
    if supply == "cranking":
        return number(circuit, part, "cranking_v", 9.5)
    charge = min(max(number(circuit, part, "charge", 1.0), 0.0), 1.0)
    nominal_v = battery_class_v(circuit, part)
    fall = rest_voltage_v(1.0, nominal_v) - rest_voltage_v(charge, nominal_v)
    return number(circuit, part, "voltage_v", 12.6) - fall


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
