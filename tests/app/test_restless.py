"""Thousands of random edits with the window open: scene and circuit agree, all undone and redone.

`VOLTWALK_EDITS` says how many; the usual number keeps the suite quick.
"""

from __future__ import annotations

import gc
import inspect
import os
import resource
import sys
import weakref
from collections.abc import Callable
from hashlib import sha256
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtGui import QUndoStack

from app.undo import ChangeCommand
from model import editing
from model.circuit import Circuit, Sheet
from model.file import dumps
from tests.app.hands import Hands
from tests.app.restless import Restless

EDITS = int(os.environ.get("VOLTWALK_EDITS", "400"))
EVERY = 100
WARM = 1000 if EDITS > 2000 else EVERY
"""After so many acts memory is counted: modules loaded and tables built once are no leak."""
MEMORY_MB = 20.0
Seen = dict[int, bytes]
"""What the file was at a step of the undo stack: its digest, so that the test holds little."""


def memory_mb() -> float:
    """Return the memory of this process that is in use now, in megabytes."""
    statm = Path("/proc/self/statm")
    if statm.exists():
        return int(statm.read_text().split()[1]) * resource.getpagesize() / 1e6
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e3


def digest(circuit: Circuit) -> bytes:
    """Return what tells one file from another."""
    return sha256(dumps(circuit).encode()).digest()


def kept_mb(undo: QUndoStack) -> float:
    """Return what the steps of undo hold, each object counted once, in megabytes."""
    stack: list[Any] = [undo.command(i) for i in range(undo.count())]
    stack = [c._box for c in stack if isinstance(c, ChangeCommand)]
    seen: set[int] = set()
    total = 0
    while stack:
        one = stack.pop()
        if id(one) not in seen and not isinstance(one, type):
            seen.add(id(one))
            total += sys.getsizeof(one)
            stack += gc.get_referents(one)
    return total / 1e6


def _first_sheet_parts(circuit: Circuit) -> set[str]:
    placed = {p.part for s in circuit.sheets.values() for p in s.places.values()}
    return {k for k, p in circuit.parts.items() if k not in placed and not p.host}


def in_step(hands: Hands) -> None:
    """Check, from the circuit alone, what the scene must show."""
    session, scene = hands.window.session, hands.window.scene
    circuit, sheet = session.circuit, session.sheet
    geometry = scene.geometry
    here = {p.part for p in sheet.places.values()}
    if sheet.id == next(iter(circuit.sheets), sheet.id):
        here |= _first_sheet_parts(circuit)
    drawn = {k: scene._cards[k] for k in geometry.places}
    assert scene._cards.keys() == geometry.places.keys()
    assert {c.part_id for c in drawn.values()} == here
    for key, place in sheet.places.items():
        part, item = circuit.parts[place.part], drawn[key]
        assert (item.pos().x(), item.pos().y()) == (place.x, place.y)
        assert item.texts == (part.reference, part.name)
    _wires_in_step(hands, circuit, sheet, here)


def _wires_in_step(hands: Hands, circuit: Circuit, sheet: Sheet, here: set[str]) -> None:
    scene = hands.window.scene
    here = here | {k for k, p in circuit.parts.items() if p.host in here}
    ends = {
        k: [e is not None and e.part in here for e in (w.first, w.second)]
        for k, w in circuit.wires.items()
    }
    assert scene._wires.keys() == {k for k, both in ends.items() if any(both)}
    both_joined = {k for k, w in circuit.wires.items() if w.first and w.second}
    assert scene._marks.keys() == {k for k in both_joined if any(ends[k]) and not all(ends[k])}
    for key in scene._wires:
        points = scene.geometry.wires[key]
        wire = circuit.wires[key]
        for end, point in ((wire.first, points[0]), (wire.second, points[-1])):
            if end is not None and end.part in here:
                host = circuit.parts[end.part].host
                standing = [p for p in scene.geometry.places.values() if p.part in (end.part, host)]
                areas = [
                    scene.geometry.cards[p.id].outer.moved(p.x, p.y).grown(20) for p in standing
                ]
                assert any(
                    a.x <= point[0] <= a.right and a.y <= point[1] <= a.bottom for a in areas
                )


def _walk(hands: Hands, seen: Seen, step: Callable[[], None], undo: QUndoStack) -> int:
    """Step through the stack, comparing the file where it was seen before; return how often."""
    found = 0
    count = 0
    while undo.canUndo() if step == undo.undo else undo.canRedo():
        step()
        count += 1
        if undo.index() in seen:
            assert digest(hands.circuit) == seen[undo.index()]
            found += 1
            in_step(hands)
    return found


def _items(hands: Hands) -> list[weakref.ref[object]]:
    scene = hands.window.scene
    return [weakref.ref(i) for i in (*scene._cards.values(), *scene._wires.values())]


def test_every_act_of_editing_is_among_those_done_at_random(hands: Hands) -> None:
    known = {
        name
        for name in editing.__all__
        if inspect.isfunction(getattr(editing, name))
        and "Edit" in str(inspect.signature(getattr(editing, name)).return_annotation)
    }
    assert known
    assert known == Restless(hands.window, 0).names


def test_thousands_of_edits_are_undone_and_redone_in_step(
    hands: Hands, capsys: pytest.CaptureFixture[str]
) -> None:
    person = Restless(hands.window, 11)
    undo = hands.window.session.undo
    seen: Seen = {}
    refs: list[weakref.ref[object]] = []
    memory: dict[int, float] = {}
    import_module("scipy.optimize")  # the layout asks for it some day: loading it is no leak
    for number in range(1, EDITS + 1):
        before = undo.index()
        person.act()
        for stale in [k for k in seen if k > min(before, undo.index())]:
            del seen[stale]
        if number % EVERY == 0:
            hands.settle()
            in_step(hands)
            seen[undo.index()] = digest(hands.circuit)
            refs += _items(hands)
            if number % WARM == 0:
                gc.collect()
                memory[number] = memory_mb()
    assert undo.count() <= EDITS * 3
    last = digest(hands.circuit)
    seen[0] = digest(Circuit(sheets={"s1": Sheet("s1", "Sheet 1")}))
    checked = _walk(hands, seen, undo.undo, undo)
    assert checked >= 1
    assert not hands.circuit.parts
    again = _walk(hands, seen, undo.redo, undo)
    assert digest(hands.circuit) == last
    steps = undo.count()
    grown = memory_mb() - memory[WARM]  # before what undo holds is counted, which takes memory
    kept = kept_mb(undo)
    _let_go(hands, refs)
    risen = ", ".join(f"{mb - memory[WARM]:.1f}" for mb in memory.values())
    with capsys.disabled():
        sys.stdout.write(
            f"\n{EDITS} acts, {sum(person.done.values())} of them editing, {steps} steps of undo; "
            f"{checked} + {again} files compared; memory grown by {grown:.1f} MB "
            f"(every {WARM} acts: {risen}; undo holds {kept:.1f}); "
            f"{len(refs)} items of the scene gone\n"
        )
    assert grown < MEMORY_MB


def _let_go(hands: Hands, refs: list[weakref.ref[object]]) -> None:
    """Open a blank sheet and check that nothing of the old one is held."""
    hands.window.session.undo.setClean()
    hands.window.files.do_new()
    hands.settle()
    hands.flush()
    gc.collect()
    assert not hands.circuit.parts
    assert not [r for r in refs if r() is not None]
