"""The cards of the projector theme: which they are, and whether they have room in a file's places.

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
from model.layout.sizes import PACKED, ROOMY, Sizes

TIGHT = {"between": 10, "ground_gap": 30}
TRIED = {
    "roomy": ({"channel": 110}, {"channel": 84}, {"channel": 64}),
    "packed": (
        *({"channel": channel, "between": 40, "ground_gap": 60} for channel in (96, 70)),
        *({"channel": 50, "most_columns": columns} for columns in (7, 5)),
        *({"most_columns": columns} for columns in (7, 5, 9)),
        *({"most_columns": columns, **TIGHT} for columns in (7, 5, 9)),
    ),
}
"""What of the sizes is tried in turn, until the drawing is no larger than its numbers need."""
LESSON = 12
"""Most parts of a circuit that is shown on roomy cards, where there is room for them."""
WHOLE = 30
"""Most parts of a sheet that is to be read whole from the back row, on packed cards."""
SHOWN = (1280.0, 697.0)
"""Pixels of a 1280 × 800 picture that are left for the sheet."""
READ_PX = 20.0
"""Height of terminal numbers that the back row reads."""
AROUND = {"roomy": 40.0, "packed": 110.0}
"""Room around the cards for the wires outermost."""


def for_class(circuit: Circuit, wanted: Sizes | None) -> Sizes | None:
    """Return the sizes of a circuit's cards in a theme that wants these: packed where it is large.

    None: those that the circuit has in any other theme.
    """
    if wanted is not ROOMY:
        return wanted
    if len(circuit.parts) > LESSON:
        return PACKED
    bare = replace(circuit, sheets={})
    places = arranged(bare, "", None, ROOMY)
    return ROOMY if not places or _shown_px(bare, places, ROOMY) >= READ_PX else PACKED


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
    if sizes is None or not sizes.for_class:
        return sheet.places, False
    if stood and filed.items() <= sheet.places.items():
        return filed, True
    if dragging or sheet.places == filed:
        return sheet.places, False
    return sheet.places, _is_tight(circuit, sheet, sizes)


def arranged(
    circuit: Circuit, sheet_id: str, parts: set[str] | None, sizes: Sizes | None
) -> list[Place]:
    """Return automatic places; of roomy cards as far apart as the page has room for."""
    if sizes is None or not sizes.for_class:
        return arrange(circuit, sheet_id, parts, sizes)
    tried = [replace(sizes, **lengths) for lengths in TRIED[sizes.name]]  # type: ignore[arg-type]
    found: list[list[Place]] = []
    for trial in tried:
        found.append(arrange(circuit, sheet_id, parts, trial))
        if _shown_px(circuit, found[-1], sizes) >= READ_PX or len(circuit.parts) > WHOLE:
            return found[-1]
    return max(found, key=lambda places: _shown_px(circuit, places, sizes))


def _shown_px(circuit: Circuit, places: Iterable[Place], sizes: Sizes) -> float:
    """Return how large numbers are where cards at these places are shown whole."""
    sheet = Sheet("", places={p.id: p for p in places})
    made = cards(circuit, sheet, sizes)
    frame = united(made[p.id].outer.moved(p.x, p.y) for p in sheet.places.values())
    around = AROUND[sizes.name]
    zoom = min(SHOWN[0] / (frame.w + around), SHOWN[1] / (frame.h + around))
    return sizes.number_px * zoom


def _is_tight(circuit: Circuit, sheet: Sheet, sizes: Sizes) -> bool:
    """Tell whether cards overlap, or a sheet is too large to be read whole and need not be."""
    places = [p for p in sheet.places.values() if p.part in circuit.parts]
    if not places or any(p.shows for p in places):
        return False
    made = cards(circuit, sheet, sizes)
    if any(_overlap(made[a.id], a, made[b.id], b) for a, b in combinations(places, 2)):
        return True
    return len(places) <= WHOLE and _shown_px(circuit, places, sizes) < READ_PX


def _overlap(first: Card, a: Place, second: Card, b: Place) -> bool:
    """Tell whether two cards or their labels overlap."""
    mine = [r.moved(a.x, a.y) for r in (first.body, first.tag, first.name) if r.w]
    theirs = [r.moved(b.x, b.y) for r in (second.body, second.tag, second.name) if r.w]
    return any(p.overlaps(q) for p in mine for q in theirs)
