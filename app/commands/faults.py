"""Reads what is wrong with a part or wire: `W06=open`, `K1.86=shell+10mohm`, `F1=+1ohm`."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from app.commands.errors import WrongCall
from app.commands.names import Names, Target, match, suggestion
from model.circuit import Part
from model.errors import QuantityError
from model.kinds.body import LoadPath
from model.lookup import body_of
from model.network import Edge, Network
from model.resistances import load_law
from model.states import Fault
from model.units import parse

NONE = "none"
TOUCH_OHM = 0.005
"""Resistance of a wire rubbed through to the shell unless told; common practice, no source."""
OWN_WORDS = {"blown": "open", "missing": "open", "broken": "open"}
TOUCHING = ("shell", "supply")
FIXED = ("wire", "contact", "fuse", "coil", "resistor", "way", "ground")
_FITS: dict[str, Callable[[Edge], bool]] = {
    "open": lambda e: True,
    "blown": lambda e: e.role == "fuse",
    "welded": lambda e: e.role == "contact",
    "short": lambda e: e.role in ("diode", "load", "coil", "resistor", "fuse"),
    "+": lambda e: e.role in FIXED,
}


@dataclass(frozen=True, slots=True)
class Wrong:
    """Something wrong: with what, at which spot of it, as typed, and as the solver takes it.

    `holds` marks a control that stays in its position, which is nothing to the solver.
    """

    target: Target
    spot: str
    what: str
    text: str
    faults: tuple[Fault, ...] = ()
    holds: bool = False

    def over(self, earlier: Wrong) -> bool:
        """Tell whether this takes the place of an earlier one."""
        if earlier.target != self.target or self.spot not in ("", earlier.spot):
            return False
        return self.what == NONE or (self.what, self.spot) == (earlier.what, earlier.spot)


class FaultReader:
    """Reads the faults of one circuit."""

    def __init__(self, names: Names, network: Network) -> None:
        self._names = names
        self._circuit = names.circuit
        self._edges: dict[str, list[Edge]] = {}
        for edge in (*network.edges, *network.merged):
            if not edge.element.startswith("slot "):
                self._edges.setdefault(edge.owner, []).append(edge)

    def read(self, name: str, value: str) -> Wrong:
        """Return the fault of `name=value`.

        Raises
        ------
        WrongCall
            When nothing bears the name, or the fault does not fit what does.
        """
        target, spot = self._spot(name)
        shown = self._names.of(target) + (f".{spot}" if spot else "")
        word, plus, more = (w.strip() for w in value.partition("+"))
        what = word.casefold() or ("series" if plus else "")
        text = f"{shown}={what if what != 'series' else ''}{plus}{more}"
        if what == NONE and not plus:
            return Wrong(target, spot, NONE, text)
        if what not in self._fitting(target, spot) or (plus and what not in (*TOUCHING, "series")):
            raise self._unfit(target, spot, shown, value)
        ohm = _ohm(more) if plus else TOUCH_OHM
        if what == "stuck" and self._is_control(target):
            return Wrong(target, spot, what, text, holds=True)
        return Wrong(target, spot, what, text, self._faults(target, spot, what, ohm))

    def _spot(self, name: str) -> tuple[Target, str]:
        """Return the part or wire of a name and what follows its dot."""
        whole = self._names.find(name)
        if whole is not None:
            return whole, ""
        head, dot, tail = name.rpartition(".")
        while dot:
            target = self._names.find(head)
            if target is not None and target.table == "parts":
                return target, self._spot_of(self._circuit.parts[target.id], tail)
            head, dot, more = head.rpartition(".")
            tail = f"{more}.{tail}"
        raise self._names.unknown(name)

    def _spot_of(self, part: Part, text: str) -> str:
        """Return the spelling of a terminal or an element of a part."""
        known = [*self._names.terminals(part).values(), *self._elements(part)]
        found = match(text, known) or match(text.removesuffix("/a"), known)
        if found is None:
            raise WrongCall(
                f"{self._names.parts[part.id]} has no terminal or element “{text}”; "
                f"{suggestion(text, list(dict.fromkeys(known)))}"
            )
        return found

    def _elements(self, part: Part) -> list[str]:
        return [e.element for e in self._edges.get(part.id, [])]

    def _fitting(self, target: Target, spot: str) -> list[str]:
        """Return every word that fits what is named."""
        if target.table == "wires":
            return ["open", "missing", "broken", *TOUCHING, "series"]
        part = self._circuit.parts[target.id]
        words = [w for w in ("open", "blown", "welded", "short") if self._chosen(part, spot, w)]
        if "open" in words:
            words += ["missing", "broken"]
        if self._node(part, spot) is not None:
            words += TOUCHING
        if self._chosen(part, spot, "+"):
            words.append("series")
        if not spot and (body_of(self._circuit, part).positions or self._has(part, "coil")):
            words.append("stuck")
        return words

    def _unfit(self, target: Target, spot: str, shown: str, value: str) -> WrongCall:
        """Return the error of a fault that what is named cannot have."""
        words = [w for w in self._fitting(target, spot) if w not in ("missing", "broken")]
        usable = ["+1ohm" if w == "series" else w for w in words] + [NONE]
        more = ""
        if target.table == "parts" and not spot and value.split("+")[0].strip() in TOUCHING:
            part = self._circuit.parts[target.id]
            more = f", and a terminal for that, such as {shown}.{self._any_terminal(part)}"
        return WrongCall(
            f"{shown} cannot be “{value}”; it can be {', '.join(usable)}{more} "
            "(a resistance is written like shell+10mohm)"
        )

    def _any_terminal(self, part: Part) -> str:
        return next(iter(self._names.terminals(part).values()), "1")

    def _faults(self, target: Target, spot: str, what: str, ohm: float) -> tuple[Fault, ...]:
        """Return the fault as the solver takes it, one for each element concerned."""
        word = OWN_WORDS.get(what, what)
        if target.table == "wires" or word == "stuck":
            return (Fault(target.id, word, 0.0 if word in ("open", "stuck") else ohm),)
        part = self._circuit.parts[target.id]
        if word in TOUCHING:
            return (Fault(part.id, word, ohm, self._node(part, spot) or ""),)
        edges = self._chosen(part, spot, "+" if word == "series" else what)
        return tuple(
            Fault(part.id, word, ohm if word == "series" else 0.0, e.element) for e in edges
        )

    def _node(self, part: Part, spot: str) -> str | None:
        """Return the node of a terminal; of the only one where none is named."""
        shown = self._names.terminals(part)
        if not spot:
            return next(iter(shown)) if len(shown) == 1 else None
        return next((node for node, marking in shown.items() if marking == spot), None)

    def _chosen(self, part: Part, spot: str, what: str) -> list[Edge]:
        """Return the elements that a fault of this word acts on."""
        edges = [e for e in self._edges.get(part.id, []) if self._fits(part, e, what)]
        if not spot:
            return self._main(edges, what)
        named = [e for e in edges if e.element == spot]
        if named:
            return named
        node = self._node(part, spot)
        return [e for e in edges if _ends(e) and node in _ends(e)]

    def _main(self, edges: list[Edge], what: str) -> list[Edge]:
        """Return those of a part's elements that are meant when none is named."""
        for role in ("load", "contact", "fuse", "source"):
            chosen = [e for e in edges if e.role == role]
            if chosen:
                return chosen
        return edges if what != "short" or not any(e.role == "coil" for e in edges) else []

    def _fits(self, part: Part, edge: Edge, what: str) -> bool:
        """Tell whether a fault can befall an element."""
        word = "open" if what in ("missing", "broken") else what
        if word == "+" and isinstance(edge.inner, LoadPath):
            return load_law(self._circuit, part, edge.inner.prefix) in ("resistor", "motor")
        return _FITS[word](edge)

    def _has(self, part: Part, role: str) -> bool:
        return any(e.role == role for e in self._edges.get(part.id, []))

    def _is_control(self, target: Target) -> bool:
        part = self._circuit.parts.get(target.id) if target.table == "parts" else None
        return part is not None and bool(body_of(self._circuit, part).positions)


def _ends(edge: Edge) -> tuple[str, ...]:
    """Return the inner nodes between which an element lies."""
    return (edge.inner.a, edge.inner.b) if edge.inner is not None else ()


def _ohm(text: str) -> float:
    """Return the ohms behind the plus."""
    try:
        return parse(text, "resistance")
    except QuantityError as error:
        raise WrongCall(str(error)) from error
