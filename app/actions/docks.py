"""The actions of the docks and of where the keys go."""

from app.actions.spec import ActionSpec

ACTIONS = (
    ActionSpec("dock_tray", "&Tray", "&Docks", ("Alt+1",), checkable=True),
    ActionSpec("dock_details", "&Details", "&Docks", ("Alt+2",), checkable=True),
    ActionSpec("dock_findings", "&Findings", "&Docks", ("Alt+3",), checkable=True),
    ActionSpec("dock_schedule", "&Schedule", "&Docks", ("Alt+4",), checkable=True),
    ActionSpec("dock_own", "Parts of your &own", "&Docks", ("Alt+5",), checkable=True),
    ActionSpec("dock_tables", "Tab&les", "&Docks", ("Alt+7",), checkable=True),
    ActionSpec("dock_sizes", "Si&zes", "&Docks", ("Alt+8",), checkable=True),
    ActionSpec("dock_loads", "Loads and s&upply", "&Docks", ("Alt+9",), checkable=True),
    ActionSpec("docks", "&All docks", "&Docks", ("F8",), gap=True),
    ActionSpec("star", "Sta&r the part in the Tray", "&Docks", ("Ctrl+Shift+B",)),
    ActionSpec("next_pane", "Next &pane", "&Docks", ("Ctrl+Tab",)),
    ActionSpec("pane_before", "Pane &before", "&Docks", ("Ctrl+Shift+Tab",)),
    ActionSpec("sheet", "Back to the s&heet", "&Docks", ("Ctrl+Return",)),
)
