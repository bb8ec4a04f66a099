"""The actions that select and find."""

from app.actions.spec import ActionSpec

ACTIONS = (
    ActionSpec("find", "&Find …", "&Choose", ("Ctrl+F",)),
    ActionSpec("find_next", "Find &next", "&Choose", ("F3",)),
    ActionSpec("find_before", "Find &before", "&Choose", ("Shift+F3",)),
    ActionSpec("select_all", "Select &all", "&Choose", ("Ctrl+A",), gap=True),
    ActionSpec("select_others", "Select the &others", "&Choose", ("Ctrl+Shift+A",)),
    ActionSpec("select_circuit", "The whole &circuit", "&Choose", ("Ctrl+Shift+C",), gap=True),
    ActionSpec("select_fed", "Everything the f&use feeds", "&Choose", ("Ctrl+Shift+F",)),
    ActionSpec("select_ground", "Everything on the &ground point", "&Choose", ("Ctrl+Shift+D",)),
    ActionSpec("select_joined", "And what it is &joined to", "&Choose", ("Ctrl+J",)),
    ActionSpec("select_kind", "All of the same &kind", "&Choose", ("Ctrl+Shift+K",), gap=True),
    ActionSpec("select_colour", "All wires of the same co&lour", "&Choose", ("Ctrl+Shift+L",)),
    ActionSpec("select_size", "All wires of the same &size", "&Choose", ("Ctrl+Shift+I",)),
    ActionSpec("select_loose", "What is joined to not&hing", "&Choose", ("Ctrl+Shift+J",)),
)
