"""The actions on sheets."""

from app.actions.spec import ActionSpec

ACTIONS = (
    ActionSpec("sheet_next", "Ne&xt sheet", "&Sheets", ("PgDown",)),
    ActionSpec("sheet_before", "Sheet &before", "&Sheets", ("PgUp",)),
)
