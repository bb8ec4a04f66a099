"""One look at the circuit for a table: the circuit, its latest analysis, and what follows of both.

What is worked out for the circuit as a whole (roles, fuses, findings) is worked out once a look,
and only when a column that is shown asks for it.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property

from app.analysis import Analysis, by_severity
from app.scene.painted import RUNNING_A
from checks.feeds import feeds_of
from model.circuit import Circuit, End, Part, Wire
from model.kinds.body import Coil, FusePath, LoadPath, SourcePath
from model.lookup import body_of, label, rating
from model.roles import wire_roles
from model.state import State
from model.units import show

SIDES = {
    "fed": "fed",
    "ground": "ground side",
    "both": "joins plus and minus",
    "none": "dead",
}
ROLES = {
    "permanent": "permanent feed",
    "switched": "switched feed",
    "output": "relay output",
    "control": "control",
    "return": "return",
}
NO_FUSE = "no fuse"


class Looking:
    """What a table reads its cells from.

    Parameters
    ----------
    circuit
        The circuit as it is now.
    analysis
        The latest analysis, which may be of the circuit as it was a moment ago.
    positions
        Positions asked of controls; those not named are at rest.
    """

    def __init__(
        self, circuit: Circuit, analysis: Analysis, positions: Mapping[str, str] | None = None
    ) -> None:
        self.circuit = circuit
        self.analysis = analysis
        self.positions = dict(positions or {})

    def take_over(self, before: Looking) -> None:
        """Take what an earlier look worked out and what is the same for this one."""
        same = {
            "roles": wired_alike(before.circuit, self.circuit),
            "fuses": wired_alike(before.analysis.circuit, self.analysis.circuit)
            and (before.analysis.state is None) == (self.analysis.state is None),
            "worst": before.analysis.findings is self.analysis.findings,
            "joined": before.circuit.wires is self.circuit.wires,
            "sheets": before.circuit.sheets is self.circuit.sheets,
        }
        mine, theirs = vars(self), vars(before)
        mine.update({k: theirs[k] for k, kept in same.items() if kept and k in theirs})

    def state_of(self, key: str) -> State | None:
        """Return the state now, None where the part or wire is not solved yet."""
        state, known = self.analysis.state, self.analysis.circuit
        return state if state and (key in known.wires or key in known.parts) else None

    def side(self, wire: Wire) -> str:
        """Return in a word where a wire stands now, "" while that is not known."""
        state = self.state_of(wire.id)
        return SIDES[state.wire_side(wire.id)] if state else ""

    def current_a(self, wire: Wire) -> float | None:
        """Return the amperes from the first to the second end, None while not known."""
        state = self.state_of(wire.id)
        return state.current(wire.id) if state else None

    def volt(self, wire: Wire, end: End | None) -> float | None:
        """Return the volts at an end of a wire, None where they are not known."""
        state = self.state_of(wire.id)
        known = end is not None and end.part in self.analysis.circuit.parts
        return state.volt_at(end) if state and known else None

    @cached_property
    def roles(self) -> Mapping[str, str]:
        """What every wire is for, in words."""
        return {k: ROLES.get(r, "") for k, r in wire_roles(self.circuit).items()}

    @cached_property
    def fuses(self) -> Mapping[str, str]:
        """The fuse that every fed wire hangs on, with its rating; `NO_FUSE` where there is none."""
        state = self.analysis.state
        if state is None:
            return {}
        found: dict[str, dict[str, None]] = {}
        for feed in feeds_of(state.network, state.ground_nodes):
            name = _rated(self.analysis.circuit, feed.fuse.owner) if feed.fuse else ""
            for wire in feed.wires:
                found.setdefault(wire, {})[name] = None
        return {k: ", ".join(filter(None, names)) or NO_FUSE for k, names in found.items()}

    @cached_property
    def worst(self) -> Mapping[str, str]:
        """The worst finding of every part and wire that has one, as a sentence."""
        found: dict[str, str] = {}
        for finding in by_severity(self.analysis.findings):
            if not finding.accepted:
                for key in (*finding.parts, *finding.wires):
                    found.setdefault(key, f"{finding.severity.capitalize()}: {finding.sentence}")
        return found

    @cached_property
    def joined(self) -> Mapping[str, int]:
        """How many terminals of every part have a wire."""
        ends = {e.node for w in self.circuit.wires.values() for e in (w.first, w.second) if e}
        count: dict[str, int] = {}
        for part_id, _ in ends:
            count[part_id] = count.get(part_id, 0) + 1
        return count

    @cached_property
    def sheets(self) -> Mapping[str, str]:
        """The names of the sheets on which every part has a place."""
        found: dict[str, list[str]] = {}
        for sheet in self.circuit.sheets.values():
            for place in sheet.places.values():
                names = found.setdefault(place.part, [])
                names += [sheet.name or sheet.id] if sheet.name not in names else []
        return {k: ", ".join(dict.fromkeys(names)) for k, names in found.items()}

    def position(self, part: Part) -> str:
        """Return the position a control stands in, "" for any other part."""
        body = body_of(self.circuit, part)
        return (self.positions.get(part.id) or body.rest) if body.positions else ""

    def doing(self, part: Part) -> str:
        """Return in words what a part does now."""
        state = self.state_of(part.id)
        if state is None:
            return ""
        elements = body_of(self.circuit, part).elements
        words = [_coil_word(state, part, e) for e in elements if isinstance(e, Coil)]
        if any(isinstance(e, LoadPath) for e in elements):
            words.append("running" if abs(self.through(part)) >= RUNNING_A else "off")
        return ", ".join(dict.fromkeys(words)) or self._standing(part, state)

    def through(self, part: Part) -> float:
        """Return the largest current through what works in a part, in amperes."""
        state = self.state_of(part.id)
        if state is None:
            return 0.0
        names = [e.name for e in _working(self.circuit, part)]
        return max((abs(state.current(part.id, n)) for n in names), default=0.0)

    def across(self, part: Part) -> float | None:
        """Return the largest voltage across what works in a part; None where nothing does."""
        state = self.state_of(part.id)
        names = [e.name for e in _working(self.circuit, part)] if state else []
        volts = [abs(state.across(part.id, n)) for n in names] if state else []
        return max(volts, default=None)

    def _standing(self, part: Part, state: State) -> str:
        """Return the side of a part without coil or load: that of its terminals."""
        nodes = [t.node for t in body_of(self.circuit, part).terminals]
        sides = {state.side(part.id, n) for n in nodes} - {"none"}
        return ", ".join(SIDES[s] for s in sorted(sides)) or SIDES["none"]


def wired_alike(a: Circuit, b: Circuit) -> bool:
    """Tell whether two circuits have the same parts, and wires between the same ends."""
    if a.wires is b.wires and a.parts is b.parts:
        return True
    if a.parts is not b.parts or len(a.wires) != len(b.wires):
        return False
    pairs = zip(a.wires.values(), b.wires.values(), strict=True)
    return all(v is w or (v.id, v.first, v.second) == (w.id, w.first, w.second) for v, w in pairs)


def _working(circuit: Circuit, part: Part) -> list[Coil | LoadPath | FusePath | SourcePath]:
    """Return what draws, gives or protects in a part; the loads alone where it has any."""
    elements = body_of(circuit, part).elements
    loads = [e for e in elements if isinstance(e, LoadPath)]
    return list(loads) or [e for e in elements if isinstance(e, Coil | FusePath | SourcePath)]


def _coil_word(state: State, part: Part, coil: Coil) -> str:
    return "pulled in" if (part.id, coil.moves) in state.pulled else "released"


def _rated(circuit: Circuit, part_id: str) -> str:
    part = circuit.parts[part_id]
    amps = rating(circuit, part, "rating_a").number
    return f"{label(part)} {show(float(amps), 'current')}" if amps else label(part)
