"""`operate` gives the state tables of the reference circuits, row by row, from its JSON.

The tables are regression values of two nodal calculations made apart from this program (see
`tests.circuits`), good to 0.002 V and 0.002 A.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import pytest

from tests.app.commands.calling import call
from tests.circuits import NAMES, Row, Sequence, path, sequences

VOLTS = AMPERES = 0.002
EVERY = [pytest.param(s, id=f"{n}-{i}") for n in NAMES for i, s in enumerate(sequences(n))]


def as_typed(faults: Iterable[str]) -> list[str]:
    return [f.replace("shell ", "shell+") for f in faults]


def words(rows: Iterable[Row]) -> tuple[list[str], list[int]]:
    """Return the options of these rows, and the step that each row ends with."""
    options: list[str] = []
    last: list[int] = []
    faults: tuple[str, ...] = ()
    for row in rows:
        gone = [f"{f.partition('=')[0]}=none" for f in faults if f not in row.faults]
        changed = gone + as_typed(f for f in row.faults if f not in faults)
        if changed:
            options += ["--fault", ",".join(changed)]
        faults = row.faults
        engine = {"engine": row.engine} if row.engine else {}
        moved = {**row.positions, **engine}
        options += ["--set", ",".join(f"{k}={v}" for k, v in moved.items())]
        last.append(len(options) // 2 - 1)
    return options, last


@pytest.mark.parametrize("sequence", EVERY)
def test_a_state_table_row_by_row(sequence: Sequence) -> None:
    options, last = words(sequence.rows)
    done = call("operate", path(sequence.circuit), "--json", *options)
    assert (done.code, done.err) == (0, "")
    steps = done.json["steps"]
    assert len(steps) == len(options) // 2
    for row, index in zip(sequence.rows, last, strict=True):
        check_row(row, steps[index])


def check_row(row: Row, step: dict[str, Any]) -> None:
    assert step["settled"] == "steady", row.case
    expect = row.expect
    if "engine" in expect:
        assert step["engine"] == expect["engine"], row.case
    for relay, stands in expect.get("relays", {}).items():
        assert step["relays"][relay] == stands, (row.case, relay)
    for load, reading in expect["loads"].items():
        check_load(row.case, load, reading, step["loads"][load])
    for terminal, volts in expect.get("volts", {}).items():
        assert step["terminals"][terminal] == pytest.approx(volts, abs=VOLTS), (row.case, terminal)
    for part, amps in expect.get("amperes", {}).items():
        assert step["currents"][part] == pytest.approx(amps, abs=AMPERES), (row.case, part)


def check_load(case: str, load: str, expect: dict[str, Any], got: dict[str, Any]) -> None:
    assert got["state"] == expect["state"], (case, load)
    if "voltage_v" in expect:
        assert got["voltage_v"] == pytest.approx(expect["voltage_v"], abs=VOLTS), (case, load)
        assert got["current_a"] == pytest.approx(expect["current_a"], abs=AMPERES), (case, load)
