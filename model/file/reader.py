"""Where the reading of a file stands: for the place in every sentence, and for what is kept."""

from __future__ import annotations

import json
import re
from typing import Any

from model.file.commas import pointed
from model.file.errors import FileError
from model.file.tree import Step, line_of

MAX_WARNINGS = 50
NOUNS = {
    "parts": "part",
    "wires": "wire",
    "sheets": "sheet",
    "branches": "branch",
    "cables": "cable",
    "own_kinds": "own kind",
    "accepted": "acceptance",
    "promises": "promise",
    "zones": "zone",
    "own_tables": "own table",
}
CONTROL = re.compile("[\x00-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ud800-\udfff]")
"""Control characters, those that turn the direction of writing, and halves of characters."""


class Inside(dict[str, Any]):
    """Unknown fields of several values by the key of each: put back only where that still is."""


class Reader:
    """The text being read, the path of the value looked at now, and the warnings so far.

    `path` is pushed and popped by whoever descends; when an error is raised it still shows the
    place. `rests` is a stack of the unknown fields met in the objects that are open.
    """

    def __init__(self, text: str, name: str) -> None:
        self.text = text
        self.name = name
        self.later = False
        self.path: list[Step] = []
        self.rests: list[dict[str, Any]] = []
        self.raw: Any = None
        self._warnings: list[str] = []
        self._unsaid = 0

    @property
    def warnings(self) -> tuple[str, ...]:
        """The warnings, at most `MAX_WARNINGS` of them and the number of the others."""
        if not self._unsaid:
            return tuple(self._warnings)
        return (*self._warnings, f"{self.name}: {self._unsaid} more warnings.")

    def where(self) -> str:
        """Return file, line and record looked at: ``pump.voltwalk, line 12, wire W06``."""
        place = f"{self.name}, line {line_of(self.text, self.path)}"
        label = self._label()
        return f"{place}, {label}" if label else place

    def _label(self) -> str:
        """Return what people call the record of the path."""
        raw = self.raw
        noun = NOUNS.get(str(self.path[0]), "") if len(self.path) > 1 else ""
        if not noun or not isinstance(raw, dict):
            return noun
        names = [raw.get(key) for key in ("ref", "no", "name", "title", "id")]
        said = next((n for n in names if isinstance(n, str) and n), "")
        return f"{noun} {clean(said)[:40]}".rstrip()

    def wrong(self, what: str, do: str) -> FileError:
        """Return the error of the value looked at: what is wrong with it and what to do."""
        return FileError(f"{self.where()}: {what}; {do}.")

    def wrong_value(self, value: Any, do: str) -> FileError:
        """Return the error of a value that is not what its field takes."""
        key = next((step for step in reversed(self.path) if isinstance(step, str)), "")
        inside = "" if self.path[-1:] == [key] else "a value in "
        return self.wrong(
            f"{inside}“{clean(key)[:40]}” cannot be {shown(value)}", do + pointed(value)
        )

    def warn(self, what: str, do: str) -> None:
        """Note something that does not stop the reading."""
        if len(self._warnings) < MAX_WARNINGS:
            self._say(f"{self.where()}: {what}; {do}.")
        else:
            self._unsaid += 1

    def leave_out(self, error: FileError, depth: tuple[int, int]) -> None:
        """Note that something of a later version is not understood; go back to this depth."""
        self._say(str(error).rpartition(";")[0] + "; it is left out.")
        del self.path[depth[0] :], self.rests[depth[1] :]

    def _say(self, sentence: str) -> None:
        if len(self._warnings) < MAX_WARNINGS:
            self._warnings.append(sentence)
        else:
            self._unsaid += 1

    def keep(self, key: str, value: Any) -> None:
        """Keep what is unknown inside the object that is open."""
        self.rests[-1][key] = value


def shown(value: Any) -> str:
    """Return a value as a sentence can bear it."""
    if isinstance(value, list):
        return "a list"
    if isinstance(value, dict):
        return "an object"
    if isinstance(value, float):
        return f"{value:.12g}"
    text = clean(json.dumps(value, ensure_ascii=False)[:60])
    return text if len(text) <= 42 else text[:40] + "…"


def clean(text: str) -> str:
    """Return the text with a blank for each control character."""
    return CONTROL.sub(" ", text)
