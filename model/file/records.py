"""Parts, wires, sheets and the harness as fields of the file."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from model.circuit import (
    Acceptance,
    Branch,
    Cable,
    End,
    Fit,
    Part,
    Place,
    PromiseText,
    Route,
    Sheet,
    Wire,
)
from model.errors import QuantityError
from model.file.codecs import (
    COORDINATE,
    FLAG,
    ID,
    KEY,
    NAME,
    NOTE,
    Codec,
    choice,
    listed,
    mapped,
    number,
    pair,
    whole,
)
from model.file.fields import Spec, field, keyed, made_by
from model.file.reader import Reader, clean
from model.kinds.body import Position
from model.kinds.kind import Duty
from model.wiresize import Size, parse_size

MAX_WAYS = 1000
LENGTH = number(0, 100_000, "metres")
TEMPERATURE = number(-273.15, 2000, "degrees Celsius")
OHM = number(0, 1e12, "ohms")
NAMES = listed(NAME)


def _read_rating(reader: Reader, raw: Any) -> float | str:
    """Read a rating as number or text; whether it fits the kind is asked once that is known."""
    if isinstance(raw, str):
        return str(NAME.read(reader, raw))
    return float(_ANY_NUMBER.read(reader, raw))


def _read_ratings(reader: Reader, raw: Any) -> Mapping[str, Any]:
    return dict(_RATING_PAIRS.read(reader, raw))


def _write_ratings(ratings: Mapping[str, Any]) -> dict[str, Any]:
    return {k: RATING.write(v) for k, v in ratings.items() if v is not None}


_ANY_NUMBER = number(-1e12, 1e12)
RATING = Codec(
    _read_rating, lambda v: NAME.write(v) if isinstance(v, str) else _ANY_NUMBER.write(v)
)
_RATING_PAIRS = mapped(NAME, RATING)
RATINGS = Codec(_read_ratings, _write_ratings)
DUTY = Spec(
    made_by(Duty),
    Duty(),
    field("off_at_rest", FLAG),
    field("critical", FLAG),
    field("stops_in_crash", FLAG),
    field("runs_engine_stopped", FLAG),
    field("keeps_engine", FLAG),
).codec()

_PAIRS = listed(pair(KEY, KEY))
_POSITION = Spec(
    made_by(dict),
    Position(""),
    field("closed", _PAIRS),
    field("springs_to", NAME),
    field("latches", FLAG),
)


def _read_position(reader: Reader, raw: Any) -> dict[str, Any]:
    """Read a position: its closed pairs alone, or an object with them and how it lets go."""
    if isinstance(raw, list):
        return {"closed": _PAIRS.read(reader, raw)}
    return dict(_POSITION.read(reader, raw))


def _write_position(position: Position) -> Any:
    made = _POSITION.write(position)
    return made.get("closed", []) if made.keys() <= {"closed"} else made


_NAMED_POSITIONS = mapped(NAME, Codec(_read_position, _write_position))
POSITIONS = Codec(
    lambda reader, raw: tuple(
        Position(name, **values) for name, values in _NAMED_POSITIONS.read(reader, raw)
    ),
    lambda table: _NAMED_POSITIONS.write([(p.name, p) for p in table]),
)

PART = Spec(
    made_by(Part),
    Part("", ""),
    field("id", ID),
    field("kind", KEY),
    field("ref", NAME, "reference"),
    field("name", NAME),
    field("ratings", RATINGS),
    field("duty", DUTY),
    field("terminals", listed(KEY, MAX_WAYS)),
    field("table", POSITIONS),
    field("rest", NAME),
    field("ways", whole(0, MAX_WAYS)),
    field("markings", mapped(KEY, NAME)),
    field("host", ID),
    field("slot", NAME),
    field("faces", listed(pair(NAME, NAME), 2)),
    field("location", NAME),
    field("branch", NAME),
    field("note", NOTE),
    required=("id", "kind"),
    keeps=True,
)


def _read_end(reader: Reader, raw: Any) -> End:
    """Read ID.TERMINAL or ID.TERMINAL/FACE."""
    part, _dot, terminal = NAME.read(reader, raw).partition(".")
    key, _, face = terminal.partition("/")
    if not part or not key:
        raise reader.wrong_value(raw, "write ID.TERMINAL such as p1.86, or leave an open end out")
    return End(part, key, face)


def _write_end(end: End) -> str:
    return clean(f"{end.part}.{end.terminal}" + (f"/{end.face}" if end.face else ""))


def _read_gauge(reader: Reader, raw: Any) -> int:
    """Read a gauge: 18, or "2/0" in double quotes."""
    if isinstance(raw, str | int) and not isinstance(raw, bool):
        try:
            return parse_size(f"{str(raw)[:20]} AWG").awg or 0
        except QuantityError:
            pass
    raise reader.wrong_value(raw, 'write a gauge from "4/0" to 40, such as 18 or "2/0"')


def _write_gauge(awg: int) -> int | str:
    return awg if awg > 0 else f"{1 - awg}/0"


def _wire(reader: Reader, values: dict[str, Any]) -> Wire:
    """Build a wire: its size stands under one of two keys."""
    mm2, awg = values.pop("mm2", None), values.pop("awg", None)
    if mm2 is not None and awg is not None:
        raise reader.wrong("the wire has both “mm2” and “awg”", "remove one of the two")
    if mm2 is not None or awg is not None:
        values["size"] = Size(mm2, awg)
    return Wire(**values)


END = Codec(_read_end, _write_end)
FIT = Spec(
    made_by(Fit),
    Fit(),
    field("terminal", NAME),
    field("seal", NAME),
    field("strip_m", number(0, 1, "metres")),
    field("number", NAME),
).codec()
WIRE = Spec(
    _wire,
    Wire(""),
    field("id", ID),
    field("no", NAME, "number"),
    field("from", END, "first"),
    field("to", END, "second"),
    field(
        "mm2",
        number(0.001, 1000, "square millimetres"),
        get=lambda w: w.size.mm2 if w.size else None,
    ),
    field("awg", Codec(_read_gauge, _write_gauge), get=lambda w: w.size.awg if w.size else None),
    field("m", LENGTH, "length_m"),
    field("colour", NAME),
    field("tracer", NAME),
    field("found_colour", NAME),
    field("insulation", NAME),
    field("circuit", NAME),
    field("confidence", choice("", "seen", "measured", "assumed")),
    field("cable", NAME),
    field("branches", NAMES),
    field("from_fit", FIT, "first_fit"),
    field("to_fit", FIT, "second_fit"),
    field("ends_ohm", OHM),
    field("note", NOTE),
    required=("id",),
    keeps=True,
)

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
