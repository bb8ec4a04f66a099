"""Sheets, the harness, acceptances and promises as fields of the file."""

from __future__ import annotations

from model.circuit import Acceptance, Branch, Cable, Place, PromiseText, Route, Sheet, Zone
from model.file.codecs import (
    COORDINATE,
    FLAG,
    ID,
    LENGTH,
    NAME,
    NAMES,
    NOTE,
    TEMPERATURE,
    choice,
    listed,
    pair,
)
from model.file.fields import Spec, field, keyed, made_by

PLACE = Spec(
    made_by(Place),
    Place("", "", x=float("nan"), y=float("nan")),
    field("id", ID),
    field("part", ID),
    field("x", COORDINATE),
    field("y", COORDINATE),
    field("turn", choice(0, 90, 180, 270)),
    field("mirrored", FLAG),
    field("shows", NAMES),
    field("pinned", FLAG),
    required=("id", "part"),
)
ROUTE = Spec(
    made_by(Route),
    Route(""),
    field("wire", ID),
    field("bends", listed(pair(COORDINATE, COORDINATE))),
    required=("wire",),
)
SHEET = Spec(
    made_by(Sheet),
    Sheet(""),
    field("id", ID),
    field("name", NAME),
    field("places", keyed(PLACE, "id")),
    field("routes", keyed(ROUTE, "wire")),
    required=("id",),
    keeps=True,
)
BRANCH = Spec(
    made_by(Branch),
    Branch(""),
    field("id", ID),
    field("name", NAME),
    field("start", NAME),
    field("end", NAME),
    field("m", LENGTH, "length_m"),
    field("zone_c", TEMPERATURE),
    field("wet", FLAG),
    field("shaking", FLAG),
    field("cover", NAME),
    field("note", NOTE),
    field("zone", NAME),
    required=("id",),
    keeps=True,
)
ZONE = Spec(
    made_by(Zone),
    Zone(""),
    field("id", ID),
    field("name", NAME),
    field("c", TEMPERATURE, "temperature_c"),
    field("note", NOTE),
    required=("id",),
    keeps=True,
)
CABLE = Spec(
    made_by(Cable),
    Cable(""),
    field("id", ID),
    field("name", NAME),
    field("sheath", NAME),
    field("screened", FLAG),
    field("note", NOTE),
    required=("id",),
    keeps=True,
)
ACCEPTED = Spec(
    lambda _, values: Acceptance(**({"rule": ""} | values)),
    Acceptance("", ""),
    field("id", ID),
    field("rule", NAME),
    field("parts", NAMES),
    field("wires", NAMES),
    field("reason", NOTE),
    field("by", NAME),
    field("date", NAME),
    required=("id",),
    keeps=True,
)
PROMISE = Spec(
    made_by(PromiseText),
    PromiseText(""),
    field("id", ID),
    field("text", NOTE),
    field("faults", FLAG),
    required=("id",),
    keeps=True,
)
