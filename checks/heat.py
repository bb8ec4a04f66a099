"""How warm every wire becomes: its greatest share of what it may carry, over all states.

The rise goes with the square of the current and reaches the insulation's limit at the figure of
the ampacity table, in the zone and among the loaded wires of the bundle of that very state.
"""

from __future__ import annotations

from dataclasses import dataclass

from checks.bundles import Held
from checks.case import Case
from model.circuit import Wire

LEAST_A = 0.001
"""Below this a wire carries nothing that would warm it."""


@dataclass(frozen=True, slots=True)
class Heat:
    """A wire in its worst state.

    Attributes
    ----------
    wire : str
        Its id.
    amps : float
        The current there, 0 where it carries nothing that lasts in any state.
    row : int
        The state.
    held : Held or None
        What it may carry there; None where its size is not known.
    copper_c : float or None
        Where its copper settles; None where that is not known.
    assumed : bool
        Whether its size or length is assumed, on which the current may rest.
    """

    wire: str
    amps: float
    row: int
    held: Held | None
    copper_c: float | None
    assumed: bool

    @property
    def share(self) -> float | None:
        """The current over what the wire may carry, None where that is not known."""
        if self.held is None or not self.held.value_a:
            return None
        return self.amps / self.held.value_a


def heat_of(case: Case) -> dict[str, Heat]:
    """Return every wire that is joined at both ends in its worst state, by id."""
    found = {}
    for index, edge in case.network.of_role("wire"):
        wire = case.circuit.wires[edge.owner]
        found[wire.id] = _heat(case, wire, index)
    return found


def _heat(case: Case, wire: Wire, index: int) -> Heat:
    bundled = case.bundles.worst(wire, index)
    if bundled is not None:
        held, amps, row = bundled
    else:
        amps, row = float(case.peaks.amps[index]), int(case.peaks.rows[index])
        known = case.ampacity(wire)
        if known is None:
            return Heat(wire.id, amps, row, None, None, True)
        held = known
    amps = amps if amps >= LEAST_A else 0.0
    return Heat(wire.id, amps, row, held, held.copper_c(amps), wire.id in case.network.assumed)
