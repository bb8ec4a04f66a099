"""Rating specifications that several kinds share."""

from __future__ import annotations

from model.kinds import sources as src
from model.kinds.kind import RatingSpec

SUPPRESSIONS = ("none", "resistor", "diode", "zener")
LAWS = ("resistor", "motor", "filament", "constant power", "led")


def is_part_of_one(key: str) -> bool:
    """Tell whether a rating is a share that cannot be below 0 or above 1."""
    return key == "charge" or key.endswith("use_share")


def contact_specs(
    contact_a: float, at_24: float, constant: str, ohm: float
) -> tuple[RatingSpec, ...]:
    """Return the ratings of a set of contacts; `contact_a` is the make contact, resistive.

    Ratings stated at 12 V (`contact_v`) are halved in a 24 V circuit where contacts are judged.
    """
    where = src.CONTACT_3_MILLIOHM if constant == "relay_contact_ohm" else src.MEMORY
    return (
        RatingSpec(
            "contact_a",
            "contact, resistive load",
            "current",
            contact_a,
            src.COMMON,
            at_24,
            follows="contact_v",
        ),
        RatingSpec("motor_a", "contact, motor load", "current", None, src.LOAD_CLASS),
        RatingSpec("lamp_a", "contact, lamp load", "current", None, src.LOAD_CLASS),
        RatingSpec("inrush_a", "contact, start that it makes", "current", None, src.CONTACT_START),
        RatingSpec("contact_v", "contact ratings stated at", "voltage", 12.0, src.COMMON, 24.0),
        RatingSpec(
            "contact_ohm", "contact resistance", "resistance", ohm, where, constant=constant
        ),
    )


def switch_specs(contact_a: float = 10.0) -> tuple[RatingSpec, ...]:
    """Return the ratings of a hand-operated or sensing switch."""
    return contact_specs(contact_a, contact_a / 2, "switch_contact_ohm", 0.005)


def coil_specs(suppression: str = "none") -> tuple[RatingSpec, ...]:
    """Return the ratings of a relay coil; pull-in and drop-out are typical and guaranteed."""
    return (
        RatingSpec("coil_v", "coil, nominal", "voltage", 12.0, src.CUBE_RELAY, 24.0),
        RatingSpec(
            "coil_ohm",
            "coil resistance at 20 °C",
            "resistance",
            90.0,
            src.CUBE_RELAY,
            350.0,
            follows="coil_v",
        ),
        RatingSpec(
            "pull_in_share",
            "pulls in at, typical",
            "share",
            0.60,
            src.COMMON,
            constant="pull_in_share",
        ),
        RatingSpec(
            "drop_out_share",
            "lets go at, typical",
            "share",
            0.25,
            src.COMMON,
            constant="drop_out_share",
        ),
        RatingSpec("must_pull_in_share", "must pull in at", "share", 0.70, src.RELAY_GUARANTEED),
        RatingSpec("must_drop_out_share", "must let go at", "share", 0.10, src.RELAY_GUARANTEED),
        RatingSpec("coil_use_share", "coil switched on", "share", 1.0, src.ALL_THE_TIME),
        RatingSpec("operate_s", "operate time", "time", 0.010, src.RELAY_TIMES),
        RatingSpec(
            "release_s", "release time", "time", None, src.RELEASE_TIMES, table="suppression"
        ),
        RatingSpec(
            "suppression",
            "coil suppression",
            "choice",
            suppression,
            src.COMMON,
            choices=SUPPRESSIONS,
        ),
        RatingSpec(
            "suppression_ohm",
            "suppression resistor",
            "resistance",
            680.0,
            src.CUBE_RELAY,
            2700.0,
            follows="coil_v",
        ),
        *diode_specs("suppression_"),
    )


def diode_specs(prefix: str = "") -> tuple[RatingSpec, ...]:
    """Return forward voltage and resistance of a diode."""
    return (
        RatingSpec(
            f"{prefix}forward_v",
            "diode, forward voltage",
            "voltage",
            0.7,
            src.DIODE,
            constant="diode_v",
        ),
        RatingSpec(
            f"{prefix}forward_ohm",
            "diode, forward resistance",
            "resistance",
            0.030,
            src.DIODE,
            constant="diode_ohm",
        ),
    )


def load_specs(
    current_a: float,
    law: str,
    start: float,
    start_s: float,
    source: str,
    *,
    volts: float = 12.0,
    prefix: str = "",
) -> tuple[RatingSpec, ...]:
    """Return the ratings of a load: `current_a` at `volts` (half of it at twice in 24 V)."""
    p, title = prefix, f"{prefix.rstrip('_')}, " if prefix else ""
    return (
        RatingSpec(
            f"{p}current_a",
            f"{title}running current",
            "current",
            current_a,
            source,
            current_a / 2,
            follows=f"{p}at_v",
        ),
        RatingSpec(f"{p}at_v", f"{title}stated at", "voltage", volts, source, 2 * volts),
        RatingSpec(
            f"{p}resistance_ohm",
            f"{title}fixed resistance instead",
            "resistance",
            None,
            "none stated: running current and voltage hold",
        ),
        RatingSpec(f"{p}law", f"{title}law", "choice", law, src.COMMON, choices=LAWS),
        RatingSpec(
            f"{p}start_multiple", f"{title}start, times running", "count", start, src.TYPICAL_LOADS
        ),
        RatingSpec(f"{p}start_s", f"{title}start lasts", "time", start_s, src.COMMON),
        RatingSpec(
            f"{p}working_v",
            f"{title}works from",
            "voltage",
            9.0,
            src.WORKING_V,
            18.0,
            follows=f"{p}at_v",
        ),
        RatingSpec(f"{p}use_share", f"{title}in use", "share", 1.0, src.ALL_THE_TIME),
    )
