"""Which columns of a table are shown, how wide, in what order, sorted by which: kept as text."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, field, fields
from typing import Any

from app.schedule.column import Column

LEAST_WIDTH, MOST_WIDTH = 36, 900


@dataclass(slots=True)
class Arrangement:
    """The columns in order by key, those hidden, widths in pixels, and the sorting."""

    order: list[str] = field(default_factory=list)
    hidden: list[str] = field(default_factory=list)
    widths: dict[str, int] = field(default_factory=dict)
    sort: str = ""
    down: bool = False

    def text(self) -> str:
        """Return it as it is kept."""
        return json.dumps({f.name: getattr(self, f.name) for f in fields(self)})


def usual(columns: Sequence[Column]) -> Arrangement:
    """Return how a table is arranged as long as nobody chose."""
    return Arrangement([c.key for c in columns], [c.key for c in columns if not c.shown])


def arrangement_from(text: str, columns: Sequence[Column]) -> Arrangement:
    """Return the arrangement of a text that was kept; what does not read is as usual."""
    made = usual(columns)
    try:
        read: Any = json.loads(text or "{}")
    except ValueError:
        return made
    if not isinstance(read, dict):
        return made
    known = {c.key for c in columns}
    order = _keys(read.get("order"), known)
    made.order = order + [k for k in made.order if k not in order]
    if isinstance(read.get("hidden"), list):
        seen = set(order) or known
        hidden = _keys(read["hidden"], known)
        made.hidden = hidden + [k for k in made.hidden if k not in seen and k not in hidden]
    widths = read.get("widths")
    pairs = widths.items() if isinstance(widths, dict) else ()
    made.widths = {k: w for k, w in pairs if k in known and _is_width(w)}
    sort = read.get("sort")
    made.sort = str(sort) if isinstance(sort, str) and sort in known else ""
    made.down = read.get("down") is True
    if len(made.hidden) >= len(columns):
        made.hidden = []
    return made


def _keys(read: Any, known: set[str]) -> list[str]:
    every = read if isinstance(read, list) else []
    return list(dict.fromkeys(k for k in every if isinstance(k, str) and k in known))


def _is_width(width: Any) -> bool:
    return isinstance(width, int) and LEAST_WIDTH <= width <= MOST_WIDTH
