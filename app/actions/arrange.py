"""The actions that put the sheet in order."""

from app.actions.spec import ActionSpec

ACTIONS: tuple[ActionSpec, ...] = ()
