"""The pictograms as text: one SVG a part kind, and those of the actions. No Qt in here.

Every picture is drawn on one grid (`viewBox="0 0 64 64"`), with one stroke, round ends and
joins, in `currentColor`. `icon_svg` gives it the colour of a theme, and moves the arm of a
contact to where it stands. `app.pictures` explains the drawing rules.
"""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path

ICON_FOLDER = Path(__file__).parent
GRID = 64
OWN = "own"
"""Picture of every kind that a person defined."""
EMBLEM = "app"
"""The program's own emblem, the only picture with colours of its own."""
COIL_FROM, COIL_DOWN = 36.0, 19.0
"""Below which height a relay's coil is drawn, and how far below the middle."""
_SVG = "http://www.w3.org/2000/svg"

Point = tuple[float, float]


class IconError(LookupError):
    """There is no picture of that name."""


@dataclass(frozen=True, slots=True)
class ArmGeometry:
    """How the moving arms of a picture stand, in grid units.

    One entry an arm in `pivots`, `closed` and `opened` (the tip in either state); `rest` says
    which of the two the file shows; `travel` is how far a link or an actuator goes down from
    rest to the other state; `throws` are the tips of a switch of many positions, in order.
    """

    pivots: tuple[Point, ...]
    closed: tuple[Point, ...]
    opened: tuple[Point, ...]
    rest: str
    travel: float
    throws: tuple[Point, ...] = ()

    def turn(self, index: int) -> float:
        """Return the turn of arm `index` from rest to its other state, in degrees clockwise."""
        tips = (self.opened, self.closed) if self.rest == "open" else (self.closed, self.opened)
        start, end = (_angle(self.pivots[index], tip[index]) for tip in tips)
        return (end - start + 180.0) % 360.0 - 180.0


def _angle(pivot: Point, tip: Point) -> float:
    return math.degrees(math.atan2(tip[1] - pivot[1], tip[0] - pivot[0]))


@cache
def kind_icons() -> tuple[str, ...]:
    """Return the kinds that have a picture, in order of the alphabet."""
    return tuple(sorted(f.stem for f in ICON_FOLDER.glob("*.svg") if f.stem != EMBLEM))


@cache
def action_icons() -> tuple[str, ...]:
    """Return the action pictures as keys for `icon_svg`, such as `actions/undo`."""
    return tuple(sorted(f"actions/{f.stem}" for f in (ICON_FOLDER / "actions").glob("*.svg")))


def icon_of_kind(kind: str) -> str:
    """Return the picture of `kind`; one that the program does not know is a part of one's own."""
    return kind if kind in kind_icons() else OWN


def piece_icon(key: str, piece: str) -> str:
    """Return the key of the picture of one piece of a relay: its coil, or its contacts."""
    return f"{key}#{piece}" if piece and key != OWN else key


@cache
def _text(key: str) -> str:
    key, _, piece = key.partition("#")
    if piece:
        return _piece(_text(key), piece == "coil")
    path = ICON_FOLDER / f"{key}.svg"
    if not path.is_file():
        raise IconError(f"there is no picture '{key}': add {path.name} to {path.parent}")
    return path.read_text(encoding="utf-8")


def _piece(text: str, coil: bool) -> str:
    """Return the lower half of a relay's picture, the coil, moved to the middle, or the rest."""
    ET.register_namespace("", _SVG)
    root = ET.fromstring(text)
    half = ET.Element(f"{{{_SVG}}}g", {"transform": f"translate(0 {-COIL_DOWN})"})
    for element in list(root):
        if _is_coil(element) != coil:
            root.remove(element)
        elif coil:
            root.remove(element)
            half.append(element)
    if coil:
        root.append(half)
        for name in [n for n in root.attrib if n.startswith("data-")]:
            del root.attrib[name]
    return ET.tostring(root, encoding="unicode")


def _is_coil(element: ET.Element) -> bool:
    """Tell whether an element of a relay's picture lies where the coil is drawn."""
    if element.get("id"):
        return False
    given = " ".join(element.get(n, "") for n in ("y", "cy")).strip()
    if not given:
        first = element.get("d", "M0 0").lstrip("M").replace(",", " ").split()
        given = first[1].rstrip("HVLAZM") if first[1:] else "0"
        given = "".join(c if c.isdigit() or c == "." else " " for c in given).split()[0]
    return float(given) >= COIL_FROM


def _points(text: str) -> tuple[Point, ...]:
    pairs = (pair.split(",") for pair in text.split())
    return tuple((float(x), float(y)) for x, y in pairs)


@cache
def arm_geometry(key: str) -> ArmGeometry | None:
    """Return how the arms of picture `key` move, or None when nothing in it moves."""
    root = ET.fromstring(_text(key))
    if "data-pivot" not in root.attrib:
        return None
    return ArmGeometry(
        pivots=_points(root.attrib["data-pivot"]),
        closed=_points(root.attrib["data-closed"]),
        opened=_points(root.attrib["data-open"]),
        rest=root.attrib["data-rest"],
        travel=float(root.get("data-travel", "0")),
        throws=_points(root.get("data-throws", "")),
    )


@lru_cache(maxsize=1024)
def icon_svg(key: str, colour: str = "#111111", moved: float = 0.0, arms: bool = True) -> bytes:
    """Return picture `key` as SVG in one colour.

    Parameters
    ----------
    key
        A kind, or `actions/` and the name of an action.
    colour
        What `currentColor` stands for, as `#rrggbb`.
    moved
        0 shows the part at rest, 1 operated, anything between on the way.
    arms
        False leaves out the arms with their links and actuators, for a painter of its own.

    Raises
    ------
    IconError
        There is no such picture.
    """
    ET.register_namespace("", _SVG)
    root = ET.fromstring(_text(key))
    root.set("color", colour)
    geometry = arm_geometry(key)
    if geometry is not None and not arms:
        _drop_movers(root)
    elif geometry is not None and moved:
        _pose(root, geometry, moved)
    return ET.tostring(root)


def _drop_movers(root: ET.Element) -> None:
    for element in list(root):
        if element.get("id"):
            root.remove(element)


def _pose(root: ET.Element, geometry: ArmGeometry, moved: float) -> None:
    """Turn the arms, stretch the links after them, push the actuators."""
    arms = iter(range(len(geometry.pivots)))
    shift = geometry.travel * moved
    for element in root:
        name = element.get("id", "")
        if name.startswith("arm"):
            index = next(arms)
            x, y = geometry.pivots[index]
            turn = geometry.turn(index) * moved
            element.set("transform", f"rotate({turn:.2f} {x:g} {y:g})")
        elif name.startswith("link"):
            element.set("y2", f"{float(element.get('y2', '0')) + shift:.2f}")
        elif name == "actuator":
            element.set("transform", f"translate(0 {shift:.2f})")
