"""The actions that change what is selected."""

from app.actions.spec import ActionSpec

ACTIONS = (
    ActionSpec("undo", "&Undo", "&Edit", ("Ctrl+Z",), "undo"),
    ActionSpec("redo", "&Redo", "&Edit", ("Ctrl+Shift+Z", "Ctrl+Y"), "redo"),
    ActionSpec("cut", "Cu&t", "&Edit", ("Ctrl+X",), gap=True),
    ActionSpec("copy", "&Copy", "&Edit", ("Ctrl+C",)),
    ActionSpec("paste", "&Paste", "&Edit", ("Ctrl+V",)),
    ActionSpec("duplicate", "Dup&licate", "&Edit", ("Ctrl+D",)),
    ActionSpec("delete", "&Delete", "&Edit", ("Del", "Backspace"), "delete"),
    ActionSpec("delete_heal", "Take out and &join again", "&Edit", ("Shift+Del",)),
    ActionSpec("remove_splice", "Remo&ve the splice", "&Edit", ("Ctrl+Del",)),
    ActionSpec("type", "T&ype a part or a wire", "&Edit", ("Ctrl+L",), gap=True),
    ActionSpec("new_wire", "New &wire in the Schedule", "&Edit", ("Ins",)),
    ActionSpec("rename", "Re&name", "&Edit", ("F2",)),
    ActionSpec("change", "Chan&ge the selected …", "&Edit", ("Ctrl+G",), gap=True),
    ActionSpec("replace", "Replace &by another kind …", "&Edit", ("Ctrl+H",)),
    ActionSpec("size", "Si&ze what loads need …", "&Edit", ("Ctrl+Alt+S",)),
    ActionSpec("splice", "Spl&ice to the selected wire", "&Edit", ("Ctrl+I",)),
    ActionSpec("swap_ends", "&Swap the ends of wires", "&Edit", ("Ctrl+Shift+X",)),
    ActionSpec("number_parts", "Nu&mber parts anew", "&Edit", ("Ctrl+F2",), gap=True),
    ActionSpec("number_wires", "Number wires &anew", "&Edit", ("Ctrl+Shift+F2",)),
)
