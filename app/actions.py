"""Every action of the window as data, shared by menu, keys and whatever finds commands by name."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import cast

from PySide6.QtCore import QObject
from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QWidget


@dataclass(frozen=True, slots=True)
class ActionSpec:
    """One action: `key` names the method `do_<key>` of a doer; `group` makes it one of several."""

    key: str
    text: str
    menu: str
    keys: tuple[str, ...] = ()
    icon: str = ""
    group: str = ""
    checkable: bool = False
    tip: str = ""
    gap: bool = False


ACTIONS: tuple[ActionSpec, ...] = (
    ActionSpec("new", "&New", "&File", ("Ctrl+N",), "new"),
    ActionSpec("open", "&Open …", "&File", ("Ctrl+O",), "open"),
    ActionSpec("new_window", "New &window", "&File", ("Ctrl+Shift+N",)),
    ActionSpec("gallery", "&Gallery", "&File", ("Ctrl+Shift+O",)),
    ActionSpec("save", "&Save", "&File", ("Ctrl+S",), "save"),
    ActionSpec("save_as", "Save &as …", "&File", ("Ctrl+Shift+S",)),
    ActionSpec("export", "&Draw to a file …", "&File", ("Ctrl+E",), gap=True),
    ActionSpec("print", "&Print …", "&File", ("Ctrl+P",)),
    ActionSpec("demo", "Open the demo circuit", "&File"),
    ActionSpec("quit", "&Quit", "&File", ("Ctrl+Q",), gap=True),
    ActionSpec("undo", "&Undo", "&Edit", ("Ctrl+Z",), "undo"),
    ActionSpec("redo", "&Redo", "&Edit", ("Ctrl+Shift+Z", "Ctrl+Y"), "redo"),
    ActionSpec("new_wire", "New &wire in the Schedule", "&Edit", ("N",), gap=True),
    ActionSpec("rotate", "&Turn a quarter", "&Edit", ("R",), "rotate"),
    ActionSpec("delete", "&Delete", "&Edit", ("Del", "Backspace"), "delete"),
    ActionSpec("rename", "Re&name", "&Edit", ("F2",)),
    ActionSpec("select_all", "Select &all", "&Edit", ("Ctrl+A",)),
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
    ActionSpec("overlay_state", "Show the &state", "&View", ("1",), "", "overlay", True),
    ActionSpec("overlay_findings", "Show the &findings", "&View", ("2",), "", "overlay", True),
    ActionSpec("overlay_role", "Show what wires are &for", "&View", ("4",), "", "overlay", True),
    ActionSpec("overlay_none", "Show the &wires only", "&View", ("3",), "", "overlay", True),
    ActionSpec("theme_light", "&Light", "&View", ("F9",), "light", "theme", True, gap=True),
    ActionSpec("theme_dark", "Dar&k", "&View", ("F10",), "dark", "theme", True),
    ActionSpec("theme_projector", "&Projector", "&View", ("F11",), "projector", "theme", True),
    ActionSpec("fit", "&Fit the sheet", "&View", ("F", "Home"), "fit", gap=True),
    ActionSpec("zoom_in", "Zoom &in", "&View", ("+", "Ctrl++", "=")),
    ActionSpec("zoom_out", "Zoom &out", "&View", ("-", "Ctrl+-")),
    ActionSpec("sheet_next", "Ne&xt sheet", "&View", ("PgDown",), gap=True),
    ActionSpec("sheet_before", "Sheet &before", "&View", ("PgUp",)),
    ActionSpec("finding_next", "&Next finding", "F&indings", ("F4",)),
    ActionSpec("finding_before", "Finding &before", "F&indings", ("Shift+F4",)),
    ActionSpec("finding_cure", "&Cure the finding shown", "F&indings", ("Ctrl+.",), gap=True),
    ActionSpec("finding_accept", "&Accept the finding shown …", "F&indings", ("Ctrl+,",)),
    ActionSpec("finding_rule", "&Help on its rule", "F&indings", ("F1",)),
    ActionSpec("finding_only", "Only what is &selected", "F&indings", ("Ctrl+Shift+G",), gap=True),
    ActionSpec("dock_tray", "&Tray", "&Docks", ("T",), checkable=True),
    ActionSpec("dock_details", "&Details", "&Docks", ("D",), checkable=True),
    ActionSpec("dock_findings", "&Findings", "&Docks", ("G",), checkable=True),
    ActionSpec("dock_schedule", "&Schedule", "&Docks", ("W",), checkable=True),
    ActionSpec("dock_own", "Parts of your &own", "&Docks", ("O",), checkable=True),
    ActionSpec("docks", "&All docks", "&Docks", ("F8",), gap=True),
    ActionSpec("star", "&Star the part in the Tray", "&Docks", ("Ctrl+Shift+B",)),
    ActionSpec("next_pane", "Next &pane", "&Docks", ("Ctrl+Tab",)),
    ActionSpec("sheet", "Back to the s&heet", "&Docks", ("Ctrl+Return",)),
    ActionSpec("first_steps", "&First steps", "&Help", ()),
    ActionSpec("about", "&About and safety", "&Help", ()),
)  # fmt: skip


class Actions:
    """The actions of one window, made from their data; each calls the window's own method."""

    def __init__(
        self, owner: QWidget, doers: Sequence[QObject], specs: Sequence[ActionSpec] = ACTIONS
    ) -> None:
        self._doers = doers
        self.specs = {s.key: s for s in specs}
        self.by_key: dict[str, QAction] = {}
        self._groups: dict[str, QActionGroup] = {}
        for spec in specs:
            self.by_key[spec.key] = self._made(owner, spec)

    def __getitem__(self, key: str) -> QAction:
        return self.by_key[key]

    def check(self, key: str, on: bool = True) -> None:
        """Show an action as the one in force, without doing it."""
        self.by_key[key].setChecked(on)

    def _made(self, owner: QWidget, spec: ActionSpec) -> QAction:
        action = QAction(spec.text, owner)
        action.setObjectName(spec.key)
        action.setShortcuts([QKeySequence(k) for k in spec.keys])
        action.setToolTip(spec.tip or spec.text.replace("&", ""))
        action.setCheckable(spec.checkable)
        if spec.group:
            self._group(owner, spec.group).addAction(action)
        action.triggered.connect(self._slot(spec.key))
        owner.addAction(action)
        return action

    def _slot(self, key: str) -> Callable[[], object]:
        """Return the bound method that does an action."""
        name = f"do_{key}"
        doer = next(d for d in self._doers if hasattr(d, name))
        return cast("Callable[[], object]", getattr(doer, name))

    def _group(self, owner: QWidget, name: str) -> QActionGroup:
        if name not in self._groups:
            self._groups[name] = QActionGroup(owner)
        return self._groups[name]
