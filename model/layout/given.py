"""Ways that are given: those with bends a person chose, and the stubs of wires with an open end."""

from __future__ import annotations

from itertools import pairwise

from model.layout.field import BLOCK
from model.layout.finder import Finder
from model.layout.geometry import GRID, OUTWARD, Point
from model.layout.joints import Joint
from model.layout.path import Path, off, tidy
from model.layout.shape import Spot

STUBS = (50, 40, 30, 20, 10)
"""How far a wire with an open end sticks out, if there is room."""


def kept(finder: Finder, wire: str) -> Path:
    """Return the way with the bends a person chose, made orthogonal at its ends.

    Where that leads through a card, which has been moved since, the wire finds a way of its
    own until there is room again.
    """
    a, b = finder.joined(wire)
    bends = finder.sheet.routes[wire].bends
    if not bends:
        return finder.find(wire) or finder.squeezed(wire)
    start, end = _toward(finder, a, bends[0]), _toward(finder, b, bends[-1])
    points = [a.at(start)]
    level = start.side in ("left", "right")
    for bend in bends:
        points += [*_corner(points[-1], bend, level), bend]
        level = points[-1][1] != points[-2][1]
    tip = b.at(end)
    points += [*_corner(points[-1], tip, end.side in ("top", "bottom")), tip]
    path = Path(tidy(points))
    if _is_sound(finder, path, start, end):
        return path
    return finder.find(wire) or finder.squeezed(wire)


def _is_sound(finder: Finder, path: Path, start: Spot, end: Spot) -> bool:
    """Tell whether a way leaves both its spots outwards and leads through no card."""
    if len(path.points) < 2:
        return False
    ends = ((path.points[0], path.points[1], start), (path.points[-1], path.points[-2], end))
    return _is_clear(finder, path) and all(_ahead(p, q, s) for p, q, s in ends)


def _toward(finder: Finder, joint: Joint, bend: Point) -> Spot:
    """Return the free spot from which a bend is reached straight, if there is one."""
    spots = finder.free(joint)
    return min(spots, key=lambda s: (off(joint.at(s), bend), not _ahead(joint.at(s), bend, s)))


def _is_clear(finder: Finder, path: Path) -> bool:
    """Tell whether a way leads through no card."""
    places = (p for p in finder.sheet.places.values() if p.id in finder.cards)
    bodies = [finder.cards[p.id].body.moved(p.x, p.y) for p in places]
    return not any(r.crossed_by(a, b) for r in bodies for a, b in pairwise(path.points))


def open_end(finder: Finder, wire: str) -> Path | None:
    """Return a short straight end for a wire with one end on this sheet, if it is open."""
    joint = next((j for j in finder.joints.of(wire) if j is not None), None)
    record = finder.circuit.wires[wire]
    if joint is None or (record.first is not None and record.second is not None):
        return None
    spot = finder.free(joint)[0]
    x, y = joint.at(spot)
    dx, dy = OUTWARD[spot.side]
    ends = [(x + dx * far, y + dy * far) for far in STUBS]
    end = next((e for e in ends if _is_free(finder, (x + dx * GRID, y + dy * GRID), e)), ends[-1])
    points = ((x, y), end)
    return Path(points if record.first is not None else points[::-1])


def _is_free(finder: Finder, a: Point, b: Point) -> bool:
    """Tell whether no card and no wire lies on a straight line or right beyond it."""
    (ra, ca), (rb, cb) = finder.field.cell(*a), finder.field.cell(*b)
    lines = slice(min(ra, rb), max(ra, rb) + 1), slice(min(ca, cb), max(ca, cb) + 1)
    taken = finder.field.level[lines].any() or finder.field.upright[lines].any()
    return not taken and bool((finder.field.base[lines] < BLOCK).all())


def _ahead(at: Point, to: Point, spot: Spot) -> bool:
    """Tell whether a point lies on the side to which a wire leaves a spot."""
    dx, dy = OUTWARD[spot.side]
    return (to[0] - at[0]) * dx + (to[1] - at[1]) * dy > 0


def _corner(a: Point, b: Point, level: bool) -> list[Point]:
    """Return the corner between two points, none where one is level or upright to the other."""
    if a[0] == b[0] or a[1] == b[1]:
        return []
    return [(b[0], a[1]) if level else (a[0], b[1])]
