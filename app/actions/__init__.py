"""Every action of the window as data, shared by menu, keys and whatever finds commands by name.

One file a menu; their order here is the order of the menus.
"""

from app.actions import (
    arrange,
    choose,
    docks,
    edit,
    file,
    findings,
    help,
    mode,
    sheets,
    view,
)
from app.actions.made import Actions
from app.actions.spec import ActionSpec

ACTIONS: tuple[ActionSpec, ...] = (
    *file.ACTIONS,
    *edit.ACTIONS,
    *arrange.ACTIONS,
    *choose.ACTIONS,
    *mode.ACTIONS,
    *view.ACTIONS,
    *sheets.ACTIONS,
    *findings.ACTIONS,
    *docks.ACTIONS,
    *help.ACTIONS,
)

ON_SELECTION = (
    *("change", "rename", "replace", "size", ""),
    *("cut", "copy", "paste", "duplicate", "delete", "delete_heal", "remove_splice", ""),
    *("splice", "swap_ends", "bend", "rotate", "mirror", ""),
    *("draw_apart", "draw_as_one", "hold_other", ""),
    *("select_circuit", "select_joined", "select_fed", "select_ground", "select_kind"),
    *("select_colour", "select_size", ""),
    *("&Arrange", "&Choose"),
)
"""The acts offered on the selection where the mouse is, and menus; "" parts groups."""

__all__ = ["ACTIONS", "ON_SELECTION", "ActionSpec", "Actions"]
