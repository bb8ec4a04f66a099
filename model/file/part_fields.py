"""Parts as fields of the file: ratings, duty, a control's own positions."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from model.circuit import Part
from model.file.codecs import (
    FLAG,
    ID,
    KEY,
    NAME,
    NOTE,
    Codec,
    listed,
    mapped,
    number,
    pair,
    whole,
)
from model.file.fields import Spec, field, made_by
from model.file.reader import Reader
from model.kinds.body import Position
from model.kinds.kind import Duty

MAX_WAYS = 1000


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
    field("zone", NAME),
    field("type", NAME),
    required=("id", "kind"),
    keeps=True,
)
