"""Editing as a person does it: acts on a selection, each returned as one change, unapplied.

Pure functions of a circuit, free of Qt. An act returns an `Edit`: the change, the ids to select
afterwards, and sentences on what else happened. After every act the circuit can be written and
read back: no wire ends in the air, no guest sits in a slot that is gone. Acts that move cards take
the sheet as it is drawn, with every place on it, and put no card over another.
"""

from __future__ import annotations

from model.editing.apart import draw_apart, draw_as_one
from model.editing.arrange import align, distribute, separate, snap_places
from model.editing.bulk import set_parts, set_ratings, set_wires
from model.editing.choosing import fed_by, of_colour, of_kind, of_size, on_ground, whole_circuit
from model.editing.draft import Edit
from model.editing.errors import EditError
from model.editing.finding import Hit, find
from model.editing.fragment import copy_text, read_text
from model.editing.healing import delete, remove_splice
from model.editing.paste import cut, duplicate, paste
from model.editing.renumber import rename_part, rename_wire, renumber_parts, renumber_wires
from model.editing.replacing import remove_kind, replace_kind
from model.editing.reshaping import define_kind, reshape, set_table, set_terminals, set_ways
from model.editing.sheets import (
    add_sheet,
    move_sheet,
    move_to_sheet,
    remove_sheet,
    rename_sheet,
    show_on_sheet,
    take_off_sheet,
)
from model.editing.splitting import Spot
from model.editing.turn import mirror, rotate
from model.editing.wiring import insert_part, rejoin, splice_end, splice_from, swap_ends

__all__ = [
    "Edit",
    "EditError",
    "Hit",
    "Spot",
    "add_sheet",
    "align",
    "copy_text",
    "cut",
    "define_kind",
    "delete",
    "distribute",
    "draw_apart",
    "draw_as_one",
    "duplicate",
    "fed_by",
    "find",
    "insert_part",
    "mirror",
    "move_sheet",
    "move_to_sheet",
    "of_colour",
    "of_kind",
    "of_size",
    "on_ground",
    "paste",
    "read_text",
    "rejoin",
    "remove_kind",
    "remove_sheet",
    "remove_splice",
    "rename_part",
    "rename_sheet",
    "rename_wire",
    "renumber_parts",
    "renumber_wires",
    "replace_kind",
    "reshape",
    "rotate",
    "separate",
    "set_parts",
    "set_ratings",
    "set_table",
    "set_terminals",
    "set_ways",
    "set_wires",
    "show_on_sheet",
    "snap_places",
    "splice_end",
    "splice_from",
    "swap_ends",
    "take_off_sheet",
    "whole_circuit",
]
