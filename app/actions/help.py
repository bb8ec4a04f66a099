"""The actions that help."""

from app.actions.spec import ActionSpec

ACTIONS = (
    ActionSpec("first_steps", "&First steps", "&Help"),
    ActionSpec("about", "&About and safety", "&Help"),
)
