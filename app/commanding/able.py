"""Why an action cannot be done now, in a sentence; data and the selection decide."""

from __future__ import annotations

from collections.abc import Collection

from app.actions.offered import NEEDS, what_is
from app.session import Session

ONLY_IN_DRAW = frozenset(
    (
        *("cut", "paste", "duplicate", "delete", "delete_heal", "remove_splice", "type"),
        *("new_wire", "change", "replace", "splice", "swap_ends", "number_parts", "number_wires"),
        *("rotate", "rotate_back", "mirror", "mirror_down", "snap", "route_free"),
        *("draw_apart", "draw_as_one"),
        *("align_left", "align_centre", "align_right", "align_top", "align_middle"),
        *("align_bottom", "space_across", "space_down", "tidy", "tidy_selected"),
        *("sheet_add", "sheet_remove", "sheet_move", "sheet_show", "sheet_off"),
    )
)
"""Actions that change the circuit; Operate refuses them."""
LEAST_PARTS = {
    **dict.fromkeys(("rotate", "rotate_back", "mirror", "mirror_down", "snap"), 1),
    **dict.fromkeys(("tidy_selected", "replace", "select_kind"), 1),
    **dict.fromkeys(("align_left", "align_centre", "align_right"), 2),
    **dict.fromkeys(("align_top", "align_middle", "align_bottom"), 2),
    **dict.fromkeys(("space_across", "space_down"), 3),
}
"""How many parts must be selected."""
OF_SELECTION = frozenset(
    (
        *("cut", "copy", "duplicate", "delete", "delete_heal", "change"),
        *("select_circuit", "select_joined", "zoom_selection", "sheet_move", "sheet_show"),
    )
)
"""Actions that need something selected, whatever it is."""
ASKS = {
    "parts": "Select a part first.",
    "wires": "Select a wire first.",
    "one": "Select one part or wire first.",
    "joint": "Select a splice first.",
    "pair": "Select a wire and what it is to be joined to first.",
    "fuse": "Select a fuse or breaker first.",
    "ground": "Select a ground point first.",
    "apart": "Select a relay that is drawn as one first.",
    "pieces": "Select a relay whose coil and contacts are drawn apart first.",
}
OF_FINDING = ("finding_cure", "finding_accept", "finding_rule")


def why_not(session: Session, key: str, enabled: bool = True) -> str:
    """Return why an action cannot be done now, "" where it can.

    Parameters
    ----------
    session : Session
        The circuit, with mode and selection.
    key : str
        The action's key.
    enabled : bool
        Whether its menu entry is enabled.
    """
    if not enabled:
        return {"undo": "There is nothing to undo.", "redo": "There is nothing to redo."}.get(
            key, "Not now."
        )
    if key in ONLY_IN_DRAW and session.mode != "draw":
        return "Go to Draw (F5) first."
    if key in OF_FINDING and session.finding is None:
        return "Select a finding first (F4)."
    return _selection(session, key)


def _selection(session: Session, key: str) -> str:
    """Return what is to be selected first, "" where the selection will do."""
    chosen = session.selection
    if key in OF_SELECTION and not chosen:
        return "Select parts or wires first."
    least = LEAST_PARTS.get(key, 0)
    if sum(i in session.circuit.parts for i in chosen) < least:
        return ASKS["parts"] if least == 1 else f"Select at least {least} parts first."
    needs: Collection[str] = NEEDS.get(key, ())
    there = set(what_is(session.circuit, chosen)) if needs else set()
    return "" if not needs or there.intersection(needs) else ASKS[next(iter(needs))]
