"""What holds for every act on any circuit: it can be undone, written, read, and names no ghost."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest
from hypothesis import HealthCheck, assume, event, given, settings
from hypothesis import strategies as st

from model import editing
from model.circuit import Circuit, Sheet
from model.editing import Edit, EditError
from model.editing.fragment import fragment
from model.editing.room import Room
from model.file import dumps, load, loads
from tests.model.editing import acts
from tests.strategies import circuits

ASSETS = Path(__file__).resolve().parents[3] / "assets" / "examples"
EXAMPLES = [load(path).circuit for path in sorted(ASSETS.glob("*.voltwalk"))]
SLOW = [HealthCheck.too_slow, HealthCheck.filter_too_much, HealthCheck.data_too_large]


def _checked(circuit: Circuit, edit: Edit) -> Circuit:
    """Return the circuit after an edit that is shown to be sound and reversible."""
    before = dumps(circuit)
    after = edit.change.apply(circuit)
    text = dumps(after)
    again = loads(text).circuit
    assert again == after
    assert dumps(again) == text
    restored = edit.change.revert(after)
    assert restored == circuit
    assert dumps(restored) == before
    assert dumps(edit.change.apply(restored)) == text
    assert edit.ids <= after.parts.keys() | after.wires.keys()
    assert edit.change.label
    return after


def _done(data: st.DataObject, act: acts.Act, circuit: Circuit) -> Edit | None:
    """Return an act carried out, None where it refused with a sentence."""
    try:
        return data.draw(st.composite(lambda draw: act(draw, circuit, acts.drawn(circuit)))())
    except EditError as error:
        event("refused")
        said = str(error)
    assert said.endswith(".") and "\n" not in said
    return None


@pytest.mark.parametrize("act", acts.EVERY, ids=lambda a: a.__name__)
@settings(max_examples=10, deadline=None, suppress_health_check=SLOW)
@given(data=st.data(), circuit=circuits(5, 5))
def test_every_act_on_any_circuit_is_sound_and_reversible(
    act: acts.Act, data: st.DataObject, circuit: Circuit
) -> None:
    assume(acts.fits(act, circuit))
    if edit := _done(data, act, circuit):
        _checked(circuit, edit)


@pytest.mark.parametrize("act", acts.EVERY, ids=lambda a: a.__name__)
@settings(max_examples=20, deadline=None, suppress_health_check=SLOW)
@given(data=st.data(), circuit=st.sampled_from(EXAMPLES))
def test_every_act_on_the_examples_is_sound_and_reversible(
    act: acts.Act, data: st.DataObject, circuit: Circuit
) -> None:
    if acts.fits(act, circuit) and (edit := _done(data, act, circuit)):
        _checked(circuit, edit)


@settings(max_examples=25, deadline=None, suppress_health_check=SLOW)
@given(st.data(), st.sampled_from(EXAMPLES) | circuits(4, 4))
def test_any_sequence_of_acts_undone_restores_the_file(
    data: st.DataObject, circuit: Circuit
) -> None:
    before, made, now = dumps(circuit), [], circuit
    for _ in range(6):
        act = data.draw(st.sampled_from(acts.acts_for(now)))
        if edit := _done(data, act, now):
            now = _checked(now, edit)
            made.append(edit.change)
    for change in reversed(made):
        now = change.revert(now)
    assert dumps(now) == before


MOVING = (
    acts._align, acts._distribute, acts._snap, acts._separate, acts._mirror, acts._rotate,
    acts._duplicate, acts._copy_paste,
)  # fmt: skip


@pytest.mark.parametrize("act", MOVING, ids=lambda a: a.__name__)
@settings(max_examples=15, deadline=None, suppress_health_check=SLOW)
@given(data=st.data(), circuit=st.sampled_from(EXAMPLES) | circuits(5, 3))
def test_no_card_that_was_moved_stands_over_another(
    act: acts.Act, data: st.DataObject, circuit: Circuit
) -> None:
    if not circuit.parts:
        return
    shown = acts.drawn(circuit)
    edit = data.draw(st.composite(lambda draw: act(draw, circuit, shown))())
    after = edit.change.apply(circuit)
    sheet = after.sheets.get(shown.id)
    if sheet is None:
        return
    room = Room(after, sheet)
    # A pasted group keeps its own arrangement, overlaps included: it is held against the others.
    fresh = act in (acts._duplicate, acts._copy_paste)
    moved = [p for k, p in sheet.places.items() if shown.places.get(k) != p]
    for place in room.drawn(moved):
        others = moved if fresh else [place]
        assert not any(room.area(place).overlaps(o) for o in room.others(others))


def _shape(circuit: Circuit) -> Counter[object]:
    """Return what a circuit is but for ids, references and numbers: its parts, wires, places.

    Parts are told apart by all they state, so that isomorphic circuits have equal shapes; the
    converse holds up to parts that state the same.
    """
    body = {
        p.id: repr((p.kind, p.name, sorted(p.ratings.items()), p.duty, p.terminals, p.table, p.rest,
                    p.ways, p.markings, bool(p.host), p.slot, p.location, p.note, p.extra))
        for p in circuit.parts.values()
    }  # fmt: skip
    found: Counter[object] = Counter(body.values())
    for wire in circuit.wires.values():
        ends = [(body[e.part], e.terminal, e.face) if e else None
                for e in (wire.first, wire.second)]  # fmt: skip
        found[repr((ends, wire.size, wire.length_m, wire.colour, wire.tracer, wire.insulation,
                    wire.circuit, wire.first_fit, wire.second_fit, wire.note, wire.extra,
                    wire.ends_ohm, bool(wire.cable), len(wire.branches)))] += 1  # fmt: skip
    for sheet in circuit.sheets.values():
        for place in sheet.places.values():
            found[(body[place.part], place.turn, place.mirrored, place.shows)] += 1
    return found


@settings(max_examples=40, deadline=None, suppress_health_check=SLOW)
@given(st.data(), st.sampled_from(EXAMPLES) | circuits(6, 6))
def test_what_is_pasted_has_the_shape_of_what_was_copied(
    data: st.DataObject, circuit: Circuit
) -> None:
    if not circuit.parts:
        return
    chosen = data.draw(
        st.lists(st.sampled_from([*circuit.parts, *circuit.wires]), min_size=1, unique=True)
    )
    shown = acts.drawn(circuit)
    copied = fragment(circuit, chosen, shown)
    text = editing.copy_text(circuit, chosen, shown)
    blank = Circuit()
    pasted = editing.paste(blank, text, Sheet("here")).change.apply(blank)
    assert _shape(pasted) == _shape(copied)
    twice = editing.paste(circuit, text, shown)
    after = twice.change.apply(circuit)
    mine = Circuit(
        {k: p for k, p in after.parts.items() if k in twice.ids},
        {k: w for k, w in after.wires.items() if k in twice.ids},
    )
    bare = Circuit(copied.parts, copied.wires)
    assert _sizes(mine) == _sizes(bare)
    assert len(twice.ids) == len(copied.parts) + len(copied.wires)
    again = editing.copy_text(after, twice.ids)
    assert len(loads(again).circuit.wires) == len(copied.wires)


def _sizes(circuit: Circuit) -> Counter[object]:
    """Return how many parts of which name have how many wires."""
    ends = Counter(e.part for w in circuit.wires.values() for e in (w.first, w.second) if e)
    return Counter((p.name, p.note, ends[p.id]) for p in circuit.parts.values())
