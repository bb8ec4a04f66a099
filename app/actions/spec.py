"""One action of the window as data."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ActionSpec:
    """One action: `key` names the method `do_<key>` of a doer; `group` makes it one of several.

    No action has a bare letter as its key: a letter typed on the sheet begins the typed line.
    """

    key: str
    text: str
    menu: str
    keys: tuple[str, ...] = ()
    icon: str = ""
    group: str = ""
    checkable: bool = False
    tip: str = ""
    gap: bool = False
