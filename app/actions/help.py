"""The actions that help."""

from app.actions.spec import ActionSpec

ACTIONS = (
    ActionSpec("find_command", "Find a &command …", "&Help", ("Ctrl+K",)),
    ActionSpec("dock_keys", "&Keys", "&Help", ("Alt+6",), checkable=True),
    ActionSpec("first_steps", "&First steps", "&Help", gap=True),
    ActionSpec("about", "&About and safety", "&Help"),
)
