"""One part with 20 wires dragged in a circuit of 1,000 wires and 500 parts, beside one frame.

Every step is what the window does when the mouse moves: the change is made, the sheet laid out and
mirrored by the scene, and its view of 1280 × 800 pixels, at the size in which it is drawn, paints
what has changed. The steps are also timed up to the layout alone.
"""

from __future__ import annotations

import time
from itertools import pairwise

from PySide6.QtWidgets import QApplication

from app import acts
from app.scene.geometry import SheetGeometry, lay_out
from app.scene.sheet_scene import SheetScene
from app.theme import Look
from model.circuit import Circuit
from tests.bench import FRAME_S, Row, Times, compare, times
from tests.bench.bench_sheet import Sight
from tests.bench.sheets import board, busiest

STEPS = 120
STRIDE = (10.0, 70.0)
A_ROW = 12
OPEN_S = 3.0
"""How long opening such a circuit may take, laid out from nothing."""


def table() -> list[Row]:
    """Return the rows."""
    app = QApplication.instance() or QApplication(["bench"])
    drag = Drag(board())
    rows = [
        drag.row("drag one part with 20 wires, 500 parts, 1,000 wires: the whole step", drag.step),
        drag.row("… its layout and routing alone", drag.lay),
        drag.row("… letting go: its wires and their labels laid for good", drag.drop, rounds=10),
        drag.opening(),
    ]
    drag.close()
    app.processEvents()
    return rows


class Drag:
    """A circuit on a scene, and the busiest part of it in somebody's hand."""

    def __init__(self, circuit: Circuit) -> None:
        self.circuit, self.part = circuit, busiest(circuit)
        self.sheet = circuit.sheets["s1"]
        start = time.perf_counter()
        self.rest = lay_out(circuit, self.sheet, SheetGeometry())
        self.opened_s = time.perf_counter() - start
        self.shown = self.rest
        self.scene = SheetScene(Look())
        self.scene.geometry = self.rest
        self.scene.show_circuit(circuit, self.sheet)
        assert self.scene.geometry is self.rest
        self.sight = Sight(self.scene, 1.0, self.scene.part_item(self.part).sceneBoundingRect())
        self.count = 0

    def after(self) -> Circuit:
        """Return the circuit with the part one step further on."""
        self.count += 1
        by = (STRIDE[0] * (self.count % 60 + 1), STRIDE[1] * (self.count % STEPS // A_ROW))
        change = acts.moved(self.circuit, self.sheet, self.rest, [self.part], by)
        assert change is not None
        return change.apply(self.circuit)

    def lay(self) -> None:
        """Lay out one step."""
        after = self.after()
        self.shown = lay_out(after, after.sheets["s1"], self.shown, quick=True)

    def step(self) -> None:
        """Make one step as the window does."""
        after = self.after()
        self.scene.show_circuit(after, after.sheets["s1"], quick=True)
        QApplication.processEvents()

    def close(self) -> None:
        """Let view and scene go."""
        self.sight.close()
        self.scene.detach()

    def drop(self) -> None:
        """Let go at one step."""
        after = self.after()
        lay_out(after, after.sheets["s1"], self.rest)

    def check(self) -> None:
        """See that the wires at the part follow it, and that all others stay or make room."""
        wires = self.circuit.wires.values()
        own = [w.id for w in wires if self.part in {e.part for e in (w.first, w.second) if e}]
        assert len(own) == 20 and len(wires) > 900 and len(self.circuit.parts) > 480
        self.lay()
        moved = {k for k, points in self.shown.wires.items() if points != self.rest.wires[k]}
        assert moved.issuperset(own) and set(self.shown.wires) == set(self.circuit.wires)
        for wire in own:
            ends = (self.circuit.wires[wire].first, self.circuit.wires[wire].second)
            points = self.shown.wires[wire]
            assert all((a[0] == b[0]) != (a[1] == b[1]) for a, b in pairwise(points))
            for end, point in zip(ends, (points[0], points[-1]), strict=True):
                assert end is not None
                at = next(p for p in self.shown.places.values() if p.part == end.part)
                spots = self.shown.cards[at.id].ports[end.node[1]].spots
                assert point in {(at.x + s.x, at.y + s.y) for s in spots}

    def row(self, what: str, ours: object, rounds: int = STEPS) -> Row:
        """Return one row."""
        assert callable(ours)
        return compare(
            what, "one frame", ours=ours, baseline=FRAME_S, check=self.check,
            limit=1.0 if rounds == STEPS else float("inf"), rounds=rounds, judged="p95",
        )  # fmt: skip

    def opening(self) -> Row:
        """Return the row of the first layout, once: it takes seconds."""
        once = times([self.opened_s])
        what = "lay out that circuit from nothing: places, wires, labels"
        return Row(what, f"{OPEN_S:g} s", once, Times(OPEN_S, OPEN_S), 1.0)
