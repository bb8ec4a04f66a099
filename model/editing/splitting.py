"""Cutting a wire in two, and making one of two: lengths, routes, what is crimped on.

Both halves inherit size, colours, insulation, circuit, cable and branches. The first half keeps
the wire's id, number, note and unknown fields; the second gets the next number. Lengths are shared
by where the cut is, and a length that was measured is assumed from then on. The sum of the end
resistances that was measured no longer holds and is dropped.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import hypot

from model.circuit import End, Fit, Route, Wire
from model.editing.draft import Draft
from model.layout.geometry import Point
from model.layout.sizes import Sizes
from model.wiresize import Size


@dataclass(frozen=True, slots=True)
class Spot:
    """Where on a wire something is dropped.

    Attributes
    ----------
    at
        The point on the sheet, in scene units; None: the middle.
    path
        The wire's way as drawn, with both ends; empty: not known, it is cut in the middle.
    sheet_id
        The sheet of both.
    sizes
        The sizes of the cards as they are shown; None: those that the circuit has.
    """

    at: Point | None = None
    path: tuple[Point, ...] = ()
    sheet_id: str = ""
    sizes: Sizes | None = None

    def share(self) -> float:
        """Return which part of the wire lies before the spot, from 0 to 1."""
        if self.at is None or len(self.path) < 2:
            return 0.5
        legs = [_length(a, b) for a, b in pairwise(self.path)]
        index, along = nearest(self.path, self.at)
        total = sum(legs)
        return (sum(legs[:index]) + along) / total if total else 0.5


def split(draft: Draft, wire: Wire, near: End, far: End, spot: Spot) -> Wire:
    """Cut a wire: the first half ends at `near`, the second starts at `far`; return the second."""
    before, after = _shared_length(wire.length_m, spot.share())
    seen = "assumed" if wire.confidence == "measured" else wire.confidence
    draft.wires[wire.id] = replace(
        wire,
        second=near,
        length_m=before,
        confidence=seen,
        second_fit=Fit(),
        ends_ohm=None,
    )
    second = replace(
        wire,
        id=draft.fresh("w"),
        number=draft.number(),
        first=far,
        length_m=after,
        confidence=seen,
        first_fit=Fit(),
        ends_ohm=None,
        note="",
        extra={},
    )
    draft.wires[second.id] = second
    _split_routes(draft, wire, second.id, spot)
    return second


def joined(draft: Draft, wire: Wire, at: str, hub: Wire, hub_at: str) -> None:
    """Make one wire of two that met: `wire` goes on to the far end of `hub`.

    Parameters
    ----------
    at, hub_at
        Which end of each met the other: "first" or "second".
    """
    far, fit = far_end(hub, hub_at)
    length = _sum(wire.length_m, hub.length_m)
    size = _thinner(wire.size, hub.size)
    made = replace(wire, length_m=length, size=size, ends_ohm=None)
    if at == "first":
        made = replace(made, first=far, first_fit=fit)
    else:
        made = replace(made, second=far, second_fit=fit)
    draft.wires[wire.id] = made


def join_routes(draft: Draft, wire: Wire, at: str, hub: Wire, hub_at: str) -> None:
    """Make one kept route of two, on every sheet that keeps either."""
    for sheet in list(draft.sheets.values()):
        mine = sheet.routes.get(wire.id, Route(wire.id)).bends
        other = sheet.routes.get(hub.id, Route(hub.id)).bends
        outwards = other[::-1] if hub_at == "second" else other
        bends = mine + outwards if at == "second" else outwards[::-1] + mine
        if bends:
            draft.sheets[sheet.id] = replace(
                sheet, routes={**sheet.routes, wire.id: Route(wire.id, bends)}
            )


def far_end(wire: Wire, at: str) -> tuple[End | None, Fit]:
    """Return the end of a wire that is not `at`, and what is crimped on it."""
    if at == "first":
        return wire.second, wire.second_fit
    return wire.first, wire.first_fit


def turned(wire: Wire) -> Wire:
    """Return the wire the other way round: ends, what is crimped on, branches."""
    return replace(
        wire,
        first=wire.second,
        second=wire.first,
        first_fit=wire.second_fit,
        second_fit=wire.first_fit,
        branches=wire.branches[::-1],
    )


def _shared_length(length_m: float | None, share: float) -> tuple[float | None, float | None]:
    """Return a length in two, to the millimetre as long as both have some."""
    if length_m is None:
        return None, None
    before = min(round(length_m * share, 3), length_m)
    return before, round(length_m - before, 9)


def _sum(a: float | None, b: float | None) -> float | None:
    return None if a is None or b is None else round(a + b, 9)


def _thinner(a: Size | None, b: Size | None) -> Size | None:
    """Return the smaller of two sizes; unknown where one is."""
    if a is None or b is None:
        return None
    return a if a.area_mm2 <= b.area_mm2 else b


def _split_routes(draft: Draft, wire: Wire, second: str, spot: Spot) -> None:
    """Share the kept bends where the wire is cut; on other sheets its way is laid anew."""
    for sheet in list(draft.sheets.values()):
        route = sheet.routes.get(wire.id)
        if route is None:
            continue
        routes = {k: r for k, r in sheet.routes.items() if k != wire.id}
        if sheet.id == spot.sheet_id and spot.at is not None:
            count = _bends_before(route.bends, spot)
            halves = ((wire.id, route.bends[:count]), (second, route.bends[count:]))
            routes |= {k: Route(k, bends) for k, bends in halves if bends}
        draft.sheets[sheet.id] = replace(sheet, routes=routes)


def _bends_before(bends: Sequence[Point], spot: Spot) -> int:
    """Return how many bends lie before the spot."""
    if spot.at is None:
        return len(bends)
    if len(spot.path) == len(bends) + 2:
        return nearest(spot.path, spot.at)[0]
    if len(bends) < 2:
        return len(bends)
    index, along = nearest(bends, spot.at)
    before_first = index == 0 and along == 0.0
    return 0 if before_first else index + 1


def nearest(path: Sequence[Point], at: Point) -> tuple[int, float]:
    """Return the leg of a path that is nearest to a point, and how far along it that is."""
    best, found = float("inf"), (0, 0.0)
    for index, (a, b) in enumerate(pairwise(path)):
        length = _length(a, b)
        along = 0.0
        if length:
            along = ((at[0] - a[0]) * (b[0] - a[0]) + (at[1] - a[1]) * (b[1] - a[1])) / length
            along = max(0.0, min(length, along))
        share = along / length if length else 0.0
        foot = (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))
        if (distance := _length(foot, at)) < best:
            best, found = distance, (index, along)
    return found


def _length(a: Point, b: Point) -> float:
    return hypot(b[0] - a[0], b[1] - a[1])
