"""The actions of the two modes and of the conditions."""

from app.actions.spec import ActionSpec

ACTIONS = (
    ActionSpec("mode_draw", "&Draw", "&Mode", ("F5",), "draw", "mode", True,
               "Change the circuit"),
    ActionSpec("mode_operate", "&Operate", "&Mode", ("F6",), "operate", "mode", True,
               "Run the circuit: a click moves a control"),
    ActionSpec("engine_stopped", "Engine stopped", "&Mode", ("Ctrl+1",), "", "engine", True,
               gap=True),
    ActionSpec("engine_cranking", "Engine cranking", "&Mode", ("Ctrl+2",), "", "engine", True),
    ActionSpec("engine_running", "Engine running", "&Mode", ("Ctrl+3",), "", "engine", True),
    ActionSpec("supply_resting", "Battery resting", "&Mode", (), "", "supply", True, gap=True),
    ActionSpec("supply_charging", "Battery charging", "&Mode", (), "", "supply", True),
    ActionSpec("supply_cranking", "Battery cranking", "&Mode", (), "", "supply", True),
    ActionSpec("rest", "All controls to &rest", "&Mode", ("Ctrl+0",), gap=True),
)  # fmt: skip
