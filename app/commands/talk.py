"""Where a command writes: data on one stream, talk on the other."""

from __future__ import annotations

import json
import textwrap
from dataclasses import dataclass
from typing import Any, TextIO


@dataclass(frozen=True, slots=True)
class Talk:
    """The two streams of a command and the width to write to."""

    out: TextIO
    err: TextIO
    width: int = 80

    def data(self, text: str) -> None:
        """Write what was asked for."""
        self.out.write(text + "\n")

    def json(self, value: Any) -> None:
        """Write data for a program; signs are escaped where the stream cannot bear them."""
        encoding = (getattr(self.out, "encoding", None) or "utf-8").lower()
        plain = not encoding.startswith("utf")
        self.data(json.dumps(value, ensure_ascii=plain, indent=1, allow_nan=False))

    def say(self, sentence: str) -> None:
        """Tell the person something that is no data."""
        self.err.write(f"voltwalk: {sentence}\n")

    def wrapped(self, text: str, indent: str = "") -> str:
        """Return the text broken to the width."""
        return textwrap.fill(text, self.width, initial_indent=indent, subsequent_indent=indent)
