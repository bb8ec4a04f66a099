"""Whether the roomy cards of the projector theme have room where a file places its parts.

Where they have not, another layout stands in for that of the file while the theme is shown. The
file keeps its own; only what a person then moves is written, together with what stands around it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from itertools import combinations

from model.circuit import Circuit, Place, Sheet
from model.layout.card import Card, cards
from model.layout.geometry import united
from model.layout.place import arrange
from model.layout.sizes import ROOMY, Sizes

LESSON = 12
"""Most parts of a lesson sheet, which is to be read whole from the back row."""
CHANNELS = (110, 84, 64)
"""Free widths between columns, tried in turn until the drawing is no larger than the page."""
PAGE = (1485.0, 795.0)
"""What a 1280 × 800 picture shows of a sheet while its numbers are still 20 px."""


def stands_in(
    circuit: Circuit,
    sheet: Sheet,
    filed: Mapping[str, Place],
    stood: bool,
    dragging: bool,
    sizes: Sizes | None,
) -> tuple[Mapping[str, Place], bool]:
    """Return the file's places that were judged, and whether another layout stands in for them.

    Parameters
    ----------
    filed, stood
        The same as returned the last time for this sheet.
    dragging
        Whether the places are those of a drag: the layout does not change under the hand.
    """
    if sizes is not ROOMY:
        return sheet.places, False
    if stood and filed.items() <= sheet.places.items():
        return filed, True
    if dragging or sheet.places == filed:
        return sheet.places, False
    return sheet.places, _is_tight(circuit, sheet, sizes)


def arranged(circuit: Circuit, sheet_id: str, parts: set[str], sizes: Sizes | None) -> list[Place]:
    """Return automatic places; of roomy cards as far apart as the page has room for."""
    if sizes is not ROOMY:
        return arrange(circuit, sheet_id, parts, sizes)
    found: list[list[Place]] = []
    for channel in CHANNELS:
        found.append(arrange(circuit, sheet_id, parts, replace(sizes, channel=channel)))
        if _on_page(circuit, found[-1]):
            return found[-1]
    return found[0 if len(circuit.parts) > LESSON else -1]


def _on_page(circuit: Circuit, places: Iterable[Place]) -> bool:
    """Tell whether roomy cards at these places are read whole on one page."""
    sheet = Sheet("", places={p.id: p for p in places})
    made = cards(circuit, sheet, ROOMY)
    frame = united(made[p.id].outer.moved(p.x, p.y) for p in sheet.places.values())
    return frame.w <= PAGE[0] and frame.h <= PAGE[1]


def _is_tight(circuit: Circuit, sheet: Sheet, sizes: Sizes) -> bool:
    """Tell whether cards overlap, or a lesson sheet is too large to be read whole."""
    places = [p for p in sheet.places.values() if p.part in circuit.parts]
    if not places or any(p.shows for p in places):
        return False
    made = cards(circuit, sheet, sizes)
    if any(_overlap(made[a.id], a, made[b.id], b) for a, b in combinations(places, 2)):
        return True
    return len(places) <= LESSON and not _on_page(circuit, places)


def _overlap(first: Card, a: Place, second: Card, b: Place) -> bool:
    """Tell whether two cards or their labels overlap."""
    mine = [r.moved(a.x, a.y) for r in (first.body, first.tag, first.name) if r.w]
    theirs = [r.moved(b.x, b.y) for r in (second.body, second.tag, second.name) if r.w]
    return any(p.overlaps(q) for p in mine for q in theirs)
