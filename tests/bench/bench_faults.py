"""Every single open wire of a 1,000-wire circuit against plain scipy, each fault solved anew.

Every second switch is on, so that half of the circuit carries current. First the faults that move
no relay; then all of them, relays settling. No fuse has a state here: none of them blows.
"""

from __future__ import annotations

from dataclasses import dataclass

from model.circuit import Circuit
from model.linear import Bools, Floats
from model.lowrank import every_open
from model.opens import Settling, settle_opens
from model.solver import Solver
from model.states import Armature
from tests.bench import Row, compare
from tests.bench.changes import half_on, same
from tests.bench.circuits import cells
from tests.bench.plain import Plain, PlainSettling

WIRES = 1000


@dataclass(frozen=True, slots=True)
class Broken:
    """How plain scipy settles with one wire broken."""

    volts: Floats
    joined: Bools
    pulled: frozenset[Armature]


class Faults:
    """The circuit in its state, and what breaking each wire does to it by plain scipy."""

    def __init__(self, circuit: Circuit) -> None:
        self.solver = Solver(circuit)
        setting = half_on(self.solver)
        self.state = self.solver.settle(setting).state
        self.plain = PlainSettling(circuit, setting)
        self.edges = [i for i, _ in self.solver.network.of_role("wire")]
        self.broken = {edge: self._broken(edge) for edge in self.edges}
        self.still = [e for e, b in self.broken.items() if b.pulled == self.state.pulled]

    def _broken(self, edge: int) -> Broken:
        now, volts, pulled = self.plain.settle(edge, self.state.pulled)
        return Broken(volts, now.joined(), pulled)

    def settled_plain(self) -> None:
        """Settle every fault by plain scipy."""
        for edge in self.edges:
            self.plain.settle(edge, self.state.pulled)

    def networks(self) -> list[Plain]:
        """Return the network of every fault that moves no relay, its zeros found."""
        return [self.plain.network(edge, self.state.pulled) for edge in self.still]


def table() -> list[Row]:
    """Return the rows."""
    faults = Faults(cells(WIRES))
    assert 0 < len(faults.still) < len(faults.edges), "some faults move a relay, others do not"
    return [_still(faults), _settling(faults)]


def _still(faults: Faults) -> Row:
    """Return the row of the faults that move no relay; ours does the others as well."""
    networks = faults.networks()

    def check() -> None:
        found = every_open(faults.solver, faults.state)
        assert found.edges.tolist() == faults.edges
        sure = [e for e, is_sure in zip(faults.edges, found.sure, strict=True) if is_sure]
        assert sure == faults.still, "another set of faults moves relays"
        for edge, volts in zip(faults.edges, found.volts, strict=True):
            if edge in faults.still:
                same(volts, faults.broken[edge].volts, faults.broken[edge].joined)

    return compare(
        f"every open wire that moves no relay or fuse: {len(networks)} of {len(faults.edges)}",
        "plain scipy: each assembled, factored, solved",
        ours=lambda: every_open(faults.solver, faults.state),
        baseline=lambda: [plain.volts() for plain in networks],
        check=check, limit=1 / 30, rounds=4,
    )  # fmt: skip


def _settling(faults: Faults) -> Row:
    """Return the row of all faults, relays settling."""

    def ours() -> Settling:
        return settle_opens(faults.solver, faults.state)

    def check() -> None:
        found = ours()
        assert found.edges.tolist() == faults.edges
        for edge, volts, pulled in zip(found.edges, found.volts, found.pulled, strict=True):
            broken = faults.broken[int(edge)]
            assert pulled == broken.pulled, "relays rest otherwise than by plain scipy"
            same(volts, broken.volts, broken.joined)

    return compare(
        f"every open wire, relays settling: {len(faults.edges)}, "
        f"{len(faults.edges) - len(faults.still)} of them move relays",
        "plain scipy: the same settling",
        ours=ours, baseline=faults.settled_plain, check=check, limit=1 / 5, rounds=3,
    )  # fmt: skip
