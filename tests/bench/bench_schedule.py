"""The Schedule after one change in a circuit of 1,000 wires, hidden and shown, beside a frame.

Shown means a dock of 1280 × 300 pixels with its usual columns. The window asks for it twice after
a change: when the circuit changed, and when it was solved again. What is changed and solved is not
timed; painting is timed by itself, of all that is in sight.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QApplication

from app.docks.schedule import Schedule
from app.session import Session
from model.editing import set_wires
from model.solver import Solver
from tests.bench import FRAME_S, Row, Times, seconds, times
from tests.bench.changes import half_on
from tests.bench.circuits import cells

ROUNDS = 20
FRAMES = 2.0
HIDDEN = 0.01
"""Of a frame, for doing nothing."""


def table() -> list[Row]:
    """Return the rows."""
    app = QApplication.instance() or QApplication(["bench"])
    desk = Desk()
    rows = [desk.row("hidden, the circuit changed", desk.change, desk.refresh, HIDDEN)]
    desk.show()
    desk.check()
    rows += [
        desk.row("shown, the circuit changed", desk.change, desk.refresh, FRAMES),
        desk.row("shown, it was solved again", desk.solve, desk.refresh, FRAMES),
        desk.row("shown, a row of it painted", desk.nothing, desk.paint, FRAMES),
        desk.row("shown, sorted by another column", desk.nothing, desk.sort, FRAMES),
        desk.row("shown, a letter of the filter typed", desk.nothing, desk.filter, FRAMES),
    ]
    desk.close()
    app.processEvents()
    return rows


class Desk:
    """A Schedule over a circuit in which one wire after the other changes."""

    def __init__(self) -> None:
        circuit = cells(1000)
        self.session = Session(circuit)
        self.session.set_positions(dict(half_on(Solver(circuit)).positions))
        self.session.schedule.settle()
        self.schedule = Schedule(self.session)
        self.schedule.resize(1280, 300)
        self.ids = list(self.session.circuit.wires)
        self.count = 0

    def row(
        self, what: str, before: Callable[[], object], timed: Callable[[], object], limit: float
    ) -> Row:
        """Return one row: what is prepared each time is not timed."""
        samples = []
        for _ in range(ROUNDS):
            before()
            samples.append(seconds(timed))
        name = f"Schedule of {len(self.ids):,} wires {what}"
        return Row(name, "one frame", times(samples), Times(FRAME_S, FRAME_S), limit)

    def show(self) -> None:
        """Show it."""
        self.schedule.show()
        QApplication.processEvents()

    def change(self) -> str:
        """Change the length of the next wire, and return its id."""
        self.count += 1
        wire = self.ids[self.count * 7 % len(self.ids)]
        length = 1.0 + self.count / 100
        self.session.do(set_wires(self.session.circuit, [wire], length_m=length).change)
        return wire

    def solve(self) -> None:
        """Change a wire, show it, and solve again."""
        self.change()
        self.schedule.refresh()
        self.session.schedule.settle()

    def check(self) -> None:
        """See that a change is shown, in its one cell, and the currents of the solved state."""
        table = self.schedule.wires.table
        self.solve()
        self.schedule.refresh()
        wire = self.change()
        row, length = table.ids.index(wire), table.place["length_m"]
        self.schedule.wires.scrollTo(table.index(row, length))
        self.schedule.wires.viewport().repaint()
        self.schedule.refresh()
        assert len(table.ids) > 900 and table.signalled == 1
        assert table.index(row, length).data() == f"{1 + self.count / 100:.3g} m"
        self.session.schedule.settle()
        self.schedule.refresh()
        state = self.session.analysis.state
        assert state is not None
        busiest = max(self.ids, key=lambda w: abs(state.current(w)))
        shown = str(table.index(table.ids.index(busiest), table.place["current"]).data())
        assert abs(float(shown.split()[0]) - abs(state.current(busiest))) < 0.51

    def nothing(self) -> None:
        """Prepare nothing."""

    def refresh(self) -> None:
        """Show the circuit and its analysis as the window does."""
        self.schedule.refresh()

    def paint(self) -> None:
        """Paint a row, which is more than one cell that changed."""
        wires = self.schedule.wires
        height = wires.rowHeight(0)
        wires.viewport().repaint(0, height, wires.viewport().width(), height)

    def sort(self) -> None:
        """Sort by size, or by number."""
        self.count += 1
        heads, place = self.schedule.wires.heads, self.schedule.wires.table.place
        heads.sort(place[("size", "number")[self.count % 2]], False)

    def filter(self) -> None:
        """Type another word into the filter."""
        self.count += 1
        self.schedule.filter.setText(("1", "12", "rd", "")[self.count % 4])

    def close(self) -> None:
        """Let it go."""
        self.session.close()
        self.schedule.deleteLater()
