"""Wires as fields of the file: ends, size and what is crimped on."""

from __future__ import annotations

from typing import Any

from model.circuit import End, Fit, Wire
from model.errors import QuantityError
from model.file.codecs import ID, LENGTH, NAME, NAMES, NOTE, Codec, choice, number
from model.file.fields import Spec, field, made_by
from model.file.reader import Reader, clean
from model.wiresize import Size, parse_size


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
    field("ends_ohm", number(0, 1e12, "ohms")),
    field("note", NOTE),
    field("zone", NAME),
    required=("id",),
    keeps=True,
)
