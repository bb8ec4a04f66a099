"""Opening and saving a circuit of 1,000 wires, beside the mere decoding of its JSON."""

from __future__ import annotations

import json
import math
import tempfile
from pathlib import Path

from model.file import dumps, load, loads, save
from tests.bench import Row, compare
from tests.bench.circuits import cells

WIRES = 1000


def table() -> list[Row]:
    """Return the rows."""
    with tempfile.TemporaryDirectory() as folder:
        return _rows(Path(folder) / "bench.voltwalk")


def _rows(path: Path) -> list[Row]:
    """Return the rows for one file."""
    circuit = cells(WIRES)
    save(circuit, path)
    text = path.read_text(encoding="utf-8")

    def check() -> None:
        opened = load(path).circuit
        assert opened.parts == circuit.parts and opened.wires == circuit.wires
        assert dumps(opened) == dumps(loads(text).circuit) == text
        assert len(json.loads(text)["wires"]) == len(circuit.wires)

    def decoded() -> object:
        return json.loads(path.read_text(encoding="utf-8"))

    def encoded() -> None:
        path.with_suffix(".json").write_text(json.dumps(data), encoding="utf-8")

    data = json.loads(text)
    opening = compare(
        "opening 1,000 wires", "json.loads of the same file", ours=lambda: load(path),
        baseline=decoded, check=check, limit=math.inf, rounds=15,
    )  # fmt: skip
    saving = compare(
        "saving 1,000 wires, with backup", "json.dumps of the same data", limit=math.inf,
        ours=lambda: save(circuit, path), baseline=encoded, check=check, rounds=15,
    )  # fmt: skip
    return [opening, saving]
