"""What is painted follows the state: arms, words, halos, outlines, arrows."""

from __future__ import annotations

from pathlib import Path

import pytest

pytest.importorskip("PySide6")

from app.analysis import Analysis, Analyst
from app.presenter import states_of
from app.scene.painted import PaintedPart, PaintedWire, amperes
from app.session import at_rest
from model.file import load
from model.states import Memory

CIRCUITS = Path(__file__).parents[2] / "circuits"


def _looked(name: str, **positions: str) -> tuple[dict[str, PaintedPart], dict[str, PaintedWire]]:
    """Return what is painted of a reference circuit by reference and wire number."""
    circuit = load(CIRCUITS / f"{name}.voltwalk").circuit
    ids = {p.reference: p.id for p in circuit.parts.values()}
    setting = at_rest(circuit).moved({ids[k]: v for k, v in positions.items()})
    parts, wires = states_of(Analyst().solve(circuit, setting, Memory()), circuit)
    return (
        {circuit.parts[k].reference: p for k, p in parts.items()},
        {circuit.wires[k].number: w for k, w in wires.items()},
    )


def test_a_pump_circuit_at_rest() -> None:
    parts, wires = _looked("C01")
    assert (parts["S1"].position, parts["S1"].moved, parts["S1"].away) == ("OFF", 0.0, False)
    assert (parts["K1"].moved, parts["K1"].energised, parts["M1"].running) == (0.0, False, False)
    assert wires["W05"].side == "fed"  # as far as the open contact
    assert wires["W06"].side == "none"  # behind it
    assert wires["W12"].side == "ground"
    assert not any(w.carrying for w in wires.values())


def test_a_pump_circuit_switched_on() -> None:
    parts, wires = _looked("C01", S1="ON")
    assert (parts["S1"].position, parts["S1"].moved, parts["S1"].away) == ("ON", 1.0, True)
    assert (parts["K1"].moved, parts["K1"].energised, parts["M1"].running) == (1.0, True, True)
    assert wires["W06"].carrying
    assert wires["W06"].current_a == pytest.approx(8.0, abs=0.5)  # 12.6 V over 1.5 Ω and wires
    assert wires["W13"].current_a > 0  # from the ground point back to the battery
    assert parts["M1"].reading.endswith(" A")


def test_a_tripped_crash_switch_shows_its_other_contact() -> None:
    parts, _ = _looked("C01", S1="ON", S2="TRIPPED")
    assert (parts["S2"].position, parts["S2"].moved) == ("TRIPPED", 1.0)
    assert not parts["M1"].running


def test_a_break_button_is_closed_at_rest_and_open_when_pressed() -> None:
    assert _looked("C13", S0="ON")[0]["S2"].moved == 0.0
    assert _looked("C13", S0="ON", S2="PRESS")[0]["S2"].moved == 1.0


def test_current_backwards_turns_the_arrow() -> None:
    """The lock motor runs either way round (reversing pair of change-over relays)."""
    lock = _looked("C10", S1="LOCK")[1]["W08"].current_a
    unlock = _looked("C10", S1="UNLOCK")[1]["W08"].current_a
    assert lock == pytest.approx(-unlock, rel=0.01)
    assert abs(lock) == pytest.approx(7.457, abs=0.002)  # state table C10


def test_a_circuit_without_a_state_is_painted_plain() -> None:
    circuit = load(CIRCUITS / "C01.voltwalk").circuit
    parts, wires = states_of(Analysis(circuit), circuit)
    assert {w.side for w in wires.values()} == {"none"}
    assert not any(w.solved for w in wires.values())
    assert {p.position for p in parts.values() if p.control} == {"ON", "OFF", "SET"}


@pytest.mark.parametrize(
    ("current", "text"),
    [(0.1364, "0.14 A"), (8.27, "8.3 A"), (-8.27, "8.3 A"), (143.6, "144 A"), (0.0042, "0.004 A")],
)
def test_amperes_at_a_glance(current: float, text: str) -> None:
    assert amperes(current) == text
