"""Operates a circuit step by step, each from what the one before left."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

from app.commands.errors import NoAnswer, WrongCall
from app.commands.faults import NONE, FaultReader, Wrong
from app.commands.names import Names, match, suggestion
from app.commands.pairs import pairs
from model.circuit import Circuit
from model.lookup import controls, rest_of
from model.solve import NoSolution
from model.solver import Settled, Solver
from model.states import Memory, Setting

CONDITIONS = {
    "engine": ("stopped", "cranking", "running"),
    "supply": ("resting", "charging", "cranking"),
}


@dataclass(frozen=True, slots=True)
class Step:
    """A step as it came out: what was moved, every fault in place, how it settled.

    `notes` are sentences for the person.
    """

    moved: Mapping[str, str]
    faults: tuple[str, ...]
    settled: Settled
    notes: tuple[str, ...] = ()


@dataclass(slots=True)
class Operation:
    """A circuit in operation."""

    circuit: Circuit
    names: Names = field(init=False)
    _solver: Solver = field(init=False)
    _faults: FaultReader = field(init=False)
    _setting: Setting = field(init=False)
    _memory: Memory = field(init=False, default_factory=Memory)
    _wrong: list[Wrong] = field(init=False, default_factory=list)
    _notes: list[str] = field(init=False, default_factory=list)

    def __post_init__(self) -> None:
        """Put everything at rest, without power so far."""
        self.names = Names(self.circuit)
        self._solver = Solver(self.circuit)
        self._faults = FaultReader(self.names, self._solver.network)
        self._setting = self._solver.rest()

    def step(self, kind: str, text: str) -> Step:
        """Take one step: `kind` is set, fault, or rest (nothing is moved).

        Raises
        ------
        WrongCall
            When something in the text is not of this circuit.
        NoAnswer
            When the circuit has no solution in this setting.
        """
        kinds: dict[str, Callable[[str], dict[str, str]]]
        kinds = {"set": self._set, "fault": self._put, "rest": lambda _: {}}
        try:
            moved = kinds[kind](text)
            settled = self._solver.settle(self._setting, self._memory)
        except WrongCall as error:
            raise WrongCall(f"--{kind} {text}: {error}") from error
        except NoSolution as error:
            raise NoAnswer(f"--{kind} {text}: {error}") from error
        self._memory = settled.state.memory
        self._setting = replace(self._setting, engine=settled.state.engine)
        notes, self._notes = tuple(self._notes), []
        return Step(moved, tuple(w.text for w in self._wrong), settled, notes)

    def _set(self, text: str) -> dict[str, str]:
        """Move controls, engine and supply together; return what was moved, by name."""
        moved: dict[str, str] = {}
        positions: dict[str, str] = {}
        for name, value in pairs(text, "--set S1=ON,S2=SET"):
            if name.casefold() in CONDITIONS:
                moved |= self._condition(name.casefold(), value)
                continue
            part_id, shown = self._control(name)
            positions[part_id] = self._position(part_id, shown, value)
            if shown in moved:
                raise WrongCall(f"“{shown}” stands twice in “{text}”; name it once in a step")
            moved[shown] = positions[part_id]
        self._move(positions)
        return moved

    def _condition(self, name: str, value: str) -> dict[str, str]:
        """Set the engine or the supply."""
        found = match(value, CONDITIONS[name])
        if found is None:
            raise WrongCall(
                f"{name} cannot be “{value}”; {suggestion(value, list(CONDITIONS[name]))}"
            )
        if name == "engine":
            self._setting = replace(self._setting, engine=found)
        else:
            self._setting = replace(self._setting, supply=found)
        return {name: found}

    def _control(self, name: str) -> tuple[str, str]:
        """Return id and shown name of a control."""
        known = controls(self.circuit)
        target = self.names.find(name)
        if target is None:
            raise self.names.unknown(name, [self.names.parts[c] for c in known])
        shown = self.names.of(target)
        if target.table != "parts" or target.id not in known:
            what = "a wire" if target.table == "wires" else "no control"
            raise WrongCall(
                f"{shown} is {what} and has no positions; to put a fault there write "
                f"--fault {shown}=open"
            )
        return target.id, shown

    def _position(self, part_id: str, shown: str, value: str) -> str:
        """Return the spelling of a position of a control."""
        known = controls(self.circuit)[part_id]
        found = match(value, known)
        if found is None:
            listed = ", ".join(known)
            raise WrongCall(f"{shown} has no position “{value}”; it has {listed}")
        return found

    def _move(self, positions: Mapping[str, str]) -> None:
        """Move controls, but for those that are stuck."""
        stuck = {w.target.id for w in self._wrong if w.holds}
        for part_id in stuck & positions.keys():
            where = self._setting.positions.get(part_id) or self._rest(part_id)
            self._notes.append(f"{self.names.parts[part_id]} is stuck and stays at {where}")
        free = {k: v for k, v in positions.items() if k not in stuck}
        self._setting = self._setting.moved(free)

    def _rest(self, part_id: str) -> str:
        return rest_of(self.circuit, self.circuit.parts[part_id])

    def _put(self, text: str) -> dict[str, str]:
        """Put faults in place, or take them away."""
        for name, value in pairs(text, "--fault W06=open,F1=+1ohm"):
            wrong = self._faults.read(name, value)
            kept = [w for w in self._wrong if not wrong.over(w)]
            if wrong.what == NONE and len(kept) == len(self._wrong):
                self._notes.append(f"there was no fault at {wrong.text.removesuffix('=none')}")
            self._wrong = kept if wrong.what == NONE else [*kept, wrong]
        faults = tuple(f for w in self._wrong for f in w.faults)
        self._setting = replace(self._setting, faults=faults)
        return {}
