"""A column of a table, as data: its title, how a cell reads, sorts, is typed and is completed."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from app.entry.suggest import Offer
from app.schedule.looking import Looking
from model.changes import Change
from model.circuit import Circuit

RECORD, CIRCUIT, LIVE = "record", "circuit", "live"
"""When a cell may read differently: its own record changed, anything in the circuit, the state."""
Reads = Callable[[Looking, Any], str]
Orders = Callable[[Looking, Any], Any]
Types = Callable[[Circuit, str, str], Change | None]
Offers = Callable[[Circuit, Any, str], Iterator[Offer]]


@dataclass(frozen=True, slots=True)
class Column:
    """One column.

    Attributes
    ----------
    reads, spoken
        What a cell shows, and what a screen reader says where that differs.
    scope
        When it may read differently: RECORD, CIRCUIT or LIVE.
    orders
        The value it is sorted by; natural order of the text where None.
    types
        Makes the change of a text typed, of (circuit, id, text); None: it cannot be typed.
    offers
        What can be typed, of (circuit, record or None for a new one, text so far).
    edits
        The text that typing starts with where it is another than the cell shows.
    operates
        Whether typing moves a control and changes nothing in the file.
    about
        What a person may type, in a few words.
    shown
        Whether it is there as long as nobody chose.
    words
        Whether a cell holds words of the program, shown in the reader's language.
    """

    key: str
    title: str
    width: int
    reads: Reads
    scope: str = RECORD
    orders: Orders | None = None
    types: Types | None = None
    offers: Offers | None = None
    edits: Reads | None = None
    operates: bool = False
    about: str = ""
    spoken: Reads | None = None
    right: bool = False
    swatch: bool = False
    shown: bool = True
    words: bool = False


@dataclass(frozen=True, slots=True)
class Tabled:
    """What a table lists: its columns, its records by id, and how a new one begins.

    `adds` makes a record of the first text typed into the last row, of (circuit, sheet id, column
    key, text), and returns the change and the new id; `starts` is the column that is typed in
    first, `named` what people call a record.
    """

    key: str
    title: str
    one: str
    many: str
    columns: tuple[Column, ...]
    records: Callable[[Circuit], Mapping[str, Any]]
    named: Callable[[Any], str]
    adds: Callable[[Circuit, str, str, str], tuple[Change, str]]
    next_name: Callable[[Circuit], str]
    starts: str
    only_start: bool = False
    hint: str = ""
