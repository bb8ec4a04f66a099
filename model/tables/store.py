"""Reads the tables that ship with the program, once each, into typed frozen values."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Literal, Protocol, TypeVar

import msgspec

from model.errors import TableError, UnknownNameError
from model.wiresize import Size

TABLE_FOLDER = Path(__file__).resolve().parents[2] / "assets" / "tables"

Standing = Literal["verified", "from memory", "derived", "common practice", "supplied by the user"]
"""How well a figure is known.

``verified``: seen in the source named; ``from memory``: commonly published, not confirmed, to be
edited where it matters; ``derived``: computed from a stated formula; ``common practice``: a rule
of the trade without a source; ``supplied by the user``: in a table of the user's own.
"""
SUPPLIED: Standing = "supplied by the user"


_FROM_BEST = ("verified", "derived", "common practice", "from memory", SUPPLIED)


def weaker(first: Standing, second: Standing | None) -> Standing:
    """Return the standing of a figure made from two: that of the less well known one."""
    if second is None:
        return first
    return max(first, second, key=_FROM_BEST.index)


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """What every table says of itself."""

    id: str
    title: str
    source: str
    standing: Standing
    conditions: str = ""
    unit: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeRow:
    """A row that belongs to a wire size; exactly one of the two is set."""

    mm2: float | None = None
    awg: int | None = None
    standing: Standing | None = None
    note: str = ""

    @property
    def size(self) -> Size:
        """The size of this row."""
        return Size(mm2=self.mm2, awg=self.awg)


class HasId(Protocol):
    """Anything found by its id."""

    @property
    def id(self) -> str:
        """The id."""


FileT = TypeVar("FileT")
ItemT = TypeVar("ItemT", bound=HasId)


_FILES: dict[str, object] = {}


def read(name: str, kind: type[FileT]) -> FileT:
    """Read one file of tables; the second call costs nothing.

    Parameters
    ----------
    name : str
        File name without ending, such as ``copper``.
    kind : type
        The dataclass the whole file has the form of.

    Raises
    ------
    TableError
        The file is missing or is not of that form.
    """
    held = _FILES.get(name)
    if not isinstance(held, kind):
        held = _FILES[name] = decode(TABLE_FOLDER / f"{name}.json", kind)
    return held


def decode(path: Path, kind: type[FileT]) -> FileT:
    """Decode a file of tables that has the form of ``kind``; see `read` for the errors."""
    try:
        return msgspec.json.decode(path.read_bytes(), type=kind)
    except OSError as error:
        raise TableError(f"The table file {path} cannot be read: {error.strerror}.") from error
    except msgspec.MsgspecError as error:
        raise TableError(f"The table file {path} is damaged: {error}. Install again.") from error


def find(items: Iterable[ItemT], wanted: str, what: str) -> ItemT:
    """Return the item of this id.

    Raises
    ------
    UnknownNameError
        Names the ids there are.
    """
    known = []
    for item in items:
        if item.id == wanted:
            return item
        known.append(item.id)
    raise UnknownNameError(f"There is no {what} “{wanted}”: choose one of {', '.join(known)}.")
