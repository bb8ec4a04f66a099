"""What the reading of a line knows beside the circuit, and what each clause comes to."""

from __future__ import annotations

from dataclasses import dataclass, replace

from model.changes import Change
from model.wiresize import Size

Point = tuple[float, float]
MOST_KINDS = 12


@dataclass(frozen=True, slots=True)
class Recent:
    """The last choices: kinds (latest first) and what the last wire typed was given."""

    kinds: tuple[str, ...] = ()
    size: Size | None = None
    length_m: float | None = None
    colour: str = ""
    tracer: str = ""

    def with_kind(self, key: str) -> Recent:
        """Return these choices with a kind as the latest."""
        others = tuple(k for k in self.kinds if k != key)
        return replace(self, kinds=(key, *others)[:MOST_KINDS])


NOTHING_YET = Recent()


@dataclass(frozen=True, slots=True)
class Cursor:
    """Where a new part goes: a sheet ("" the first one) and a point, and the last choices.

    Without a point the part gets no place of its own and the automatic layout finds one.
    """

    sheet_id: str = ""
    at: Point | None = None
    recent: Recent = NOTHING_YET


@dataclass(frozen=True, slots=True)
class Step:
    """What one clause comes to: the change, a line that says it, and the cursor after it."""

    change: Change
    preview: str
    cursor: Cursor
    made: tuple[str, ...] = ()
