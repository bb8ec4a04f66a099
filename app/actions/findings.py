"""The actions on findings."""

from app.actions.spec import ActionSpec

ACTIONS = (
    ActionSpec("finding_next", "&Next finding", "F&indings", ("F4",)),
    ActionSpec("finding_before", "Finding &before", "F&indings", ("Shift+F4",)),
    ActionSpec("finding_cure", "&Cure the finding shown", "F&indings", ("Ctrl+.",), gap=True),
    ActionSpec("finding_accept", "&Accept the finding shown …", "F&indings", ("Ctrl+,",)),
    ActionSpec("finding_rule", "&Help on its rule", "F&indings", ("F1",)),
    ActionSpec("finding_only", "Only what is &selected", "F&indings", ("Ctrl+Shift+G",), gap=True),
)
