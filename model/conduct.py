"""What conducts: the conductances of a network for a setting, relay states and faults."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import overload

import numpy as np

from model.circuit import Part
from model.conducting import Conducting
from model.devices import Alternator, ConstantPower, Device, Filament, Junction
from model.faulting import Faulting
from model.kinds.body import Contact, DiodePath, LoadPath, SourcePath
from model.linear import Bools, Floats, Ints, Islands, Pattern, islands, zeros_of
from model.lookup import body_of, number
from model.network import Edge, Network
from model.resistances import battery_emf, battery_inner_ohm, load_amps_volts, load_law
from model.states import Armature, Setting

__all__ = ["Conducting", "Conductor"]
LED_SHARE = 0.7
"""Share of an LED lamp's stated voltage that its chips take; from memory, not confirmed."""


Contacts = list[tuple[int, Contact]]
"""Contacts with the index of their edge."""


@dataclass(frozen=True, slots=True)
class _Base:
    """Conductances with every control at rest, no armature in, one engine and supply."""

    g: Floats
    j: Floats
    on: Bools
    devices: dict[int, Device]


class Conductor:
    """Turns settings and relay states into conductances; the unchanging part is kept."""

    def __init__(self, network: Network) -> None:
        self.network = network
        self._circuit = network.circuit
        frame = network.frame
        ohm = np.array([e.ohm for e in network.edges], np.float64)
        self._g = np.divide(1.0, ohm, out=np.zeros_like(ohm), where=ohm > 0)
        self._sources = list(network.of_role("source"))
        self._lawful = dict(self._own_laws())
        self.rests = frame.fact("rests", self._rest_positions)
        self.by_control, self.by_armature = frame.fact("contacts", self._sorted_contacts)
        self._faults = Faulting(network, self._g, self.rests, self.by_control)
        self._bases: dict[tuple[str, str], _Base] = {}
        fixed = self._fixed()
        self._joints = frame.fact(
            ("joints", fixed.tobytes()),
            lambda: Islands(network.count, network.a, network.b, fixed),
        )
        self._pattern = frame.fact("pattern", self._ordered)

    def _rest_positions(self) -> dict[str, str]:
        """Return the rest position of every control, by part id."""
        parts = self._circuit.parts.values()
        bodies = ((p.id, body_of(self._circuit, p)) for p in parts)
        return {part_id: body.rest for part_id, body in bodies if body.positions}

    def _sorted_contacts(self) -> tuple[dict[str, Contacts], dict[Armature, Contacts]]:
        """Return the contacts sorted by what moves them: by control, and by armature."""
        by_control: dict[str, Contacts] = {}
        by_armature: dict[Armature, Contacts] = {}
        for index, edge in self.network.of_role("contact"):
            contact = edge.inner
            if not isinstance(contact, Contact):
                continue
            if contact.by:
                by_armature.setdefault((edge.owner, contact.by), []).append((index, contact))
            else:
                by_control.setdefault(edge.owner, []).append((index, contact))
        return by_control, by_armature

    def _ordered(self) -> Pattern:
        """Return the pattern of the matrix, its order found once, on the rest state."""
        net = self.network
        pattern = Pattern(net.count, net.a, net.b)
        if not pattern.dense:
            g = np.maximum(self._base("stopped", "resting").g, 1e-3)
            joined = islands(net.count, net.a, net.b, np.ones(len(g), np.bool_))
            pattern.order(g, zeros_of(joined, net.reference))
        return pattern

    def _fixed(self) -> Bools:
        """Tell which edges conduct whatever is switched."""
        moving = ("contact", "diode", "source")
        edges = self.network.edges
        fixed = self.network.frame.fact(
            "never moving", lambda: np.array([e.role not in moving for e in edges], np.bool_)
        ).copy()
        for index, law in self._lawful.items():
            fixed[index] = not isinstance(law, Junction)
        return fixed

    @overload
    def closed_s(self, edge: int) -> float: ...
    @overload
    def closed_s(self, edge: Ints) -> Floats: ...
    def closed_s(self, edge: int | Ints) -> float | Floats:
        """Return the conductance of contacts when closed."""
        closed: float | Floats = self._g[edge]
        return closed

    def conducting(
        self, setting: Setting, pulled: frozenset[Armature], engine: str, supply: str
    ) -> Conducting:
        """Return what conducts with these positions, armatures, engine and supply."""
        base = self._base(engine, supply)
        out = Conducting(self._pattern, base.g.copy(), base.j.copy(), base.on.copy(),
                         dict(base.devices), self._joints)  # fmt: skip
        stuck = {
            f.target: f.node or self.rests[f.target]
            for f in setting.faults
            if f.what == "stuck" and f.target in self.rests
        }
        for owner, position in {**setting.positions, **stuck}.items():
            if position != self.rests.get(owner):
                self._put_contacts(out, self.by_control.get(owner, ()), position)
        for armature in pulled:
            self._put_contacts(out, self.by_armature.get(armature, ()), "in")
        self._faults.put(out, setting.faults)
        return out

    def _put_contacts(
        self, out: Conducting, contacts: Iterable[tuple[int, Contact]], position: str
    ) -> None:
        """Put contacts as they are in a position."""
        for index, contact in contacts:
            closed = position in contact.closed
            out.on[index] = closed
            out.g[index] = self._g[index] if closed else 0.0

    def _base(self, engine: str, supply: str) -> _Base:
        """Return the conductances that one engine and supply start from."""
        if (engine, supply) not in self._bases:
            self._bases[(engine, supply)] = self._new_base(engine, supply)
        return self._bases[(engine, supply)]

    def _new_base(self, engine: str, supply: str) -> _Base:
        """Reckon the conductances with everything at rest."""
        on = np.ones(len(self._g), np.bool_)
        out = _Base(self._g.copy(), np.zeros(len(self._g)), on, {})
        for owner, contacts in self.by_control.items():
            self._rest_contacts(out, contacts, self.rests.get(owner, ""))
        for contacts in self.by_armature.values():
            self._rest_contacts(out, contacts, "out")
        for index, law in self._lawful.items():
            if isinstance(law, float):
                out.g[index] = law
            else:
                out.devices[index] = law
        self._put_sources(out, engine, supply)
        return out

    @staticmethod
    def _rest_contacts(out: _Base, contacts: list[tuple[int, Contact]], position: str) -> None:
        """Open the contacts that are open in a position."""
        for index, contact in contacts:
            if position not in contact.closed:
                out.g[index], out.on[index] = 0.0, False

    def _put_sources(self, out: _Base, engine: str, supply: str) -> None:
        """Set the lines of batteries, and of alternators that turn."""
        turning = engine == "running"
        alternators = any(_source(e) == "alternator" for _, e in self._sources)
        if supply == "charging" and alternators:
            turning, supply = True, "resting"
        for index, edge in self._sources:
            part = self._circuit.parts[edge.owner]
            if _source(edge) == "battery":
                g = 1.0 / max(battery_inner_ohm(self._circuit, part), 1e-6)
                out.g[index], out.j[index] = g, -g * battery_emf(self._circuit, part, supply)
            elif turning:
                out.devices[index] = self._alternator(part, _prefix(edge))
            else:
                out.g[index], out.j[index], out.on[index] = 0.0, 0.0, False

    def _alternator(self, part: Part, prefix: str) -> Alternator:
        """Return one output of an alternator that turns."""
        return Alternator(
            number(self._circuit, part, "voltage_v", 14.2),
            max(number(self._circuit, part, f"{prefix}inner_ohm", 0.005), 1e-6),
            number(self._circuit, part, f"{prefix}limit_a", 100.0),
        )

    def _own_laws(self) -> Iterator[tuple[int, Device | float]]:
        """Yield the law of every diode and load: a device, or a plain conductance."""
        kept, parts = self.network.frame.kept, self._circuit.parts
        for index, edge in self.network.of_role("diode", "load"):
            part, inner = parts[edge.owner], edge.inner
            if isinstance(inner, DiodePath | LoadPath):
                yield index, kept("law", index, (part, edge), partial(self._law, part, inner))

    def _law(self, part: Part, inner: DiodePath | LoadPath) -> Device | float:
        """Return the law of a diode or load."""
        if isinstance(inner, LoadPath):
            return self._load(part.id, inner.prefix)
        return Junction(
            number(self._circuit, part, inner.volt, 0.7),
            number(self._circuit, part, inner.ohm, 0.03),
        )

    def _load(self, part_id: str, prefix: str) -> Device | float:
        """Return the law of a load; motors run in proportion to their voltage."""
        part = self._circuit.parts[part_id]
        amps, volts = load_amps_volts(self._circuit, part, prefix)
        amps, volts = max(amps, 1e-9), max(volts, 1e-3)
        law = load_law(self._circuit, part, prefix)
        if law == "filament":
            return Filament(amps, volts)
        if law == "constant power":
            least = number(self._circuit, part, f"{prefix}working_v", 9.0)
            return ConstantPower(amps * volts, max(least, 0.1))
        if law == "led":
            return Junction(LED_SHARE * volts, (1 - LED_SHARE) * volts / amps)
        return amps / volts


def _source(edge: Edge) -> str:
    """Return battery or alternator."""
    return edge.inner.source if isinstance(edge.inner, SourcePath) else ""


def _prefix(edge: Edge) -> str:
    """Return what the ratings of a source's resistance and limit begin with."""
    return edge.inner.prefix if isinstance(edge.inner, SourcePath) else ""
