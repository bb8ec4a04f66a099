"""Reads the pages of the project, so that tests can hold what they say against the program."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]


def page(name: str) -> str:
    """Return the text of a page at the top of the project."""
    return (ROOT / name).read_text(encoding="utf-8")


def section(text: str, start: str, end: str) -> str:
    """Return what stands between two texts, each there once."""
    assert text.count(start) == 1, f"“{start}” must stand there once"
    after = text.split(start)[1]
    assert end in after, f"“{end}” must follow “{start}”"
    return after.split(end)[0]


def tables(text: str) -> list[list[dict[str, str]]]:
    """Return every table: its rows by heading, without the marks of code."""
    blocks = re.findall(r"(?:^\|.*\|\n)+", text + "\n", re.MULTILINE)
    return [_rows(block) for block in blocks]


def _rows(block: str) -> list[dict[str, str]]:
    lines = [[c.strip() for c in line.strip("|").split("|")] for line in block.splitlines()]
    heads, _, *rest = lines
    return [dict(zip(heads, row, strict=True)) for row in rest]


def table(text: str, *heads: str) -> list[dict[str, str]]:
    """Return the one table with these headings."""
    (found,) = (rows for rows in tables(text) if rows and tuple(rows[0]) == heads)
    return found


def plain(cell: str) -> str:
    """Return a cell without the marks of code."""
    return cell.replace("`", "")


def words_in_code(text: str) -> list[str]:
    """Return what stands between the marks of code in a line."""
    return re.findall(r"`([^`]+)`", text)


def code_blocks(text: str, language: str) -> list[str]:
    """Return the code blocks of a language, without indent."""
    found = re.findall(rf"^( *)```{language}\n(.*?)^ *```$", text, re.DOTALL | re.MULTILINE)
    return [re.sub(rf"^{indent}", "", body, flags=re.MULTILINE) for indent, body in found]


def links(text: str) -> Iterator[str]:
    """Yield where links and pictures lead."""
    yield from re.findall(r"\]\(([^)]+)\)", text)


@dataclass(frozen=True, slots=True)
class Call:
    """A command of a console block, what it shows, and the exit code that is told after it."""

    words: tuple[str, ...]
    shown: str
    code: int


def calls(block: str) -> list[Call]:
    """Return the commands of a console block; without `echo $?` the exit code is 0."""
    parts = re.findall(r"^\$ (.*)\n((?:(?!\$ ).*\n?)*)", block, re.MULTILINE)
    found: list[Call] = []
    for line, shown in parts:
        if line == "echo $?":
            found[-1] = Call(found[-1].words, found[-1].shown, int(shown))
        else:
            found.append(Call(tuple(line.split()), shown, 0))
    return found


def agrees(shown: str, output: str) -> bool:
    """Tell whether an output is what is shown, where a line “…” stands for any lines."""
    pieces = [re.escape(piece.strip("\n")) for piece in re.split(r"^…$", shown, flags=re.MULTILINE)]
    return re.fullmatch(r"(?s:.*)".join(pieces), output.strip("\n")) is not None
