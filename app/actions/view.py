"""The actions of how the sheet is looked at."""

from app.actions.spec import ActionSpec

ACTIONS = (
    ActionSpec("overlay_state", "Show the &state", "&View", ("1",), "", "overlay", True),
    ActionSpec("overlay_findings", "Show the fin&dings", "&View", ("2",), "", "overlay", True),
    ActionSpec("overlay_role", "Show what wires are fo&r", "&View", ("4",), "", "overlay", True),
    ActionSpec("overlay_none", "Show the &wires only", "&View", ("3",), "", "overlay", True),
    ActionSpec("theme_light", "&Light", "&View", ("F9",), "light", "theme", True, gap=True),
    ActionSpec("theme_dark", "Dar&k", "&View", ("F10",), "dark", "theme", True),
    ActionSpec("theme_projector", "&Projector", "&View", ("F11",), "projector", "theme", True),
    ActionSpec("fit", "&Fit the sheet", "&View", ("Home",), "fit", gap=True),
    ActionSpec("zoom_selection", "Fit w&hat is selected", "&View", ("Shift+Home",)),
    ActionSpec("zoom_width", "As wide as the &view", "&View", ("Ctrl+Home",)),
    ActionSpec("zoom_full", "&100 %", "&View", ("Alt+Home",)),
    ActionSpec("zoom_in", "Zoom &in", "&View", ("+", "Ctrl++", "=")),
    ActionSpec("zoom_out", "Zoom &out", "&View", ("-", "Ctrl+-")),
    ActionSpec("overview", "Ov&erview", "&View", ("Alt+0",), checkable=True, gap=True),
)
