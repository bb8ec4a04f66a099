"""The columns of the parts: grounds, connectors and fuses are found by the filter."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from app.entry.errors import Refused
from app.entry.plan import Cursor
from app.entry.read import Refusal, read
from app.scene.painted import RUNNING_A, amperes
from app.schedule import offering as offer
from app.schedule.column import CIRCUIT, LIVE, Column, Tabled
from app.schedule.looking import Looking
from app.schedule.natural import Amount, amount
from app.schedule.part_values import (
    duty_brief,
    part_change,
    ratings_brief,
    ratings_stated,
    zone_name,
)
from model.changes import Change
from model.circuit import Circuit, Part
from model.lookup import body_of, kind_of, label
from model.units import show

NOTHING_V = 0.0005
"""Below this a voltage reads as none."""


@dataclass(frozen=True, slots=True)
class _Plain:
    """Reads a field of a part as it is."""

    key: str

    def __call__(self, look: Looking, part: Part) -> str:
        return str(getattr(part, self.key))


@dataclass(frozen=True, slots=True)
class _Types:
    """Changes one value of a part."""

    key: str

    def __call__(self, circuit: Circuit, part_id: str, text: str) -> Change | None:
        return part_change(circuit, part_id, self.key, text)


def _kind(look: Looking, part: Part) -> str:
    return kind_of(look.circuit, part).title


def _family(look: Looking, part: Part) -> str:
    return kind_of(look.circuit, part).family


def _ratings(look: Looking, part: Part) -> str:
    return ratings_brief(look.circuit, part)


def _stated(look: Looking, part: Part) -> str:
    return ratings_stated(look.circuit, part)


def _duty(look: Looking, part: Part) -> str:
    return duty_brief(look.circuit, part)


def _position(look: Looking, part: Part) -> str:
    return look.position(part)


def _zone(look: Looking, part: Part) -> str:
    return zone_name(look.circuit, part)


def _rest(look: Looking, part: Part) -> str:
    body = body_of(look.circuit, part)
    return body.rest if body.positions else ""


def _doing(look: Looking, part: Part) -> str:
    return look.doing(part)


def _across(look: Looking, part: Part) -> str:
    volt = look.across(part)
    if volt is None:
        return ""
    return "0 V" if volt < NOTHING_V else show(volt, "voltage")


def _across_order(look: Looking, part: Part) -> Amount:
    return amount(look.across(part))


def _through(look: Looking, part: Part) -> str:
    if look.across(part) is None:
        return ""
    current = look.through(part)
    return amperes(current) if current >= RUNNING_A else "–"


def _through_order(look: Looking, part: Part) -> Amount:
    return amount(None if look.across(part) is None else look.through(part))


def _joined(look: Looking, part: Part) -> str:
    every = len({t.node for t in body_of(look.circuit, part).terminals})
    return f"{look.joined.get(part.id, 0)} of {every}" if every else ""


def _seat(look: Looking, part: Part) -> str:
    host = look.circuit.parts.get(part.host)
    return f"{label(host)} · {part.slot}" if host else ""


def _sheets(look: Looking, part: Part) -> str:
    return look.sheets.get(part.id, "")


def _worst(look: Looking, part: Part) -> str:
    return look.worst.get(part.id, "")


COLUMNS = (
    Column("reference", "Reference", 84, _Plain("reference"), types=_Types("reference"),
           about="a reference such as K1"),
    Column("name", "Name", 130, _Plain("name"), types=_Types("name"), about="what it is called"),
    Column("kind", "Kind", 140, _kind, types=_Types("kind"), offers=offer.kind_offers,
           about="its plain name: relay, fuse 15 A", words=True),
    Column("ratings", "Ratings", 130, _ratings, types=_Types("ratings"), edits=_stated,
           offers=offer.rating_offers, about="ratings such as 8 A; nothing for the defaults",
           words=True),
    Column("position", "Position", 90, _position, LIVE, types=_Types("position"), operates=True,
           offers=offer.position_offers, about="the position it stands in; Space goes on"),
    Column("state", "Now", 110, _doing, LIVE, about="what it does now", words=True),
    Column("across", "Volts across", 96, _across, LIVE, _across_order, right=True),
    Column("through", "Amperes", 80, _through, LIVE, _through_order, right=True),
    Column("worst", "Finding", 240, _worst, LIVE, about="the worst finding", words=True),
    Column("duty", "Duty", 150, _duty, types=_Types("duty"),
           about="critical, stops in crash, off at rest …", words=True),
    Column("joined", "Joined", 76, _joined, CIRCUIT, about="terminals that have a wire",
           words=True),
    Column("note", "Note", 160, _Plain("note"), types=_Types("note"), about="a remark"),
    Column("location", "Location", 100, _Plain("location"), types=_Types("location"),
           about="where it is in the vehicle", shown=False),
    Column("zone", "Zone", 100, _zone, CIRCUIT, types=_Types("zone"),
           offers=offer.Named(offer.zones_of), about="a zone, or a new one: bay 85 °C",
           shown=False),
    Column("rest", "At rest", 80, _rest, types=_Types("rest"), offers=offer.position_offers,
           about="the position it rests in", shown=False),
    Column("seat", "Sits in", 100, _seat, CIRCUIT, about="the part it sits in", shown=False),
    Column("sheets", "Sheets", 100, _sheets, CIRCUIT, about="where it is drawn", shown=False),
    Column("family", "Family", 90, _family, about="the family of its kind", shown=False,
           words=True),
)  # fmt: skip


def add(circuit: Circuit, sheet_id: str, key: str, text: str) -> tuple[Change, str]:
    """Return the change that adds parts as typed, "pump fuse 15 A", and the first one's id.

    Raises
    ------
    Refused
        The text places no part.
    """
    made = read(circuit, text, Cursor(sheet_id))
    if isinstance(made, Refusal):
        raise Refused(made.sentence, fits=made.fits)
    new = [i for i in made.made if i not in circuit.parts and i not in circuit.wires]
    if not new or any(t == "wires" for t, _ in made.change.touched):
        raise Refused("Type a part here, such as relay or fuse 15 A; wires have their own table.")
    return made.change, new[0]


def _records(circuit: Circuit) -> Mapping[str, Part]:
    return circuit.parts


def _no_name(circuit: Circuit) -> str:
    return "New"


PARTS = Tabled(
    "parts", "Parts", "part", "parts", COLUMNS, _records, label, add, _no_name, "kind",
    only_start=True, hint="Type a part, such as relay",
)  # fmt: skip
