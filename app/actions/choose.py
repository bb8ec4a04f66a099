"""The actions that select."""

from app.actions.spec import ActionSpec

ACTIONS = (ActionSpec("select_all", "Select &all", "&Choose", ("Ctrl+A",)),)
