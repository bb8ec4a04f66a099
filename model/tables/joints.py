"""What terminals, contacts and studs carry and drop."""

from __future__ import annotations

from dataclasses import dataclass

from model.tables.store import SizeRow, Table, find, read
from model.wiresize import Size

SAME_AREA = 1e-9
NARROWER = {"push-on-9.5": ("push-on-6.3",)}


@dataclass(frozen=True, slots=True, kw_only=True)
class CurrentRow(SizeRow):
    """The current of a terminal on a wire of this size."""

    a: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TerminalTable(Table):
    """A form of terminal, whose current the wire in its crimp decides."""

    rows: tuple[CurrentRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ContactRating(Table):
    """A connector contact and its continuous current."""

    a: float


@dataclass(frozen=True, slots=True, kw_only=True)
class JointResistance(Table):
    """The range in which the resistance of a joint lies."""

    low_ohm: float
    high_ohm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class JointRule(Table):
    """One figure of practice."""

    value: float


@dataclass(frozen=True, slots=True)
class JointFile:
    """Everything in ``joints.json``."""

    by_wire: tuple[TerminalTable, ...]
    contacts: tuple[ContactRating, ...]
    resistances: tuple[JointResistance, ...]
    rules: tuple[JointRule, ...]


def joint_file() -> JointFile:
    """Return all tables of joints."""
    return read("joints", JointFile)


def terminal_current_a(form_id: str, size: Size) -> float | None:
    """Return what a terminal such as ``push-on-6.3`` carries with this wire in it.

    Between two rows the smaller counts and above the last row the last, as the form sets the
    end; None below the first row.
    """
    table = find(joint_file().by_wire, form_id, "form of terminal")
    rows = sorted(table.rows, key=lambda row: row.size.area_mm2)
    held = [row.a for row in rows if row.size.area_mm2 <= size.area_mm2 + SAME_AREA]
    return held[-1] if held else None


def contact_current_a(contact_id: str) -> float:
    """Return the continuous current of a connector contact such as ``sealed-16``."""
    return find(joint_file().contacts, contact_id, "connector contact").a


def joint_resistance(joint_id: str) -> JointResistance:
    """Return the usual range of a joint's resistance, such as ``push-on`` or ``bad-joint``."""
    return find(joint_file().resistances, joint_id, "kind of joint")


def joint_rule(rule_id: str) -> JointRule:
    """Return a figure of practice, such as ``rings-on-a-stud``."""
    return find(joint_file().rules, rule_id, "rule of joints")


def form_current(form_id: str, size: Size | None) -> tuple[Table, float] | None:
    """Return the table and the amperes of a connector's contact, by the wire in it where it counts.

    A wire below the rows of a wide push-on terminal counts as in the next narrower one, for whose
    crimp it is made. None where the wire decides and is not known, or is below every row.
    """
    file = joint_file()
    for contact in file.contacts:
        if contact.id == form_id:
            return contact, contact.a
    known = {t.id: t for t in file.by_wire}
    for one in (form_id, *NARROWER.get(form_id, ())):
        held = terminal_current_a(one, size) if size is not None and one in known else None
        if held is not None:
            return known[one], held
    return None
