"""Supplies: battery and alternator."""

from __future__ import annotations

from model.kinds import sources as src
from model.kinds.body import Body, Resistance, SourcePath, Terminal
from model.kinds.kind import Kind, RatingSpec

BATTERY = Kind(
    "battery",
    "Battery",
    "supply",
    "G",
    Body(
        (Terminal("+", "ring", "right"), Terminal("-", "ring", "bottom")),
        (SourcePath(name="cells", a="+", b="-", source="battery"),),
    ),
    (
        RatingSpec("voltage_v", "rest voltage", "voltage", 12.6, src.REST_VOLTAGE, 25.2),
        RatingSpec("inner_ohm", "inner resistance", "resistance", None, src.CCA_RULE),
        RatingSpec("cca_a", "cold cranking amperes", "current", 600.0, src.COMMON),
        RatingSpec("capacity_ah", "capacity", "capacity", 60.0, src.COMMON),
        RatingSpec("charge", "state of charge", "share", 1.0, src.COMMON),
        RatingSpec(
            "charging_v",
            "voltage while charged",
            "voltage",
            14.2,
            src.CHARGING,
            28.4,
            follows="voltage_v",
        ),
        RatingSpec(
            "cranking_v",
            "voltage while cranking",
            "voltage",
            9.5,
            src.CRANK_PLATEAU,
            20.0,
            follows="voltage_v",
        ),
    ),
    aliases=("battery", "accumulator"),
    about="Lead-acid battery. Its inner resistance follows from the cranking rating unless stated.",
)

ALTERNATOR = Kind(
    "alternator",
    "Alternator",
    "supply",
    "G",
    Body(
        (
            Terminal("B+", "ring", "right", meaning="output"),
            Terminal("D+", "blade", "right", meaning="charge lamp"),
            Terminal("case", "ring", "bottom", meaning="its frame, usually bolted to the engine"),
        ),
        (
            SourcePath(name="output", a="B+", b="case", source="alternator"),
            SourcePath(
                name="charge output", a="D+", b="case", source="alternator", prefix="charge_"
            ),
            Resistance(name="field", a="D+", b="case", ohm="field_ohm"),
        ),
    ),
    (
        RatingSpec("voltage_v", "regulated voltage", "voltage", 14.2, src.CHARGING, 28.4),
        RatingSpec("inner_ohm", "inner resistance", "resistance", 0.005, src.MEMORY),
        RatingSpec("limit_a", "greatest current", "current", 100.0, src.COMMON),
        RatingSpec("charge_inner_ohm", "inner resistance at D+", "resistance", 0.1, src.MEMORY),
        RatingSpec("charge_limit_a", "greatest current at D+", "current", 5.0, src.MEMORY),
        RatingSpec("field_ohm", "field winding seen at D+", "resistance", 12.0, src.MEMORY),
    ),
    aliases=("alternator", "generator", "dynamo"),
    about="A source while the engine turns; it passes no current backwards. D+ then carries the "
    "same voltage, so that a charge lamp between 15 and D+ goes out.",
)

KINDS = (BATTERY, ALTERNATOR)
__all__ = ["ALTERNATOR", "BATTERY", "KINDS"]
