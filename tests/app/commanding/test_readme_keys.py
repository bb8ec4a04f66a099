"""The README's tables of keys say what the program's own data say."""

from __future__ import annotations

import re

import pytest

from app.actions import ACTIONS
from app.commanding.keymap import SHEET_KEYS, normal
from app.commanding.search import find_commands, menu_of, plain
from tests import markdown

README = markdown.page("README.md")
KEYS = README.split("## Keys\n")[1].split("\n## ")[0]
CALLED = markdown.table(KEYS, "key", "command", "menu")
SHEET = markdown.table(KEYS, "on the sheet", "does")


def test_every_command_listed_has_the_keys_listed_in_its_menu() -> None:
    known = {plain(s): s for s in ACTIONS}
    assert len(CALLED) >= 25
    for row in CALLED:
        spec = known[row["command"]]
        assert tuple(markdown.words_in_code(row["key"])) == spec.keys, spec.key
        assert row["menu"] == menu_of(spec)


def test_the_keys_of_the_sheet_are_those_of_the_page_of_keys() -> None:
    assert [(r["on the sheet"], r["does"]) for r in SHEET] == list(SHEET_KEYS)


@pytest.mark.parametrize(
    "key",
    sorted(set(re.findall(r"\b(?:(?:Ctrl|Alt|Shift)\+)+\w+|\bF(?:[2-9]|1\d)\b", README))),
)
def test_every_key_the_readme_names_calls_something(key: str) -> None:
    held = {normal(k) for s in ACTIONS for k in s.keys}
    told = {k for keys, does in SHEET_KEYS for k in re.findall(r"\w+\+\w+", f"{keys} {does}")}
    fuse = "+" not in key and f"`{key}`" in README  # a fuse's name looks like a key
    assert normal(key) in held or key in told or fuse, key


def test_the_word_that_the_readme_finds_mirror_by() -> None:
    assert "flip" in KEYS
    assert find_commands(ACTIONS, "flip")[0].key == "mirror"
