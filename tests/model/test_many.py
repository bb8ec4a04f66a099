"""States found by updates, many at once, against each of them solved anew by itself."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

import model.looking
from model.circuit import Circuit, End, Wire
from model.file import load
from model.survey import Survey
from model.wiresize import Size
from tests.bench.circuits import cells

FILES = sorted(Path("tests/circuits").glob("*.voltwalk"))


def compare(circuit: Circuit, monkeypatch: pytest.MonkeyPatch, *, quick: bool) -> int:
    """Compare a survey by updates with one that solves every state singly; return its states."""
    with monkeypatch.context() as never_stacked:
        never_stacked.setattr("model.batch.MOST_PORTS", 0)
        near = Survey(circuit, 200, quick=quick)
    with monkeypatch.context() as singly:
        singly.setattr(model.looking, "FEW", 10**9)
        alone = Survey(circuit, 200, quick=quick)
    assert near.settings == alone.settings
    assert near.supplies == alone.supplies
    np.testing.assert_array_equal(near.on, alone.on)
    np.testing.assert_allclose(near.volts, alone.volts, atol=1e-6)
    np.testing.assert_allclose(near.amps, alone.amps, rtol=1e-6, atol=1e-5)
    assert near.ever_pulled == alone.ever_pulled
    return len(near.settings)


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.stem)
def test_the_circuits(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert compare(load(path).circuit, monkeypatch, quick=False) > 0


@pytest.mark.parametrize("load_kind", ["heater", "lamp", "lamp-led", "module"])
@pytest.mark.parametrize("quick", [False, True])
def test_cells(load_kind: str, quick: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    count = compare(cells(120, load_kind), monkeypatch, quick=quick)
    assert count > (15 if quick else 100)


def test_one_switch_that_moves_more_relays_than_an_update_takes(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    circuit = cells(260)
    coils = [p for p in circuit.parts.values() if p.kind.startswith("relay")]
    wires = dict(circuit.wires)
    for n, relay in enumerate(coils[1:]):
        wires[f"V{n}"] = Wire(f"V{n}", "", End("K0", "86"), End(relay.id, "86"), Size(mm2=1), 1.0)
    circuit = Circuit(parts=circuit.parts, wires=wires, settings=circuit.settings)
    assert compare(circuit, monkeypatch, quick=True) > 30
