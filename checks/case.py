"""What the rules look at: the circuit, its solved states, the tables chosen, and facts of both.

A rule is a pure function of a `Case`. Facts that several rules need are reckoned here once.
"""

from __future__ import annotations

from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from checks.basis import ON_SHARE, WEAK_SHARE, Basis, Use
from checks.bundles import Bundles, Held
from checks.currents import Peaks, cranking, peaks_of, starter_cables
from checks.flows import Flows
from checks.prospective import Faults
from checks.shorts import shorts
from checks.steps import Stretch, stretches_of
from checks.waiting import Waiting
from model.armature import Winding, windings
from model.circuit import End, Part, Wire
from model.lookup import body_of, number, rest_of
from model.network import Edge, Node, end_node
from model.states import Setting
from model.zones import wire_warmth

SHORT_A = 0.5
"""Amperes through a diode across a coil that no coil leaves behind at rest."""
STARTER_CLASS_V = 6.0
"""A coil this far from the circuit's nominal voltage is of another class."""
OPENS_AT = 2.0
"""Times its rating at which a fuse opens within seconds: blade fuses 5 s at most (ISO 8820-3, at
second hand)."""


class Case(Basis):
    """A circuit under its conditions, analysed, with the facts several rules need."""

    # --- ends, neighbours -------------------------------------------------------------------

    def node(self, end: End) -> Node:
        """Return the node a wire's end joins."""
        return end_node(self.circuit, end)

    def ends(self, wire_id: str) -> list[End]:
        """Return the joined ends of a wire."""
        wire = self.circuit.wires[wire_id]
        return [e for e in (wire.first, wire.second) if e is not None]

    def neighbours(self, part_id: str, node: str) -> list[tuple[str, str]]:
        """Return (part, wire) for what wires join to a node, through splices too."""
        found: dict[tuple[str, str], None] = {}
        todo, been = [(part_id, node)], {(part_id, node)}
        while todo:
            here = todo.pop()
            for wire in self.wires_at(*here):
                for end in self.ends(wire.id):
                    far = self.node(end)
                    if far in been:
                        continue
                    if self.circuit.parts[far[0]].kind == "splice":
                        been.add(far)
                        todo.append(far)
                    else:
                        found[(far[0], wire.id)] = None
        return [p for p in found if p[0] != part_id]

    @cached_property
    def hosts(self) -> frozenset[str]:
        """Ids of the parts that hold others."""
        return frozenset(p.host for p in self.circuit.parts.values() if p.host)

    def wires_of(self, part_id: str) -> list[Wire]:
        """Return the wires at a part, those at its socket too."""
        part = self.circuit.parts[part_id]
        nodes = [(p, t.node) for p in (part.id, part.host) if p in self.circuit.parts
                 for t in body_of(self.circuit, self.circuit.parts[p]).terminals]  # fmt: skip
        return [w for node in nodes for w in self.wires_at(*node)]

    def is_load(self, part_id: str) -> bool:
        """Tell whether a part is a load."""
        return part_id in self._load_parts

    @cached_property
    def _load_parts(self) -> frozenset[str]:
        """Ids of parts with a load in them."""
        return frozenset(u.part.id for u in self.loads)

    # --- the two sides ----------------------------------------------------------------------

    @cached_property
    def shell_side(self) -> frozenset[int]:
        """Nodes that conductors could join to the shell."""
        return self.reach({self.network.shell})

    def through_load(self, use: Use) -> tuple[str, ...]:
        """Return the loads and coils through which alone a load finds its way back."""
        joined = self.reach({use.a, use.b} - self.could_feed or {use.a, use.b})
        found = []
        for other in (*self.loads, *self.coils):
            if other.edge == use.edge:
                continue
            for near, far in ((other.a, other.b), (other.b, other.a)):
                if near in joined and far in self.could_ground:
                    found.append(other.part.id)
        return tuple(dict.fromkeys(found))

    def connectable(self, use: Use) -> bool:
        """Tell whether a load could be joined to both sides of the supply at all."""
        ends = {use.a, use.b}
        return bool(ends & self.could_feed) and bool(ends & self.could_ground)

    def return_node(self, use: Use) -> tuple[int, str] | None:
        """Return node and name of the end a load returns through, None if either end may."""
        both = self.could_ground & self.could_feed
        if use.b in self.could_ground and use.b not in both:
            return use.b, use.b_node
        if use.a in self.could_ground and use.a not in both:
            return use.a, use.a_node
        return None

    @cached_property
    def grounded_fine(self) -> NDArray[np.bool_]:
        """States in which no starter draws, shape (states,): a start lifts every ground."""
        return np.array([s != "cranking" for s in self.survey.supplies])

    @cached_property
    def lasting(self) -> NDArray[np.bool_]:
        """States that last, shape (states,): no fuse carries twice its rating or more."""
        fuses = list(self.network.of_role("fuse"))
        most = [
            OPENS_AT * number(self.circuit, self.circuit.parts[e.owner], "rating_a")
            for _, e in fuses
        ]
        amps = np.abs(self.survey.amps.T[[i for i, _ in fuses]])
        return np.asarray((amps < np.array(most)[:, None]).all(axis=0), np.bool_)

    # --- relays -----------------------------------------------------------------------------

    @cached_property
    def _windings(self) -> dict[int, Winding]:
        """Coils by edge."""
        return {w.edge: w for w in windings(self.network)}

    def pull_in_v(self, use: Use) -> float:
        """Return the volts a coil needs to pull in."""
        return self._windings[use.edge].pull_v

    @cached_property
    def dead_coil_uses(self) -> list[Use]:
        """Coils that get enough to pull in, in no state."""
        return [u for u in self.coils if not (self.across(u) >= self.pull_in_v(u)).any()]

    def both_live(self, use: Use) -> NDArray[np.bool_]:
        """Tell in which states both ends of a coil are joined to the plus, shape (states,)."""
        if not {use.a, use.b} <= self.could_feed:
            return np.zeros(len(self.survey.settings), np.bool_)
        return self.live(use.a) & self.live(use.b)

    def fed_through(self, use: Use) -> bool:
        """Tell whether the plus reaches a load only through another load."""
        joined = self.reach({use.a, use.b} - self.could_ground or {use.a, use.b})
        pairs = [(o.a, o.b) for o in (*self.loads, *self.coils) if o.edge != use.edge]
        return any(
            near in joined and far in self.could_feed
            for a, b in pairs
            for near, far in ((a, b), (b, a))
        )

    def wrong_class(self, part: Part) -> bool:
        """Tell whether a relay's coil is made for another nominal voltage."""
        coil_v = number(self.circuit, part, "coil_v", self.nominal_v)
        return abs(coil_v - self.nominal_v) > STARTER_CLASS_V

    @cached_property
    def waiting(self) -> Waiting:
        """Who waits for which relay that never pulls in."""
        return Waiting(self, self.dead_coil_uses)

    def diode_shorts(self, use: Use) -> bool:
        """Tell whether a diode the wrong way round shorts the feed of a coil in some state."""
        ends = {use.a, use.b}
        return any({e.a, e.b} == ends for e in self.shorting_diodes.values())

    @cached_property
    def shorting_diodes(self) -> dict[int, Edge]:
        """Diodes across a coil or load that carry its feed straight past it, by edge index."""
        across = {frozenset((u.a, u.b)) for u in (*self.loads, *self.coils)}
        return {
            i: e
            for i, e in self.network.of_role("diode")
            if frozenset((e.a, e.b)) in across and self.survey.amps[:, i].max() > SHORT_A
        }

    # --- dead shorts ------------------------------------------------------------------------

    @cached_property
    def faults(self) -> Faults:
        """Dead shorts behind the fuses."""
        return Faults(self)

    @cached_property
    def stretches(self) -> tuple[Stretch, ...]:
        """The wires behind each fuse, with those that it is too large for."""
        return stretches_of(self)

    # --- crash ------------------------------------------------------------------------------

    @cached_property
    def crash_switches(self) -> dict[str, str]:
        """Controls that latch when tripped, with the name of that position, by part id."""
        found = {}
        for part in self.circuit.parts.values():
            for position in body_of(self.circuit, part).positions:
                if position.latches:
                    found[part.id] = position.name
        return found

    def tripped(self, setting: Setting, part_id: str) -> bool:
        """Tell whether a crash switch is tripped in a setting."""
        position = setting.positions.get(part_id) or rest_of(
            self.circuit, self.circuit.parts[part_id]
        )
        return position == self.crash_switches[part_id]

    @cached_property
    def crashed(self) -> NDArray[np.bool_]:
        """States in which a crash switch is tripped, shape (states,)."""
        return np.array(
            [any(self.tripped(s, p) for p in self.crash_switches) for s in self.survey.settings]
        )

    # --- where wires lie ---------------------------------------------------------------------

    @cached_property
    def bundles(self) -> Bundles:
        """Zones and bundles of the wires, with what is loaded together while nothing cranks."""
        return Bundles(self.circuit, self.survey, ~self.cranking & ~self.cleared)

    def ampacity(self, wire: Wire) -> Held | None:
        """Return the least a wire may carry by the chosen tables, None without a size."""
        return self.bundles.held(wire)

    def zone_c(self, wire: Wire) -> float:
        """Return the hottest that a wire runs through."""
        return wire_warmth(self.circuit, wire).celsius

    # --- currents ---------------------------------------------------------------------------

    @cached_property
    def cranking(self) -> NDArray[np.bool_]:
        """In which states a starter's motor draws current, shape (states,)."""
        return cranking(self.survey)

    @cached_property
    def peaks(self) -> Peaks:
        """Greatest amperes of every edge while no starter draws and no fuse opens on a short."""
        return peaks_of(self.survey, ~self.cranking & ~self.cleared)

    @cached_property
    def cleared(self) -> NDArray[np.bool_]:
        """States with a short that a fuse opens within seconds, or that none stops, (states,)."""
        return self.shorts & (~self.lasting | self._bare)

    @cached_property
    def _bare(self) -> NDArray[np.bool_]:
        """States in which no fuse carries half of what the greatest source gives."""
        amps = self.survey.amps.T
        fuses = [i for i, _ in self.network.of_role("fuse")]
        sources = [i for i, _ in self.network.of_role("source")]
        through = np.abs(amps[fuses]).max(axis=0, initial=0.0)
        given = np.abs(amps[sources]).max(axis=0, initial=0.0)
        return np.asarray(through <= 0.5 * given, np.bool_)

    @cached_property
    def shorts(self) -> NDArray[np.bool_]:
        """States in which next to nothing but conductors limits the current, shape (states,)."""
        return shorts(self.survey)

    @cached_property
    def cranking_peaks(self) -> Peaks:
        """Greatest amperes of every edge while a starter draws."""
        return peaks_of(self.survey, self.cranking)

    def flows(self, row: int) -> Flows:
        """Return the currents of one state, to be followed."""
        if row not in self._flows:
            self._flows[row] = Flows(self.survey, row)
        return self._flows[row]

    @cached_property
    def _flows(self) -> dict[int, Flows]:
        """Flows by state, those asked for so far."""
        return {}

    @cached_property
    def starter_cables(self) -> frozenset[str]:
        """Ids of the wires on the way from a battery's plus to a starter's motor."""
        return starter_cables(self.network)


__all__ = ["ON_SHARE", "WEAK_SHARE", "Case", "Use"]
