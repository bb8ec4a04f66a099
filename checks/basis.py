"""The ground the rules stand on: the circuit, its solved states, what could be joined to what."""

from __future__ import annotations

import math
from collections.abc import Iterable
from functools import cached_property, partial

import numpy as np
from numpy.typing import NDArray

from checks.feeds import Feed, could_reach, feeds_of, is_battery
from checks.structure import (
    METAL,
    PASSING,
    links_of,
    movers_of,
    parts_by_node,
    wires_by_node,
)
from checks.uses import ON_SHARE, WEAK_SHARE, Driven, Use, use_of
from checks.wording import listed
from model.circuit import Circuit, Part, Wire
from model.kinds import Duty
from model.kinds.body import SourcePath
from model.linear import Floats
from model.lookup import Rated, duty_of, label, number, rating, wire_label
from model.network import Edge
from model.resistances import load_law
from model.state import CONDUCTORS, State
from model.survey import Survey

MOST_REACHES = 256
"""Reaches that are kept with a frame."""


__all__ = ["ON_SHARE", "WEAK_SHARE", "Basis", "Use"]


class Basis:
    """A circuit under its conditions, analysed.

    Parameters
    ----------
    circuit
        The circuit; a snapshot.
    survey
        Its solved states; made here if not given.
    """

    def __init__(self, circuit: Circuit, survey: Survey | None = None) -> None:
        self.circuit = circuit
        self.survey = survey or Survey(circuit)
        self.network = self.survey.solver.network
        self.nominal_v = circuit.settings.nominal_v

    @property
    def rest(self) -> State:
        """The state with every control at rest."""
        return self.survey.rest

    @cached_property
    def supply_v(self) -> float:
        """Stated voltage of the reference battery, else the nominal one."""
        for edge in self.network.edges:
            if edge.role == "source" and edge.b == self.network.reference:
                part = self.circuit.parts[edge.owner]
                return number(self.circuit, part, "voltage_v", self.nominal_v)
        return self.nominal_v

    @cached_property
    def loads(self) -> list[Use]:
        """Every load, in file order."""
        return [self._use(i, e) for i, e in self.network.of_role("load")]

    @cached_property
    def coils(self) -> list[Use]:
        """Every coil, in file order."""
        return [self._use(i, e) for i, e in self.network.of_role("coil")]

    def _use(self, index: int, edge: Edge) -> Use:
        """Return a load or coil as the rules see it."""
        part = self.circuit.parts[edge.owner]
        make = partial(use_of, part, index, edge)
        return self.network.frame.kept("use", index, (part,), make)

    def duty(self, use: Use) -> Duty:
        """Return the duty of a load, every field filled."""
        part = use.part
        make = partial(duty_of, self.circuit, part)
        return self.network.frame.kept("duty", part.id, (part,), make)

    def on(self, use: Use) -> NDArray[np.bool_]:
        """Tell in which states a load is on, shape (states,)."""
        row: NDArray[np.bool_] = self._driven.on[self._driven.row(use)]
        return row

    def runs(self, use: Use) -> NDArray[np.bool_]:
        """Tell in which states a load is more than off, shape (states,)."""
        row: NDArray[np.bool_] = self._driven.runs[self._driven.row(use)]
        return row

    def across(self, use: Use) -> Floats:
        """Return the volts across a load or coil, whatever their sign, shape (states,)."""
        row: Floats = self._driven.across[self._driven.row(use)]
        return row

    @cached_property
    def _driven(self) -> Driven:
        """Volts across all loads and coils."""
        uses = (*self.loads, *self.coils)
        one_way = [use for use in uses if self.one_way(use)]
        return Driven(self.survey, uses, one_way, self.supply_v)

    def one_way(self, use: Use) -> bool:
        """Tell whether a load works one way round only: an LED lamp."""
        prefix = str(getattr(self.network.edges[use.edge].inner, "prefix", ""))
        if use.draws == "coil":
            return False
        make = partial(load_law, self.circuit, use.part, prefix)
        kept = self.network.frame.kept
        return kept(("load law", prefix), use.part.id, (use.part,), make) == "led"

    def backwards(self, use: Use) -> bool:
        """Tell whether a load that works one way round is only ever fed the other way."""
        most = -float(self.survey.across(use.edge).min(initial=0.0))
        return self.one_way(use) and self.live_volts(most) and not self.runs(use).any()

    def number(self, part: Part, key: str, otherwise: float = 0.0) -> float:
        """Return a rating of a part as a number, `otherwise` where it has none."""
        make = partial(number, self.circuit, part, key, math.nan)
        found = self.network.frame.kept(("number", key), part.id, (part,), make)
        return otherwise if math.isnan(found) else found

    def rating(self, part: Part, key: str) -> Rated:
        """Return a rating of a part with where it came from."""
        make = partial(rating, self.circuit, part, key)
        return self.network.frame.kept(("rating", key), part.id, (part,), make)

    def wires_at(self, part_id: str, node: str) -> list[Wire]:
        """Return the wires that end at a node of a part."""
        wires = self.circuit.wires
        return [wires[w] for w in self._wires_by_node.get((part_id, node), ())]

    @cached_property
    def parts_by_node(self) -> dict[int, frozenset[str]]:
        """The parts that have a terminal at each node of the network."""
        return self.network.frame.fact("parts by node", lambda: parts_by_node(self.network))

    @cached_property
    def _wires_by_node(self) -> dict[tuple[str, str], list[str]]:
        """The wires that end at each node."""
        return self.network.frame.fact("wires by node", lambda: wires_by_node(self.circuit))

    @cached_property
    def links(self) -> dict[int, list[tuple[int, Edge]]]:
        """Neighbours of every node by conductors, contacts taken as closed."""
        return self.network.frame.fact("links", lambda: links_of(self.network))

    @cached_property
    def drawing(self) -> frozenset[int]:
        """Nodes at which a load, coil or resistor hangs."""
        roles = ("load", "coil", "resistor")
        return frozenset(n for r in roles for _, e in self.network.of_role(r) for n in (e.a, e.b))

    @cached_property
    def could_ground(self) -> frozenset[int]:
        """Nodes that conductors could join to the supply's minus in some position.

        A resistor counts where it stands in a load's way; one that lies between a feed and ground
        (a run-down resistor) does not make its feed side a ground side.
        """
        plus, minus = self._by_metal
        return minus | (self.reach(set(self.minuses)) - plus) | self._excited

    @cached_property
    def _excited(self) -> frozenset[int]:
        """Nodes at D+ of an alternator: a charge lamp returns there, through the field winding."""
        ends = {(e.owner, e.a) for _, e in self.network.of_role("resistor")}
        return self.reach({e.a for e in self.sources if (e.owner, e.a) in ends}, CONDUCTORS)

    @cached_property
    def could_feed(self) -> frozenset[int]:
        """Nodes that conductors could join to a source's plus in some position."""
        plus, minus = self._by_metal
        return plus | (self.reach({e.a for e in self.sources}) - minus)

    @cached_property
    def _by_metal(self) -> tuple[frozenset[int], frozenset[int]]:
        """Nodes that could be joined to a source's plus, and to the minus, without a resistor."""
        return (
            self.reach({e.a for e in self.sources}, CONDUCTORS),
            self.reach(set(self.minuses), CONDUCTORS),
        )

    def bridges(self, edge: Edge) -> bool:
        """Tell whether an edge is a resistor between feed and ground, not in a load's way."""
        if edge.role != "resistor":
            return False
        plus, minus = self._by_metal
        ends = {edge.a, edge.b}
        return bool(ends & plus) and bool(ends & minus)

    @cached_property
    def minuses(self) -> frozenset[int]:
        """The reference, and the minus of every battery that stands apart from it.

        The minus of a battery on top of another one in series is no ground. Where nothing is
        joined to the reference itself, no other minus stands in for it: its cable is missing.
        """
        reference = self.network.reference
        joined = self.reach({reference, *(e.a for e in self.sources)}, CONDUCTORS)
        apart = {e.b for e in self.sources if is_battery(e) and e.b not in joined}
        lone = not self.links.get(reference)
        return frozenset({reference} if lone else apart | {reference})

    @cached_property
    def always_ground(self) -> frozenset[int]:
        """Nodes that wires, joints and ground points alone join to the supply's minus."""
        return self.reach(set(self.minuses), METAL)

    @cached_property
    def sources(self) -> list[Edge]:
        """Every battery and alternator."""
        return [e for e in self.network.edges if isinstance(e.inner, SourcePath)]

    def reach(self, start: set[int], roles: frozenset[str] = PASSING) -> frozenset[int]:
        """Return the nodes that conductors of these roles could join to the start nodes."""
        known: dict[object, frozenset[int]] = self.network.frame.fact("reaches", dict)
        key = (frozenset(start), roles)
        if key not in known:
            if len(known) >= MOST_REACHES:
                known.clear()
            known[key] = could_reach(self.links, start, roles, movers_of(self.network))
        return known[key]

    def live(self, node: int) -> NDArray[np.bool_]:
        """Tell in which states a node carries the supply's voltage, shape (states,)."""
        live: NDArray[np.bool_] = self.survey.volts[:, node] >= ON_SHARE * self.supply_v
        return live

    @cached_property
    def shell_joined(self) -> bool:
        """Tell whether the shell could be joined to the supply's minus at all."""
        return self.network.shell in self.could_ground

    @cached_property
    def plus_on_shell(self) -> str:
        """The source whose plus metal joins to the shell while its minus is elsewhere, or ""."""
        if self.shell_joined:
            return ""
        shell = self.reach({self.network.shell}, METAL)
        return next((e.owner for e in self.sources if e.a in shell and e.b not in shell), "")

    def live_volts(self, volts: float) -> bool:
        """Tell whether this many volts count as the supply's."""
        return volts >= ON_SHARE * self.supply_v

    @cached_property
    def feeds(self) -> tuple[Feed, ...]:
        """The stretches of the circuit behind each source and each fuse."""
        return feeds_of(self.network, self.always_ground)

    def guessed(self, wires: Iterable[str]) -> str:
        """Return words for those wires of which a size or length is missing, "" if none is."""
        some = [self.wire_name(w) for w in dict.fromkeys(wires) if w in self.network.assumed]
        return f" Size or length of {listed(some)} is assumed." if some else ""

    def name(self, part_id: str) -> str:
        """Return what people call a part."""
        return label(self.circuit.parts[part_id])

    def wire_name(self, wire_id: str) -> str:
        """Return what people call a wire."""
        return wire_label(self.circuit.wires[wire_id])
