"""The columns of the wires."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial
from typing import Any

from app.scene.painted import RUNNING_A, amperes
from app.schedule import offering as offer
from app.schedule.column import CIRCUIT, LIVE, RECORD, Column, Offers, Tabled
from app.schedule.looking import Looking
from app.schedule.natural import Amount, amount
from app.schedule.wire_values import wire_change, wire_text
from model.changes import Change
from model.circuit import Circuit, Wire
from model.edits import add_wire
from model.lookup import fresh_id, next_wire_number, wire_label

END = "an end such as S1.2, a part alone, or open"
TERMINAL = "what is crimped on there"


@dataclass(frozen=True, slots=True)
class _Text:
    """Reads one value of a wire."""

    key: str

    def __call__(self, look: Looking, wire: Wire) -> str:
        return wire_text(look.circuit, wire, self.key)


@dataclass(frozen=True, slots=True)
class _Types:
    """Changes one value of a wire."""

    key: str

    def __call__(self, circuit: Circuit, wire_id: str, text: str) -> Change | None:
        return wire_change(circuit, wire_id, self.key, text)


def _typed(
    key: str,
    title: str,
    width: int,
    offers: Offers | None = None,
    about: str = "",
    *,
    scope: str = RECORD,
    **more: Any,
) -> Column:
    """Return a column of what a person states."""
    made = dict(offers=offers, about=about, types=_Types(key), scope=scope, **more)
    return Column(key, title, width, _Text(key), **made)


def _size(look: Looking, wire: Wire) -> Amount:
    return amount(wire.size.area_mm2 if wire.size else None)


def _length(look: Looking, wire: Wire) -> Amount:
    return amount(wire.length_m)


def _role(look: Looking, wire: Wire) -> str:
    return look.roles.get(wire.id, "")


def _state(look: Looking, wire: Wire) -> str:
    return look.side(wire)


def _fuse(look: Looking, wire: Wire) -> str:
    return look.fuses.get(wire.id, "")


def _worst(look: Looking, wire: Wire) -> str:
    return look.worst.get(wire.id, "")


def _current(look: Looking, wire: Wire) -> str:
    """Return the amperes with an arrow along the row: → from From to To."""
    current = look.current_a(wire)
    if current is None:
        return ""
    if abs(current) < RUNNING_A:
        return "–"
    return f"{amperes(current)} {'→' if current > 0 else '←'}"


def _current_spoken(look: Looking, wire: Wire) -> str:
    current = look.current_a(wire)
    if current is None or abs(current) < RUNNING_A:
        return "" if current is None else "no current"
    return f"{amperes(current)} towards {'To' if current > 0 else 'From'}"


def _amount(look: Looking, wire: Wire) -> Amount:
    current = look.current_a(wire)
    return amount(None if current is None else abs(current))


@dataclass(frozen=True, slots=True)
class _Volt:
    """Reads the volts at one end; as an amount they order."""

    second: bool

    def value(self, look: Looking, wire: Wire) -> float | None:
        return look.volt(wire, wire.second if self.second else wire.first)

    def order(self, look: Looking, wire: Wire) -> Amount:
        return amount(self.value(look, wire))

    def __call__(self, look: Looking, wire: Wire) -> str:
        volt = self.value(look, wire)
        if volt is None:
            end = wire.second if self.second else wire.first
            return "floating" if end and look.state_of(wire.id) else ""
        return f"{volt:.2f} V".replace("-0.00", "0.00")


_A, _B = _Volt(False), _Volt(True)
_SHARED = partial(_typed, shown=False)
COLUMNS = (
    _typed("number", "Number", 64, about="a number such as W12"),
    _typed("first", "From", 78, offer.end_offers, END, scope=CIRCUIT),
    _typed("second", "To", 78, offer.end_offers, END, scope=CIRCUIT),
    _typed("size", "Size", 76, offer.size_offers, "0.75 mm² or 18 AWG", right=True, orders=_size),
    _SHARED("insulation", "Insulation", 100, offer.insulation_offers, "the kind of insulation"),
    _typed("length_m", "Length", 66, offer.length_offers, "1.5 m, 1,5 m or 40 cm", right=True,
           orders=_length),
    _typed("colour", "Colour", 70, offer.colour_offers, "RD, red, or RD/BU with its tracer",
           swatch=True),
    _typed("tracer", "Tracer", 64, offer.colour_offers, "a colour such as BU", swatch=True),
    _SHARED("found_colour", "As found", 84, offer.colour_offers,
            "the colour as it is seen, where it differs", swatch=True),
    _typed("circuit", "Circuit", 74, offer.Before("circuit"), "what it belongs to"),
    Column("role", "For", 112, _role, CIRCUIT, about="what it is for", words=True),
    Column("state", "Now", 100, _state, LIVE, about="what it is joined to now",
           words=True),
    Column("current", "Amperes", 84, _current, LIVE, _amount, spoken=_current_spoken, right=True),
    Column("volt_a", "V at From", 80, _A, LIVE, _A.order, right=True),
    Column("volt_b", "V at To", 80, _B, LIVE, _B.order, right=True),
    Column("fuse", "Fuse", 90, _fuse, LIVE, about="the fuse that protects it", words=True),
    Column("worst", "Finding", 240, _worst, LIVE, about="the worst finding", words=True),
    _typed("confidence", "Confidence", 96, offer.confidence_offers, "seen, measured or assumed",
           words=True),
    _typed("note", "Note", 160, about="a remark"),
    _SHARED("cable", "Cable", 80, offer.Named(offer.cables_of), "the cable it is a core of",
            scope=CIRCUIT),
    _SHARED("branches", "Bundles", 90, offer.Named(offer.branches_of),
            "the branches of the harness it lies in: B1-B3-B7", scope=CIRCUIT),
    _SHARED("zone", "Zone", 100, offer.Named(offer.zones_of), "a zone, or a new one: bay 85 °C",
            scope=CIRCUIT),
    _SHARED("first_terminal", "Terminal at From", 120, offer.Before("first_terminal"), TERMINAL),
    _SHARED("first_seal", "Seal at From", 110, offer.Before("first_seal"), "the seal there"),
    _SHARED("first_strip_m", "Stripped at From", 120, None, "5 mm", right=True),
    _SHARED("second_terminal", "Terminal at To", 120, offer.Before("second_terminal"), TERMINAL),
    _SHARED("second_seal", "Seal at To", 110, offer.Before("second_seal"), "the seal there"),
    _SHARED("second_strip_m", "Stripped at To", 120, None, "5 mm", right=True),
)  # fmt: skip


def add(circuit: Circuit, sheet_id: str, key: str, text: str) -> tuple[Change, str]:
    """Return the change that adds a wire of which one value was typed, and its id.

    Raises
    ------
    Refused, ModelError
        The text is no such value.
    """
    wire = Wire(fresh_id(circuit.wires, "w", circuit.parts), next_wire_number(circuit))
    made = add_wire(circuit, wire)
    typed = wire_change(made.apply(circuit), wire.id, key, text)
    return (made.then(typed) if typed else made), wire.id


def _records(circuit: Circuit) -> Mapping[str, Wire]:
    return circuit.wires


WIRES = Tabled(
    "wires", "Wires", "wire", "wires", COLUMNS, _records, wire_label, add, next_wire_number,
    "first", hint="Type an end, such as S1.2",
)  # fmt: skip
