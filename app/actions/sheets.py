"""The actions on sheets."""

from app.actions.spec import ActionSpec

ACTIONS = (
    ActionSpec("sheet_next", "Ne&xt sheet", "&Sheets", ("PgDown",)),
    ActionSpec("sheet_before", "Sheet &before", "&Sheets", ("PgUp",)),
    ActionSpec("sheet_follow", "&Follow to the other sheet", "&Sheets", ("F7",)),
    ActionSpec("sheet_add", "&Add a sheet", "&Sheets", ("Ctrl+Shift+Ins",), gap=True),
    ActionSpec("sheet_rename", "Re&name the sheet", "&Sheets", ("Shift+F2",)),
    ActionSpec("sheet_left", "Put it &earlier", "&Sheets", ("Ctrl+Shift+PgUp",)),
    ActionSpec("sheet_right", "Put it &later", "&Sheets", ("Ctrl+Shift+PgDown",)),
    ActionSpec("sheet_remove", "&Remove the sheet", "&Sheets"),
    ActionSpec("sheet_move", "&Move the selected to a sheet …", "&Sheets", ("F12",), gap=True),
    ActionSpec("sheet_show", "&Show the selected also on …", "&Sheets", ("Shift+F12",)),
    ActionSpec("sheet_off", "&Take the selected off this sheet", "&Sheets"),
)
