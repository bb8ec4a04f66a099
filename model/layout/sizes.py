"""The sizes that cards and labels are built from: ordinary, compact, and roomy for the back row.

A card keeps room for the largest numbers that are ever written on it, so that they may grow when
it is looked at from far away and still cover nothing.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from model.layout.text import text_width

SEPARATOR = " · "
"""What stands between the number of a wire and its values on a label."""


@dataclass(frozen=True, slots=True)
class Sizes:
    """All lengths of one make of card, in scene units.

    Attributes
    ----------
    number_px, number_most
        Font of terminal numbers as they are usually, and the largest there is room for.
    lead_in, lead_up
        Room for a terminal's own drawing at the sides, and above and below.
    pitch, step
        Least distance of two terminals on a side, and of two wires at one terminal.
    channel, per_wire
        Least free width between columns of the automatic layout, and what every wire adds to it.
    word_below
        Whether the word of a position stands below the numbers at the sides, not between them.
    most_columns
        How wide the automatic layout is to be, 0 for as wide as it comes.
    value_h
        Height kept for a fuse's amperes or a load's reading; 0 where none is kept.
    value_beside
        Whether a load's reading stands beside the numbers at its lower edge, not above them.
    ground_lines
        Most lines of the name of a ground point; 0 puts its tag beside the sign, without a name.
    between, ground_gap
        Least free height between cards of a column of the automatic layout, and the free height
        above a ground point.
    for_class
        Whether it is made to be read from the back row.
    """

    name: str
    picture: int = 64
    ground_picture: int = 44
    number_px: float = 11.5
    number_most: float = 16.0
    number_line: float = 14.0
    number_h: float = 16.0
    lead_in: float = 10.0
    lead_up: float = 8.0
    pitch: int = 20
    step: int = 10
    tag_px: float = 11.0
    tag_h: float = 20.0
    tag_pad: float = 18.0
    name_px: float = 11.0
    name_line: float = 14.0
    overhang: float = 20.0
    word_px: float = 10.5
    word_line: float = 14.0
    word_h: float = 18.0
    value_px: float = 10.5
    reading_px: float = 10.0
    value_h: float = 0.0
    ground_widest: float = 180.0
    ground_lines: int = 1
    label_px: float = 10.5
    label_room_px: float = 11.0
    label_h: float = 16.0
    label_reading_px: float = 10.5
    label_reading_h: float = 16.0
    label_pad: float = 12.0
    side_pad: float = 4.0
    channel: int = 70
    per_wire: int = 15
    word_below: bool = False
    most_columns: int = 0
    beside: float = 11.0
    value_beside: bool = False
    between: int = 40
    ground_gap: int = 70
    for_class: bool = False

    def tag_w(self, reference: str) -> float:
        """Return the width of a reference's paper tag; 0 without a reference."""
        return text_width(reference, self.tag_px, bold=True) + self.tag_pad if reference else 0.0

    def word_w(self, text: str) -> float:
        """Return the room that the word of a position needs."""
        return text_width(text, max(11.0, self.word_px), bold=True)

    def label_area(self, text: str) -> tuple[float, float]:
        """Return width and height of a wire's label; its values may be larger than its number."""
        number, _, values = text.partition(SEPARATOR)
        if not values or self.label_reading_px <= self.label_px:
            return text_width(text, self.label_room_px, bold=True) + self.label_pad, self.label_h
        width = text_width(number + " ", self.label_room_px, bold=True)
        width += text_width(values, self.label_reading_px, bold=True)
        return width + self.label_pad, self.label_reading_h


ORDINARY = Sizes("ordinary")
COMPACT = Sizes("compact", picture=40, ground_picture=30)
ROOMY = Sizes(
    "roomy",
    ground_picture=56,
    number_px=24.0,
    number_most=24.0,
    number_line=20.0,
    number_h=26.0,
    lead_in=8.0,
    pitch=30,
    step=20,
    tag_px=20.0,
    tag_h=27.0,
    tag_pad=20.0,
    name_px=16.0,
    name_line=19.0,
    word_px=20.0,
    word_line=24.0,
    word_h=28.0,
    value_px=22.0,
    reading_px=33.5,
    value_h=30.0,
    ground_widest=170.0,
    ground_lines=2,
    label_px=19.0,
    label_room_px=19.0,
    label_h=25.0,
    label_reading_px=33.5,
    label_reading_h=36.0,
    label_pad=10.0,
    side_pad=2.5,
    channel=64,
    per_wire=8,
    overhang=10.0,
    word_below=True,
    most_columns=7,
    beside=15.0,
    for_class=True,
)
"""For a lesson sheet on a 1280 × 800 picture, where it is shown at 0.84 or more: numbers of 20 px
and readings of 28 px are left of these."""

PACKED = replace(
    ROOMY,
    name="packed",
    picture=44,
    number_px=30.0,
    number_most=30.0,
    number_line=23.0,
    ground_picture=38,
    pitch=26,
    number_h=25.0,
    tag_px=18.0,
    tag_h=23.0,
    tag_pad=18.0,
    name_px=13.0,
    name_line=14.0,
    word_px=18.0,
    word_line=20.0,
    word_h=22.0,
    value_px=20.0,
    value_h=23.0,
    reading_px=26.0,
    value_beside=True,
    label_px=21.0,
    label_room_px=21.0,
    label_reading_px=41.0,
    label_reading_h=43.0,
    ground_lines=0,
    channel=36,
    per_wire=12,
    between=20,
    ground_gap=40,
)
"""For a lesson of more parts: numbers as large as on the roomy cards, all else no larger than it
must be, so that the sheet is still read whole."""
