"""`check` on a file of some 60 parts as a whole process, beside one that imports two libraries."""

from __future__ import annotations

import json
import tempfile
from functools import partial
from pathlib import Path

from checks.run import check as checked
from model.circuit import Circuit
from model.file import load, save
from tests.bench import Row, compare
from tests.bench.circuits import banks, cells
from tests.bench.process import run

IMPORTS = "import networkx, scipy.sparse.linalg"


def table() -> list[Row]:
    """Return the rows: the combinations of positions are what makes the difference."""
    with tempfile.TemporaryDirectory() as folder:
        few = _row(banks(5, 3), "5 switches", Path(folder))
        many = _row(cells(91, "lamp"), "11 switches", Path(folder))
    return [few, many]


def _row(circuit: Circuit, controls: str, folder: Path) -> Row:
    """Return the row of one circuit."""
    path = folder / f"{controls}.voltwalk"
    save(circuit, path)
    assert 60 <= len(circuit.parts) <= 63
    assert sum(p.kind == "switch" for p in circuit.parts.values()) == int(controls.split()[0])
    ours = partial(run, ["-m", "app", "check", str(path), "--json"], folder, (0, 1))

    def check() -> None:
        said = json.loads(ours())["findings"]
        found = checked(load(path).circuit).findings
        assert [f["sentence"] for f in said] == [f.sentence() for f in found]
        assert said, "a circuit without findings proves little"

    return compare(
        f"check of a {len(circuit.parts)}-part file with {controls}, whole process",
        f'python3 -c "{IMPORTS}"',
        ours=ours, baseline=partial(run, ["-c", IMPORTS], folder),
        check=check, limit=2, rounds=5,
    )  # fmt: skip
