"""The values that describe a card: spots, ports and the card itself."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from model.layout.geometry import Rect, united
from model.layout.sizes import ORDINARY, Sizes


@dataclass(frozen=True, slots=True)
class Spot:
    """A place where one wire ends, and the side by which it leaves."""

    x: float
    y: float
    side: str


@dataclass(frozen=True, slots=True)
class Port:
    """A terminal on the card: its spots (the first is the usual one) and its number's area."""

    node: str
    key: str
    form: str
    spots: tuple[Spot, ...]
    label: Rect | None = None

    @property
    def x(self) -> float:
        """Where the terminal stands."""
        return self.spots[0].x

    @property
    def y(self) -> float:
        """Where the terminal stands."""
        return self.spots[0].y

    @property
    def direction(self) -> str:
        """The side by which wires leave."""
        return self.spots[0].side


@dataclass(frozen=True, slots=True)
class Card:
    """Geometry of one card relative to its centre.

    `picture` is a square; `tag` the reference's paper tag; `name` the area and `name_text` the
    name cut to fit it, on one or two lines; `word` the area of the position's word, None where
    there is none; `value` the area of a fuse's amperes or a load's reading where room is kept for
    it. `shape` is card, ground or dot. `turn` and `mirrored` say how the pictogram is
    to be turned; `sizes` are those that it was built from. `piece` is "coil" or "contacts" where
    the card shows only these of its part.
    """

    width: float
    height: float
    ports: Mapping[str, Port]
    picture: Rect
    tag: Rect
    name: Rect
    name_text: str = ""
    word: Rect | None = None
    shape: str = "card"
    turn: int = 0
    mirrored: bool = False
    value: Rect | None = None
    sizes: Sizes = ORDINARY
    piece: str = ""

    @property
    def body(self) -> Rect:
        """The card itself."""
        return Rect(-self.width / 2, -self.height / 2, self.width, self.height)

    @property
    def outer(self) -> Rect:
        """The card with its labels."""
        return united(r for r in (self.body, self.tag, self.name) if r.w)
