"""A language of a few words: single ones, sentences with values, lists, files of words."""

from __future__ import annotations

import ast
import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QCoreApplication, QLocale
from PySide6.QtWidgets import QApplication

from app.tr import CONTEXT, tr
from app.wording.gather import texts_of, words_of_the_program
from app.wording.language import Language
from app.wording.speaking import LanguageError, language_from, speak, write

GERMAN = {
    "Move {0} to {1}": "{0} nach {1} bringen",
    "sheet": "Blatt",
    "{count} parts": "{count} Teile",
    "relay": "Relais",
    "fused at {amps:current}": "mit {amps:current} abgesichert",
    ", and it hums": ", und es brummt",
    "Go to Draw first.": "Zuerst ins Zeichnen.",
    "or": "oder",
    "Delete": "Löschen:",
}


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("sheet", "Blatt"),
        ("Sheet", "Blatt"),
        ("Move K1 to sheet", "K1 nach Blatt bringen"),
        ("3 parts", "3 Teile"),
        ("Relay.", "Relais."),
        ("Go to Draw first. 3 parts.", "Zuerst ins Zeichnen. 3 Teile."),
        ("relay, sheet", "Relais, Blatt"),
        ("K1 or K2", "K1 oder K2"),
        ("relay 12 V", "Relais 12 V"),
        ("Delete M1", "Löschen: M1"),
        ("{part} is fused at {amps:current}, and it hums",
         "{part} is mit {amps:current} abgesichert, und es brummt"),
        ("nothing of this", None),
        ("", None),
    ],
)  # fmt: skip
def test_what_is_said(text: str, said: str | None) -> None:
    assert Language(GERMAN).say(text) == said


def test_a_value_is_never_put_in_a_place_it_was_not_named_for() -> None:
    made = Language({"{a} fits {a}": "{a}!", "{a} burns {b}": "{b} und {c}"})
    assert made.say("K1 fits K2") is None
    assert made.say("K1 fits K1") == "K1!"
    assert made.say("K1 burns K2") is None


@given(st.text(st.characters(codec="utf-8", exclude_characters="{}"), max_size=60))
def test_any_text_is_taken_and_its_numbers_are_kept(text: str) -> None:
    said = Language(GERMAN).say(text)
    if said is not None:
        assert sorted(c for c in said if c.isdigit()) == sorted(c for c in text if c.isdigit())


def test_words_are_gathered_from_code() -> None:
    code = '''
"""Not this."""
A = "Move"
"""Nor this."""
def f(x):
    """Nor this one."""
    return f"There is no part {x!r} in {'any ' + x}." + tr("Yes, {name}", name=x)
B = what + ": it opens"
C = "some_key"
'''
    found = [*texts_of(ast.parse(code))]
    assert {"Move", "There is no part {0} in {1}.", "Yes, {name}", "any ", "{0}: it opens"} <= {
        *found
    }
    assert not {"some_key", "Not this.", "Nor this."} & {*found}


def test_the_programs_own_words_are_among_them() -> None:
    words = words_of_the_program()
    assert words["&Tray"] == "app/actions/docks.py"
    assert "Lead-acid battery." in " ".join(words)
    assert any(t.startswith("Road-vehicle cable") for t in words)


def test_a_file_of_words_is_written_filled_in_and_spoken(
    qapp: QApplication, tmp_path: Path
) -> None:
    path = tmp_path / "de.json"
    write(path)
    words = json.loads(path.read_text(encoding="utf-8"))
    assert len(words) > 2000
    assert set(words.values()) == {""}
    path.write_text(json.dumps({"Tray": "Vorrat", "old": "alt"}), encoding="utf-8")
    write(path)
    again = json.loads(path.read_text(encoding="utf-8"))
    assert again["Tray"] == "Vorrat"
    assert again["old"] == "alt"
    assert again.keys() >= words.keys()
    assert speak(qapp, QLocale("fr_FR"), tmp_path) == []
    installed = speak(qapp, QLocale("de_AT"), tmp_path)
    assert tr("Tray") == "Vorrat"
    assert tr("Details") == "Details"
    for translator in installed:
        qapp.removeTranslator(translator)
        translator.setParent(None)
    assert tr("Tray") == "Tray"
    assert QCoreApplication.translate(CONTEXT, "Tray") == "Tray"


@pytest.mark.parametrize("text", ["{", "[]", '{"a": 1}'])
def test_a_file_that_does_not_read_is_named(
    qapp: QApplication, tmp_path: Path, caplog: pytest.LogCaptureFixture, text: str
) -> None:
    path = tmp_path / "de.json"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(LanguageError, match=r"de\.json"):
        language_from(path)
    assert speak(qapp, QLocale("de_DE"), tmp_path) == []
    assert "de.json" in caplog.text
    caplog.clear()
