"""A second, slow and plain calculation of a circuit, to check the program's solver against.

Everything here is dense and brute force on purpose: every conducting element is stamped into one
modified nodal matrix (`tests.dense`), every combination of conducting diodes and delivering
alternators is tried until one contradicts nothing, and relays are moved all together until they
rest. It shares no code with the solver: only the circuit, the bodies of its parts and their
ratings. It knows fixed resistances only (loads of the law "resistor").
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import partial
from itertools import product

from model.circuit import Circuit, Part, Wire
from model.kinds.body import (
    SHELL,
    Bond,
    Coil,
    Contact,
    DiodePath,
    Element,
    FusePath,
    LoadPath,
    Resistance,
    ShellPath,
    SourcePath,
    Way,
)
from model.lookup import body_of, duty_of, number, word
from model.states import Armature, Fault
from tests.dense import Branch, Key, Node, solve

GROUND: Node = ("", SHELL)
NO_FAULTS: tuple[Fault, ...] = ()


class NoRest(Exception):
    """The relays of the circuit never come to rest when all are moved together."""


@dataclass(frozen=True)
class Answer:
    """One resting state: volts by node (None: floating), amperes by element, what is in."""

    volts: Mapping[Node, float | None]
    amperes: Mapping[Key, float]
    pulled: frozenset[Armature]
    engine: str

    def across(self, branch_a: Node, branch_b: Node) -> float:
        """Return the volts of one node above another, 0 where either floats."""
        a, b = self.volts.get(branch_a), self.volts.get(branch_b)
        return 0.0 if a is None or b is None else a - b


@dataclass
class Oracle:
    """The plain calculation of one circuit."""

    circuit: Circuit
    limit: int = 60
    pulled: frozenset[Armature] = field(default_factory=frozenset)
    engine: str = "stopped"

    def settle(self, positions: Mapping[str, str], faults: Iterable[Fault] = NO_FAULTS) -> Answer:
        """Return the resting state from the present one, all relays moved together.

        Parameters
        ----------
        positions
            Position by part id; a control that is missing is at rest.
        faults
            What is wrong: open, shell, series, stuck (a control stays at rest) and welded are
            understood; welded of a control only where it closes nothing at rest.
        """
        wrong = tuple(faults)
        for _ in range(self.limit):
            answer = self._solve(positions, wrong)
            moved = (self._moved(answer), self._turning(answer))
            if moved == (self.pulled, self.engine):
                return answer
            self.pulled, self.engine = moved
        raise NoRest("the relays keep moving")

    def _solve(self, positions: Mapping[str, str], faults: tuple[Fault, ...]) -> Answer:
        """Solve with the relays as they are: try every combination of valves."""
        branches = list(self._branches(positions, faults))
        valves = [b for b in branches if b.valve]
        plain = [b for b in branches if not b.valve]
        for chosen in product((True, False), repeat=len(valves)):
            passing = [v for v, on in zip(valves, chosen, strict=True) if on]
            volts, amperes = solve(plain + passing, self._reference())
            blocked = [v for v, on in zip(valves, chosen, strict=True) if not on]
            if all(_agrees(v, amperes) for v in passing) and not any(
                _would_pass(v, volts) for v in blocked
            ):
                amperes |= {v.key: 0.0 for v in blocked}
                return Answer(self._known(volts), amperes, self.pulled, self.engine)
        raise NoRest("no combination of diodes contradicts nothing")

    def _known(self, volts: dict[Node, float | None]) -> dict[Node, float | None]:
        """Return the volts with every terminal of every part named (None: floating)."""
        for part in self.circuit.parts.values():
            for terminal in body_of(self.circuit, part).terminals:
                volts.setdefault((part.id, terminal.node), None)
        return volts

    def _reference(self) -> Node:
        """Return the node that is 0 V: the minus of the reference battery."""
        named = self.circuit.settings.reference_battery
        first = (p.id for p in self.circuit.parts.values() if p.kind == "battery")
        return (named or next(first), "-")

    def _moved(self, answer: Answer) -> frozenset[Armature]:
        """Return the armatures that are in after this solution."""
        found = set()
        for part in self.circuit.parts.values():
            for coil in body_of(self.circuit, part).elements:
                if isinstance(coil, Coil) and self._is_in(part, coil, answer):
                    found.add((part.id, coil.moves))
        return frozenset(found)

    def _is_in(self, part: Part, coil: Coil, answer: Answer) -> bool:
        volts = abs(answer.across((part.id, coil.a), (part.id, coil.b)))
        nominal = number(self.circuit, part, "coil_v")
        held = (part.id, coil.moves) in self.pulled
        share = "drop_out_share" if held else "pull_in_share"
        return volts >= nominal * number(self.circuit, part, share)

    def _turning(self, answer: Answer) -> str:
        """Return whether the engine runs on: 7 V at every load that keeps it running."""
        if self.engine != "running":
            return self.engine
        for part in self.circuit.parts.values():
            if duty_of(self.circuit, part).keeps_engine:
                for e in body_of(self.circuit, part).elements:
                    if abs(answer.across((part.id, e.a), (part.id, e.b))) < 7.0:
                        return "stopped"
        return self.engine

    def _branches(
        self, positions: Mapping[str, str], faults: tuple[Fault, ...]
    ) -> Iterator[Branch]:
        """Yield everything that conducts or may conduct now."""
        opened = {f.target for f in faults if f.what == "open"}
        more = {f.target: f.ohm for f in faults if f.what == "series"}
        for wire in self.circuit.wires.values():
            if wire.id not in opened and wire.first and wire.second:
                ohm = self._wire_ohm(wire) + more.get(wire.id, 0.0)
                yield Branch((wire.id, ""), wire.first.node, wire.second.node, ohm)
        for part in self.circuit.parts.values():
            if part.id not in opened:
                yield from self._inside(part, positions, faults, more.get(part.id, 0.0))
        for fault in faults:
            if fault.what == "shell":
                touched = self._touched(fault)
                yield Branch((fault.target, "(shell)"), touched, GROUND, fault.ohm)

    def _touched(self, fault: Fault) -> Node:
        wire = self.circuit.wires.get(fault.target)
        if wire is not None and wire.first is not None:
            return wire.first.node
        return (fault.target, fault.node)

    def _wire_ohm(self, wire: Wire) -> float:
        known = self.circuit.settings.constants
        assert wire.size is not None
        assert wire.length_m is not None
        copper = (known.copper_ohm_mm2_m or 0.0) * wire.length_m / wire.size.area_mm2
        ends = wire.ends_ohm if wire.ends_ohm is not None else known.wire_ends_ohm
        assert ends is not None
        return copper + ends

    def _inside(
        self,
        part: Part,
        positions: Mapping[str, str],
        faults: tuple[Fault, ...],
        more: float,
    ) -> Iterator[Branch]:
        """Yield the conducting elements of one part."""
        body = body_of(self.circuit, part)
        held = any(f.target == part.id and f.what == "stuck" for f in faults)
        position = body.rest if held else positions.get(part.id, body.rest)
        welded = any(f.target == part.id and f.what == "welded" for f in faults)
        for element in body.elements:
            if element.when and word(self.circuit, part, element.when[0]) != element.when[1]:
                continue
            if isinstance(element, Contact) and not self._closed(part, element, position, welded):
                continue
            yield from self._branch(part, element, more)

    def _closed(self, part: Part, contact: Contact, position: str, welded: bool) -> bool:
        if not contact.by:
            return position in contact.closed or (welded and not self._at_rest(part))
        if welded:
            return "in" in contact.closed
        state = "in" if (part.id, contact.by) in self.pulled else "out"
        return state in contact.closed

    def _at_rest(self, part: Part) -> tuple[tuple[str, str], ...]:
        """Return the pairs that a control closes at rest."""
        body = body_of(self.circuit, part)
        rest = body.position(body.rest)
        return rest.closed if rest else ()

    def _branch(self, part: Part, element: Element, more: float) -> Iterator[Branch]:
        """Yield the branch of one element that is there."""
        key, a, b = (part.id, element.name), (part.id, element.a), (part.id, element.b)
        get = partial(number, self.circuit, part)
        if isinstance(element, SourcePath):
            turns = element.source == "battery" or self.engine == "running"
            valve = "" if element.source == "battery" else "source"
            if turns:
                yield Branch(key, a, b, get("inner_ohm"), get("voltage_v"), valve)
        elif isinstance(element, DiodePath):
            yield Branch(key, a, b, get(element.ohm), get(element.volt), "diode")
        elif isinstance(element, ShellPath):
            yield Branch(key, a, GROUND, get(element.ohm) + more)
        else:
            yield Branch(key, a, b, self._ohm(part, element) + more)

    def _ohm(self, part: Part, element: Element) -> float:
        if isinstance(element, Contact | Coil | Resistance | Way):
            return number(self.circuit, part, element.ohm)
        if isinstance(element, FusePath):
            share = self.circuit.settings.constants.fuse_ohm_a or 0.0
            return share / number(self.circuit, part, "rating_a")
        if isinstance(element, LoadPath):
            return self._load_ohm(part, element)
        assert isinstance(element, Bond)
        return 0.0

    def _load_ohm(self, part: Part, load: LoadPath) -> float:
        assert word(self.circuit, part, load.prefix + "law") == "resistor"
        ohm, volts, amperes = (
            number(self.circuit, part, load.prefix + name)
            for name in ("resistance_ohm", "at_v", "current_a")
        )
        return ohm or volts / amperes


def _agrees(valve: Branch, amperes: Mapping[Key, float]) -> bool:
    """Return whether a passing valve carries its current the right way round."""
    current = amperes[valve.key]
    return (current if valve.valve == "diode" else -current) >= -1e-12


def _would_pass(valve: Branch, volts: Mapping[Node, float | None]) -> bool:
    """Return whether a blocked valve has the voltage across it to pass current."""
    a, b = volts.get(valve.a), volts.get(valve.b)
    if a is None or b is None:
        return False
    excess = a - b - valve.emf
    return (excess if valve.valve == "diode" else -excess) > 1e-12
