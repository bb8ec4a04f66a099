"""Calls the command line inside the test's own process."""

from __future__ import annotations

import io
import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from app.cli import main
from checks.sketch import sketch
from model.file import dumps


@dataclass(frozen=True, slots=True)
class Call:
    """What came of a call: exit code, data, talk."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        return json.loads(self.out)


def call(*words: object) -> Call:
    """Return what `voltwalk WORDS` does."""
    out, err = io.StringIO(), io.StringIO()
    code = main([str(w) for w in words], {}, out, err)
    return Call(code, out.getvalue(), err.getvalue())


def refused(code: int, *words: object) -> str:
    """Return the one sentence of a call that must fail with this code and give no data."""
    done = call(*words)
    assert (done.code, done.out) == (code, ""), (done.out, done.err)
    lines = done.err.splitlines()
    assert len(lines) == 1
    assert lines[0].startswith("voltwalk: ")
    assert "Traceback" not in done.err
    return lines[0]


def written(folder: Path, text: str, name: str = "test.voltwalk") -> Path:
    """Return the file of a circuit described in a few lines."""
    path = folder / name
    path.write_text(dumps(sketch(text)), encoding="utf-8")
    return path
