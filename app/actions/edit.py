"""The actions that change what is selected."""

from app.actions.spec import ActionSpec

ACTIONS = (
    ActionSpec("undo", "&Undo", "&Edit", ("Ctrl+Z",), "undo"),
    ActionSpec("redo", "&Redo", "&Edit", ("Ctrl+Shift+Z", "Ctrl+Y"), "redo"),
    ActionSpec("type", "T&ype a part or a wire", "&Edit", ("Ctrl+L",), gap=True),
    ActionSpec("new_wire", "New &wire in the Schedule", "&Edit", ("Ins",)),
    ActionSpec("rotate", "&Turn a quarter", "&Edit", (".", "Ctrl+R"), "rotate"),
    ActionSpec("delete", "&Delete", "&Edit", ("Del", "Backspace"), "delete"),
    ActionSpec("rename", "Re&name", "&Edit", ("F2",)),
)
