"""The size of a wire as a designation: square millimetres or American Wire Gauge.

Needs no unit library, so that opening a circuit stays fast.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from model.errors import AmbiguousSize, QuantityError

MIN_AWG = -3
"""4/0, the heaviest gauge with a number."""
MAX_AWG = 40
"""The finest gauge of the standard's common range."""
MIN_MM2 = 0.001
MAX_MM2 = 1000.0

AUTO_MM2_BY_MM = {2.0: 0.56, 3.0: 1.13, 4.0: 1.84, 5.0: 2.90, 6.0: 4.59}
"""Copper of Australian and New Zealand "auto" cable by its outside diameter in mm.

3 to 6 mm: a seller's data sheet of auto and marine cable; 2 mm: from memory.
"""

_NUMBER = r"([0-9]{1,9}(?:[.,][0-9]{1,15})?|[.,][0-9]{1,15})"
_SQUARE = re.compile(
    _NUMBER + r"\s*(?:mm²|mm2|mm\^2|mm\*\*2|sq\.?\s*mm|qmm|mm\s*sq|)", re.IGNORECASE
)
_BARE_MM = re.compile(_NUMBER + r"\s*mm", re.IGNORECASE)
_GAUGE = r"([1-9]/0|0{1,4}|[0-9]{1,3})"
_WORD = r"(?:awg|ga\.?|gauge)"
_AWG = re.compile(rf"{_GAUGE}\s*{_WORD}|{_WORD}\s*{_GAUGE}", re.IGNORECASE)
_AUGHTS = re.compile(r"[1-9]/0|0{2,4}")


def awg_diameter_m(number: int) -> float:
    """Return the diameter of a solid conductor of this gauge.

    Parameters
    ----------
    number : int
        The gauge; 0, -1, -2, -3 stand for 1/0, 2/0, 3/0, 4/0.

    Returns
    -------
    float
        Metres. ASTM B258: 0.005 in · 92^((36 − n)/39), and 1 in = 25.4 mm.
    """
    return float(0.127e-3 * 92.0 ** ((36 - number) / 39))


def awg_area_mm2(number: int) -> float:
    """Return the cross-section of a solid conductor of this gauge in mm² (ASTM B258)."""
    return math.pi / 4 * (awg_diameter_m(number) * 1e3) ** 2


@dataclass(frozen=True, slots=True)
class Size:
    """A wire size as people write it; exactly one of the two is set.

    Sizes order by their copper, and are equal only when written alike.

    Attributes
    ----------
    mm2 : float or None
        Nominal cross-section in mm².
    awg : int or None
        Gauge; 0, -1, -2, -3 stand for 1/0, 2/0, 3/0, 4/0.
    """

    mm2: float | None = None
    awg: int | None = None

    def __post_init__(self) -> None:
        if (self.mm2 is None) == (self.awg is None):
            raise QuantityError("A wire size is either a number of mm² or an AWG number: give one.")
        if self.mm2 is not None and not MIN_MM2 <= self.mm2 <= MAX_MM2:
            raise QuantityError(
                f"{self.mm2:g} mm² is no wire size: enter {MIN_MM2:g} to {MAX_MM2:g} mm²."
            )
        if self.awg is not None and not MIN_AWG <= self.awg <= MAX_AWG:
            raise QuantityError(
                f"{_gauge_text(self.awg)} is no wire size here: enter 4/0 to {MAX_AWG} AWG."
            )

    @property
    def area_mm2(self) -> float:
        """Copper cross-section in mm²: as named, or by ASTM B258 for a gauge."""
        if self.mm2 is not None:
            return self.mm2
        assert self.awg is not None
        return awg_area_mm2(self.awg)

    def text(self, decimal: str = ".") -> str:
        """Return the size as the trade writes it: ``0.75 mm²``, ``18 AWG``, ``2/0 AWG``."""
        if self.mm2 is not None:
            return f"{self.mm2:.12g}".replace(".", decimal) + " mm²"
        assert self.awg is not None
        return _gauge_text(self.awg)

    def __lt__(self, other: Size) -> bool:
        return self.area_mm2 < other.area_mm2

    def __le__(self, other: Size) -> bool:
        return self.area_mm2 <= other.area_mm2

    def __gt__(self, other: Size) -> bool:
        return self.area_mm2 > other.area_mm2

    def __ge__(self, other: Size) -> bool:
        return self.area_mm2 >= other.area_mm2


def parse_size(text: str) -> Size:
    """Read a wire size.

    Parameters
    ----------
    text : str
        ``0.75``, ``0,75 mm²``, ``0.75mm2``, ``0.75 sqmm``, ``18 AWG``, ``AWG 18``,
        ``2/0 AWG`` or ``0000 AWG``. A number alone is mm².

    Raises
    ------
    AmbiguousSize
        For ``3 mm`` without a square; carries both readings.
    QuantityError
        For anything else that is no size.
    """
    plain = text.strip()
    if match := _AWG.fullmatch(plain):
        return Size(awg=_gauge_number(match[1] or match[2]))
    if match := _SQUARE.fullmatch(plain):
        return Size(mm2=_number(match[1]))
    if _AUGHTS.fullmatch(plain):
        return Size(awg=_gauge_number(plain))
    if match := _BARE_MM.fullmatch(plain):
        raise _ask_which(plain, _number(match[1]))
    raise QuantityError(
        f"“{text}” is no wire size: enter a cross-section such as 0.75 mm² or a gauge such as "
        "18 AWG."
    )


def _number(text: str) -> float:
    # A comma is always the decimal one here: as thousands it would pass any wire.
    return float(text.replace(",", "."))


def _gauge_text(awg: int) -> str:
    return f"{awg} AWG" if awg > 0 else f"{1 - awg}/0 AWG"


def _gauge_number(text: str) -> int:
    if "/" in text:
        return 1 - int(text.split("/")[0])
    if set(text) == {"0"}:
        return 1 - len(text)
    return int(text)


def _ask_which(text: str, diameter_mm: float) -> QuantityError:
    """Build the question which of its two meanings a size in plain mm has.

    Between the published cables the copper is taken in proportion to the diameter squared
    from the nearest one below (above the range: from its end), as a hint only.
    """
    below = [d for d in AUTO_MM2_BY_MM if d <= diameter_mm] or [min(AUTO_MM2_BY_MM)]
    nearest = max(below)
    auto = round(AUTO_MM2_BY_MM[nearest] * (diameter_mm / nearest) ** 2, 2)
    return AmbiguousSize(text, Size(mm2=diameter_mm), Size(mm2=max(auto, MIN_MM2)))
