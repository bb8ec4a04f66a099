"""The actions of one window, made from their data."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import cast

from PySide6.QtCore import QObject
from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QWidget

from app.actions.spec import ActionSpec
from app.tr import tr


class Actions:
    """The actions of one window, made from their data; each calls the window's own method."""

    def __init__(
        self, owner: QWidget, doers: Sequence[QObject], specs: Sequence[ActionSpec]
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

    def take_keys(self, key: str, keys: Sequence[str]) -> None:
        """Let an action be called by these keys, and tell them in its tip."""
        action, spec = self.by_key[key], self.specs[key]
        action.setShortcuts([QKeySequence(k) for k in keys])
        action.setToolTip(tip_of(spec, keys))

    def _made(self, owner: QWidget, spec: ActionSpec) -> QAction:
        action = QAction(tr(spec.text), owner)
        action.setObjectName(spec.key)
        action.setShortcuts([QKeySequence(k) for k in spec.keys])
        action.setToolTip(tip_of(spec, spec.keys))
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


def tip_of(spec: ActionSpec, keys: Sequence[str]) -> str:
    """Return the tip of an action with the first of its keys."""
    form = QKeySequence.SequenceFormat.NativeText
    said = tr(spec.tip) or tr(spec.text).replace("&", "").removesuffix(" …")
    return f"{said} ({QKeySequence(keys[0]).toString(form)})" if keys else said
