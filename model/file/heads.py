"""What holds for the circuit as a whole: the fields that stand on top of a file."""

from __future__ import annotations

from dataclasses import fields as dataclass_fields

from model.circuit import Chosen, Conditions, Constants, Settings
from model.file.codecs import FLAG, NAME, NOTE, TEMPERATURE, choice, number
from model.file.fields import Spec, field, made_by

CONDITIONS = Spec(
    made_by(Conditions),
    Conditions(),
    field("supply", choice("resting", "charging", "cranking")),
    field("engine", choice("stopped", "cranking", "running")),
    field("engine_follows", FLAG),
    field("temperature_c", TEMPERATURE),
    field("zone_c", TEMPERATURE),
).codec()
_POSITIVE = number(0, 1e9)
CONSTANTS = Spec(
    made_by(Constants),
    Constants(),
    *(field(f.name, _POSITIVE) for f in dataclass_fields(Constants)),
).codec()
CHOSEN = Spec(
    made_by(Chosen),
    Chosen(),
    field("copper", NAME),
    field("ampacity", NAME),
    field("bundle", NAME),
).codec()
HEAD = Spec(
    made_by(Settings),
    Settings(),
    field("title", NAME),
    field("vehicle", NAME),
    field("author", NAME),
    field("revision", NAME),
    field("date", NAME),
    field("note", NOTE),
    field("nominal_v", number(1, 1000, "volts")),
    field("reference_battery", NAME),
    field("conditions", CONDITIONS),
    field("constants", CONSTANTS),
    field("tables", CHOSEN, "chosen"),
    keeps=True,
)
