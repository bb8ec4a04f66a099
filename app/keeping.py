"""What the program remembers from one start to the next: favourites, last used, recent files."""

from __future__ import annotations

import json

from PySide6.QtCore import QSettings


class Keep:
    """Words by key, kept as long as the program runs; what tests and pictures use."""

    def __init__(self) -> None:
        self._held: dict[str, str] = {}

    def words(self, key: str) -> tuple[str, ...]:
        """Return the words kept under a key, none where there are none or they do not read."""
        try:
            found = json.loads(self.read(key) or "[]")
        except ValueError:
            return ()
        return tuple(w for w in found if isinstance(w, str)) if isinstance(found, list) else ()

    def put(self, key: str, words: tuple[str, ...]) -> None:
        """Keep words under a key in place of those there."""
        self.write(key, json.dumps(words, ensure_ascii=False))

    def first(self, key: str, word: str, most: int) -> None:
        """Put a word before the others of a key and forget those beyond `most`."""
        rest = tuple(w for w in self.words(key) if w != word)
        self.put(key, (word, *rest)[:most])

    def toggle(self, key: str, word: str) -> bool:
        """Add a word under a key or take it away; tell whether it is there now."""
        words = self.words(key)
        there = word in words
        self.put(key, tuple(w for w in words if w != word) if there else (*words, word))
        return not there

    def read(self, key: str) -> str:
        """Return the text kept under a key, "" for none."""
        return self._held.get(key, "")

    def write(self, key: str, text: str) -> None:
        """Keep a text under a key."""
        self._held[key] = text


class SettingsKeep(Keep):
    """Words kept in the settings of the person who runs the program."""

    def read(self, key: str) -> str:
        """Return the text kept under a key, "" for none."""
        return str(QSettings().value(key, "") or "")

    def write(self, key: str, text: str) -> None:
        """Keep a text under a key."""
        QSettings().setValue(key, text)
