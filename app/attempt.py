"""An act of editing tried on the open circuit: done, selected and told, or refused in words."""

from __future__ import annotations

from collections.abc import Callable
from typing import ParamSpec

from app.session import Session
from model.editing import Edit
from model.errors import ModelError

Given = ParamSpec("Given")


def attempt(
    session: Session, act: Callable[Given, Edit], *args: Given.args, **named: Given.kwargs
) -> bool:
    """Do an act in one step of undo, select what it leaves, tell its notes; False if refused.

    Only in Draw. An act that cannot be done says why above the sheet.
    """
    if session.mode != "draw":
        session.noticed.emit("Go to Draw (F5) to change the circuit.")
        return False
    try:
        edit = act(*args, **named)
    except ModelError as error:
        session.noticed.emit(str(error))
        return False
    if not session.do(edit.change):
        return False
    session.select(frozenset(edit.ids))
    session.noticed.emit(" ".join(edit.notes))
    return True
