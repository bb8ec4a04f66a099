"""A typed line taken apart: clauses, and words with the place they stand at."""

from __future__ import annotations

import re
from dataclasses import dataclass

LONGEST = 2000
"""Letters of a line that are read: a pasted book must not stop the program."""
QUOTES = {'"': '"', "“": "”", "„": "“", "«": "»"}
_BREAK = re.compile(r"[|;\n]|,(?!\d)|(?<!\d),")


@dataclass(frozen=True, slots=True)
class Word:
    """A word, where it starts and ends in the line, and whether it stood in quotation marks."""

    text: str
    start: int
    end: int
    quoted: bool = False

    @property
    def span(self) -> tuple[int, int]:
        """Where it stands."""
        return (self.start, self.end)


Clause = tuple[Word, ...]


def clauses(line: str) -> list[Clause]:
    """Return the clauses of a line, without those that have no words."""
    return [clause for clause in _all_clauses(line[:LONGEST]) if clause]


def last_clause(line: str) -> Clause:
    """Return the clause that the end of the line is in, () where it has no word yet."""
    return _all_clauses(line[:LONGEST])[-1]


def span_of(words: Clause) -> tuple[int, int]:
    """Return where a stretch of words stands."""
    return (words[0].start, words[-1].end) if words else (0, 0)


def _all_clauses(line: str) -> list[Clause]:
    found: list[list[Word]] = [[]]
    at = 0
    while at < len(line):
        if line[at].isspace():
            at += 1
        elif line[at] in QUOTES:
            word = _quoted(line, at)
            found[-1].append(word)
            at = word.end
        elif _BREAK.match(line, at):
            found.append([])
            at += 1
        else:
            word = _plain(line, at)
            found[-1].append(word)
            at = word.end
    return [tuple(clause) for clause in found]


def _quoted(line: str, at: int) -> Word:
    """Return the quoted text that starts here; without a closing mark it goes to the end."""
    close = line.find(QUOTES[line[at]], at + 1)
    end = len(line) if close < 0 else close
    return Word(line[at + 1 : end].strip(), at, min(end + 1, len(line)), True)


def _plain(line: str, at: int) -> Word:
    end = at + 1
    while end < len(line) and not line[end].isspace() and not _BREAK.match(line, end):
        end += 1
    return Word(line[at:end], at, end)
