"""The actions on files and windows."""

from app.actions.spec import ActionSpec

ACTIONS = (
    ActionSpec("new", "&New", "&File", ("Ctrl+N",), "new"),
    ActionSpec("open", "&Open …", "&File", ("Ctrl+O",), "open"),
    ActionSpec("new_window", "New &window", "&File", ("Ctrl+Shift+N",)),
    ActionSpec("gallery", "&Gallery", "&File", ("Ctrl+Shift+O",)),
    ActionSpec("save", "&Save", "&File", ("Ctrl+S",), "save"),
    ActionSpec("save_as", "Save &as …", "&File", ("Ctrl+Shift+S",)),
    ActionSpec("export", "&Draw to a file …", "&File", ("Ctrl+E",), gap=True),
    ActionSpec("print", "&Print …", "&File", ("Ctrl+P",)),
    ActionSpec("load_table", "&Load a table of your own …", "&File"),
    ActionSpec("demo", "Open the demo circuit", "&File"),
    ActionSpec("quit", "&Quit", "&File", ("Ctrl+Q",), gap=True),
)
