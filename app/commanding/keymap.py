"""Which keys call which action: those of the program, and what a person has put in their place."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence

from PySide6.QtGui import QKeySequence

from app.actions.spec import ActionSpec
from app.keeping import Keep

KEPT = "keys"
SHEET_KEYS: tuple[tuple[str, str], ...] = (
    ("A letter", "begins the typed line at the cursor, in Draw"),
    ("Return", "opens the typed line empty, in Draw"),
    (
        "Arrows",
        "move the piece held, what is selected, or the cursor; with Shift five times as far",
    ),
    ("Tab", "goes to the next part or wire; Shift+Tab to the one before"),
    ("Space", "operates the selected control; Shift+Space backwards, Ctrl+Space keeps it held"),
    (
        "Esc",
        "gives up what is in hand, then the piece held, then the path shown, then the selection",
    ),
    ("Click", "selects; with Ctrl adds or takes away; on the paper puts the cursor there"),
    ("Drag a terminal", "draws a wire to a terminal, or splices it onto a wire"),
    ("Drag a wire", "bends it there; with Ctrl draws a branch from a splice"),
    ("Drag a wire's end", "joins it elsewhere; let go with Alt it is left open"),
    ("Drag a part", "moves what is selected; one without wires, let go on a wire, is put in line"),
    ("Drag the paper", "selects what lies in the frame"),
    ("Wheel", "zooms about the mouse; with Shift or Alt it scrolls"),
    ("Middle button, or Space held", "drags the sheet"),
    ("Double click", "goes to the reference or number in Details"),
)
"""Keys and gestures of the sheet that are no actions and stay as they are."""
_ARROWS = ("Left", "Right", "Up", "Down")
_HELD = frozenset(
    (
        *("Return", "Enter", "Shift+Return", "Shift+Enter", "Tab", "Shift+Tab", "Esc"),
        *("Space", "Shift+Space", "Ctrl+Space", *_ARROWS, *(f"Shift+{a}" for a in _ARROWS)),
    )
)
"""Keys that the sheet itself uses, as Qt writes them."""
_WALKS = frozenset((*_ARROWS, "Home", "End", "PgUp", "PgDown", "Return", "Enter", "Tab", "Esc"))


class KeyMap:
    """The keys of every action as a person has them."""

    kept = KEPT
    """Under which key the program remembers what a person changed."""

    def __init__(self, specs: Sequence[ActionSpec], keep: Keep) -> None:
        self.specs = {s.key: s for s in specs}
        self._keep = keep

    def keys(self, key: str) -> tuple[str, ...]:
        """Return the keys of an action, () for none."""
        own = self._own().get(key)
        return self.specs[key].keys if own is None else own

    def is_default(self, key: str) -> bool:
        """Tell whether an action has the program's own keys."""
        return self.keys(key) == self.specs[key].keys

    def holder(self, keys: str, but: str = "") -> str:
        """Return the action that a key calls already, "" for none."""
        wanted = normal(keys)
        held = (k for k in self.specs if k != but and wanted in map(normal, self.keys(k)))
        return next(held, "") if wanted else ""

    def refusal(self, keys: str) -> str:
        """Return why a key cannot call an action, "" where it can."""
        if not keys:
            return ""
        if normal(keys) in _HELD:
            return f"{keys} is the sheet's own key and cannot be given to a command."
        alone = keys.removeprefix("Shift+")
        if len(alone) == 1 and alone.isalpha():
            return f"{keys} alone begins the typed line; take it with Ctrl or Alt."
        return ""

    def put(self, key: str, keys: tuple[str, ...]) -> None:
        """Give an action these keys; they are taken from whatever had them."""
        own = dict(self._own())
        for wanted in keys:
            other = self.holder(wanted, but=key)
            if other:
                own[other] = tuple(k for k in self.keys(other) if normal(k) != normal(wanted))
        own[key] = keys
        self._write(own)

    def swap(self, key: str, keys: str) -> None:
        """Give an action a key that another one has, and that one the first key of this."""
        other = self.holder(keys, but=key)
        mine = self.keys(key)[:1]
        self.put(key, (keys,))
        if other:
            self.put(other, (*self.keys(other), *mine))

    def reset(self, key: str = "") -> None:
        """Give one action, or all of them, the program's own keys again."""
        if not key:
            self._keep.write(self.kept, "")
            return
        self.put(key, self.specs[key].keys)

    def _own(self) -> Mapping[str, tuple[str, ...]]:
        """Return what a person has changed; what does not read is left out."""
        try:
            found = json.loads(self._keep.read(self.kept) or "{}")
        except ValueError:
            return {}
        if not isinstance(found, dict):
            return {}
        return {
            k: tuple(w for w in v if isinstance(w, str))
            for k, v in found.items()
            if k in self.specs and isinstance(v, list)
        }

    def _write(self, own: Mapping[str, tuple[str, ...]]) -> None:
        changed = {k: list(v) for k, v in own.items() if v != self.specs[k].keys}
        self._keep.write(self.kept, json.dumps(changed) if changed else "")


class TableKeyMap(KeyMap):
    """The keys of the tables: Ctrl+C means the rows there, and elsewhere what is selected."""

    kept = "keys/tables"

    def refusal(self, keys: str) -> str:
        """Return why a key cannot call an act of the tables, "" where it can."""
        alone = keys.rpartition("+")[2] or "+"
        held = bool({"Ctrl", "Alt", "Meta"} & {*keys.split("+")[:-1]})
        if normal(keys) in _HELD or (not held and alone in _WALKS):
            return f"{keys} walks about in a table and cannot be given to an act."
        if len(alone) == 1 and not held:
            return f"{keys} alone is typed into the cell; take it with Ctrl or Alt."
        return ""


def normal(keys: str) -> str:
    """Return a key as Qt writes it, so that Del and Delete are the same."""
    return QKeySequence(keys).toString()


def shown(keys: Sequence[str]) -> str:
    """Return keys as people of this system read them."""
    form = QKeySequence.SequenceFormat.NativeText
    return ", ".join(QKeySequence(k).toString(form) for k in keys)
