"""The language that the program speaks: read from a file of words, taken by the system's language.

A file of words is one JSON object: the program's words, and those to say for them. Its name is
that of the language, as in ``de.json``. ``python -m app.wording.speaking de.json`` writes one in
which nothing is translated yet, and adds to one that is there what it does not have yet.
"""

from __future__ import annotations

import json
import logging
import sys
from pathlib import Path

from PySide6.QtCore import QCoreApplication, QLibraryInfo, QLocale, QTranslator

from app.wording.gather import ROOT, words_of_the_program
from app.wording.language import Language

WORDS = ROOT / "assets" / "words"
"""Where files of words lie."""
log = logging.getLogger(__name__)


class LanguageError(ValueError):
    """A file of words that does not read."""


def language_from(path: Path) -> Language:
    """Read a language from a file of words.

    Raises
    ------
    LanguageError
        When the file is not one JSON object of texts.
    """
    return Language(words_in(path))


def words_in(path: Path) -> dict[str, str]:
    """Return what a file of words holds; raises `LanguageError` where it does not read."""
    try:
        words = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise LanguageError(f"{path} does not read as a file of words: {error}") from error
    if not isinstance(words, dict) or not all(isinstance(v, str) for v in words.values()):
        raise LanguageError(f"{path} must hold one JSON object of texts.")
    return words


def speak(app: QCoreApplication, locale: QLocale, folder: Path = WORDS) -> list[QTranslator]:
    """Let the program speak the person's language where there is a file of its words.

    Qt's own words (dialogs, the buttons of docks) follow where Qt has them. A file that does not
    read is left aside, and the log says so.
    """
    short = locale.name().partition("_")[0]
    path = next((p for n in (locale.name(), short) if (p := folder / f"{n}.json").exists()), None)
    if path is None:
        return []
    try:
        found: list[QTranslator] = [language_from(path)]
    except LanguageError as error:
        log.warning("%s", error)
        return []
    own = QTranslator()
    if own.load(f"qtbase_{short}", QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath)):
        found.insert(0, own)
    for translator in found:
        translator.setParent(app)
        app.installTranslator(translator)
    return found


def write(path: Path) -> None:
    """Write a file of words, or add to one what it does not have; the texts stand by file."""
    known = words_in(path) if path.exists() else {}
    words = {**{text: known.get(text, "") for text in words_of_the_program()}, **known}
    path.write_text(json.dumps(words, ensure_ascii=False, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    write(Path(sys.argv[1]))
