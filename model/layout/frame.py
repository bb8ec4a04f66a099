"""How large a card of the usual shape is: all that stands in it has room."""

from __future__ import annotations

from model.layout.geometry import snap_up
from model.layout.rows import Row, Sides

PAD = 8
SIDE = 20  # least room beside the pictogram
APART = 5  # between the numbers at the lower edge and a reading beside them


class Frame(Sides):
    """The extents of one card."""

    def extent(self) -> tuple[float, float]:
        """Return the top and bottom of everything in the card, against the main lead."""
        size, s = self.picture, self.sizes
        top = -size / 2 - self.base - (s.number_h if self.rows["top"] else 0)
        bottom = size / 2 - self.base
        if s.value_h or s.word_below:
            bottom = max(bottom, self._lowest())
        bottom += s.word_h if self.ask.words else 0
        bottom += s.value_h if self.ask.value_w and not self.is_beside() else 0
        bottom += s.number_h if self.rows["bottom"] else 0
        sides = self.rows["left"] + self.rows["right"]
        first = min((r.at - r.reach - s.number_line for r in sides), default=top)
        if self.rows["top"] and s.for_class:
            first -= s.number_h / 2
        last = max((r.at + r.reach + s.number_line / 2 for r in sides), default=bottom)
        return min(top, first) - PAD, max(bottom, last) + PAD - 2

    def _lowest(self) -> float:
        """Return where the lowest number at the sides ends, against the main lead."""
        sides = self.rows["left"] + self.rows["right"]
        return max((r.at + self.sizes.number_line / 2 for r in sides), default=0.0)

    def half_width(self) -> int:
        """Return half the width: pictogram, numbers either side, terminals above and below."""
        sides = self.rows["left"] + self.rows["right"]
        number = max((self.text_w(r.terminal) for r in sides), default=0)
        lead_in = self.sizes.lead_in
        room = self.picture / 2 + lead_in + number + self.sizes.side_pad
        if any(self._beside_word(r) for r in sides):
            room = max(room, self.ask.word_w / 2 + lead_in + number + 4)
        room = max(room, self.ask.word_w / 2 + 4, self._value_room())
        for row in self.rows["top"] + self.rows["bottom"]:
            room = max(room, abs(row.at) + max(row.reach, self.text_w(row.terminal) / 2) + PAD)
        return snap_up(max(room, self.picture / 2 + SIDE))

    def _value_room(self) -> float:
        """Return half the width that a value or a reading asks for."""
        if not self.is_beside():
            return self.ask.value_w / 2 + 4
        numbers = (abs(r.at) + self.text_w(r.terminal) / 2 for r in self.rows["bottom"])
        return max(numbers) + APART + self.ask.value_w + 3

    def is_beside(self) -> bool:
        """Tell whether the reading stands beside the numbers at the lower edge."""
        return self.sizes.value_beside and self.ask.family == "load" and bool(self.rows["bottom"])

    def _beside_word(self, row: Row) -> bool:
        """Tell whether a side's number stands level with the position's word."""
        top = self.picture / 2 - self.base + 1
        line = self.sizes.word_line
        between = bool(self.ask.words) and not self.sizes.word_below
        return between and abs(row.at - (top + line / 2)) < line
