"""Tables of the user's own taken into a circuit and out of it."""

from __future__ import annotations

from dataclasses import replace

from model.circuit import Chosen, Circuit, OwnTable
from model.editing.draft import Draft, Edit
from model.own_tables import choices


def take_table(circuit: Circuit, table: OwnTable) -> Edit:
    """Return the edit that puts a table into a circuit; one of its id is replaced.

    What was chosen stays chosen where the new table has it too.
    """
    draft = Draft(circuit)
    draft.own_tables[table.id] = table
    return _sound(draft, f"Load the table {table.id}")


def remove_table(circuit: Circuit, table_id: str) -> Edit:
    """Return the edit that removes a table; the default is chosen where it was."""
    draft = Draft(circuit)
    draft.own_tables.pop(table_id)
    return _sound(draft, f"Remove the table {table_id}")


def _sound(draft: Draft, text: str) -> Edit:
    """Return the edit, with the default in place of a chosen table that is no longer there."""
    chosen, plain = draft.settings.chosen, Chosen()
    for kind in ("ampacity", "copper", "bundle"):
        name = getattr(chosen, kind)
        if name != getattr(plain, kind) and name not in choices(draft.circuit, kind):
            chosen = replace(chosen, **{kind: getattr(plain, kind)})
            draft.notes.append(f"{name} is no longer there; {getattr(plain, kind)} is chosen.")
    draft.settings = replace(draft.settings, chosen=chosen)
    return draft.done(text)
