"""The smallest fuse and wire that satisfy every rule, for one load, and why smaller ones do not.

The rules themselves are the judges: every candidate is put into the circuit, the circuit is
solved, and the rules of rating and protection are asked. So no advice breaks a rule that the same
program tells of, and the reason why a smaller one fails is the sentence of the rule it breaks.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from checks.case import Case, Use
from checks.drops import Drop, drop_of
from checks.finding import ADVICE, DANGER, FAULT, Finding
from checks.flows import draws
from checks.rule import Rule, rules
from checks.stock import fuse_ratings, sizes_above
from model.changes import Change
from model.circuit import Circuit, Wire
from model.edits import put
from model.lookup import label, number, rating
from model.own_tables import may_carry
from model.survey import Survey
from model.tables.relays import load_class
from model.wiresize import Size

OF_FUSES = frozenset(("fuse-below-running", "fuse-below-start", "breaking-capacity"))
OF_WIRES = frozenset(
    ("wire-overload", "fuse-above-wire", "short-outlasts-wire", "voltage-drop",
     "return-thinner-than-feed")
)  # fmt: skip
"""The rules that judge a fuse, and those that judge the wires of a load."""
COUNT = frozenset((DANGER, FAULT, ADVICE))
CAREFUL = frozenset(("fuse-below-start",))
"""Rules that count even where they rest on a usual value: a start that is not stated happens."""
OWN = 1.05
"""A wire with no more than so many times the load's current is the load's own."""
SMALLEST = 0.3
"""Wires below this many mm² are not advised on a vehicle: they break; common practice."""
EVERY = 64
"""States up to which a candidate is looked at in all of them."""
BASE_C = 30.0
"""The ambient for which a table is asked whether it covers a size."""


@dataclass(frozen=True, slots=True)
class Tried:
    """A candidate that fails, and the sentence of the rule that it breaks."""

    what: str
    rule: str
    why: str


@dataclass(frozen=True, slots=True)
class Contact:
    """A contact on the way of a load: what it carries, what it is made for, what it must be."""

    part: str
    amps: float
    kind: str
    rating_a: float
    needs_a: float


@dataclass(frozen=True, slots=True)
class Sized:
    """What a load needs.

    Attributes
    ----------
    load
        Id of its part.
    amps, share
        Its greatest running current, and the share of the supply lost on the way at that.
    fuse, fuse_a, fits_a
        The fuse nearest to it (id, "" for none), the rating it has and the smallest that fits.
    wires, fits
        The wires that carry its current alone, and the smallest size that fits all of them.
    contacts
        The contacts on its way.
    tried
        Smaller candidates and why they fail.
    stuck
        Why nothing fits, "" where something does.
    assumed
        Wires whose size or length had to be assumed.
    change
        What the advice comes to, as one undoable change; None where all is so already.
    """

    load: str
    amps: float
    share: float
    fuse: str
    fuse_a: float
    fits_a: float | None
    wires: tuple[str, ...]
    fits: Size | None
    contacts: tuple[Contact, ...]
    tried: tuple[Tried, ...]
    stuck: str
    assumed: tuple[str, ...]
    change: Change | None


def size_loads(circuit: Circuit, parts: Iterable[str] = ()) -> Iterator[Sized]:
    """Yield what each load needs that runs in some state, or those of these parts.

    Parameters
    ----------
    circuit
        The circuit.
    parts
        Ids of parts; none for every load.
    """
    case, wanted = Case(circuit), set(parts)
    done: set[str] = set()
    for use in case.loads:
        if use.part.id in done or (wanted and use.part.id not in wanted):
            continue
        way = _way(case, use)
        if way is not None and use.draws != "starter":
            done.add(use.part.id)
            yield _Search(case, use, *way).sized()


def _way(case: Case, use: Use) -> tuple[Drop, float] | None:
    """Return the way of a load in the state with its greatest current, and that current."""
    calm = ~case.cranking & ~case.cleared
    amps = np.abs(case.survey.amps[:, use.edge]) * calm
    row = int(amps.argmax())
    if amps[row] <= 1e-3:
        return None
    drop = drop_of(case.flows(row), use)
    return (drop, float(amps[row])) if drop is not None else None


class _Search:
    """Looks for the smallest fuse and wires of one load."""

    def __init__(self, case: Case, use: Use, drop: Drop, amps: float) -> None:
        self.case, self.use, self.drop, self.amps = case, use, drop, amps
        self.circuit = case.circuit
        self.tried: list[Tried] = []
        own = [p.edge for p in drop.pieces if p.edge.role == "wire" and self._own(p.edge.owner)]
        self.wires = tuple(dict.fromkeys(e.owner for e in own))
        fuses = [p.edge.owner for p in drop.pieces if p.edge.role == "fuse" and not p.back]
        self.fuse = fuses[-1] if fuses else ""

    def _own(self, wire_id: str) -> bool:
        """Tell whether a wire carries this load's current and hardly more in any state.

        A battery's own cables carry whatever there will be, and a starter's: they stay.
        """
        if wire_id in self.case.starter_cables or self._at_minus(wire_id):
            return False
        index = self.case.network.by_key[(wire_id, "")]
        return float(self.case.peaks.amps[index]) <= OWN * self.amps

    def _at_minus(self, wire_id: str) -> bool:
        """Tell whether a wire ends at the minus of a battery."""
        edge = self.case.network.edges[self.case.network.by_key[(wire_id, "")]]
        minuses = {e.b for e in self.case.sources}
        return bool({edge.a, edge.b} & minuses)

    def sized(self) -> Sized:
        """Return what the load needs."""
        found = next(self._fits(), None)
        fits_a, fits = found if found else (None, None)
        fuse_a = self._fuse_a()
        change = self._change(fits_a, fits) if found else None
        return Sized(
            self.use.part.id,
            self.amps,
            self.drop.volts / self.case.nominal_v,
            self.fuse,
            fuse_a,
            fits_a,
            self.wires,
            fits,
            tuple(self._contacts()),
            tuple(self.tried),
            "" if found else self._stuck(),
            tuple(w for w in self.wires if w in self.case.network.assumed),
            change if change is not None and change.swaps else None,
        )

    def _fits(self) -> Iterator[tuple[float | None, Size | None]]:
        """Yield fuse and size that satisfy every rule, the smallest first."""
        for rating_a in self._ratings():
            if not self._fuse_may_fit(rating_a):
                continue
            for size in self._sizes():
                ids = {*self.wires, self.use.part.id, self.fuse}
                circuit = self._with(rating_a, size)
                if _broken(circuit, OF_FUSES, {self.fuse}) is not None:
                    break  # thicker wire only lets more through
                if self._holds(circuit, OF_WIRES, ids, _text(size)):
                    yield rating_a, size

    def _fuse_may_fit(self, rating_a: float | None) -> bool:
        """Tell whether a rating fits at all: the thinnest wire lets the least current through."""
        if not self.fuse or _broken(self._with(rating_a, None), OF_FUSES, {self.fuse}) is None:
            return True
        thinnest = self._with(rating_a, self._sizes()[0])
        if _broken(thinnest, OF_FUSES, {self.fuse}) is None:
            return True
        return self._holds(self._with(rating_a, None), OF_FUSES, {self.fuse}, _amps(rating_a))

    def _ratings(self) -> tuple[float | None, ...]:
        """Return the ratings that the fuse is sold in; one None where there is none."""
        if not self.fuse:
            return (None,)
        part = self.circuit.parts[self.fuse]
        return fuse_ratings(self.circuit, part) or (self._fuse_a(),)

    def _sizes(self) -> tuple[Size | None, ...]:
        """Return the sizes that the wires may have; one None where none is the load's own."""
        if not self.wires:
            return (None,)
        sizes = [self.circuit.wires[w].size for w in self.wires]
        awg = any(s is not None and s.awg is not None for s in sizes)
        least = Size(awg=24) if awg else Size(mm2=SMALLEST)
        known = (s for s in sizes_above(least) if self._covered(s))
        return tuple(known) or (None,)

    def _covered(self, size: Size) -> bool:
        """Tell whether the chosen table knows what a size may carry: else it proves nothing."""
        return may_carry(self.circuit, size, BASE_C).value_a is not None

    def _fuse_a(self) -> float:
        if not self.fuse:
            return 0.0
        return number(self.circuit, self.circuit.parts[self.fuse], "rating_a")

    def _with(self, rating_a: float | None, size: Size | None) -> Circuit:
        """Return the circuit with a candidate in it."""
        change = self._change(rating_a, size)
        return change.apply(self.circuit) if change.swaps else self.circuit

    def _change(self, rating_a: float | None, size: Size | None) -> Change:
        """Return the change to a fuse rating and a size, without what is so already."""
        text = f"Size the way of {label(self.use.part)}"
        change = Change(text, ())
        if self.fuse and rating_a is not None and rating_a != self._fuse_a():
            part = self.circuit.parts[self.fuse]
            new = replace(part, ratings={**part.ratings, "rating_a": rating_a})
            change = change.then(put(self.circuit, "parts", new, text), text)
        for wire in self._unlike(size):
            change = change.then(put(self.circuit, "wires", replace(wire, size=size), text), text)
        return change

    def _unlike(self, size: Size | None) -> list[Wire]:
        wires = [self.circuit.wires[w] for w in self.wires]
        return [w for w in wires if size is not None and w.size != size]

    def _holds(self, circuit: Circuit, names: frozenset[str], ids: set[str], what: str) -> bool:
        """Tell whether a candidate breaks none of these rules; one that does is noted."""
        broken = _broken(circuit, names, ids)
        if broken is not None and not any(t.what == what for t in self.tried):
            self.tried.append(Tried(what, broken.rule, broken.sentence()))
        return broken is None

    def _contacts(self) -> Iterator[Contact]:
        """Yield the contacts on the way with the rating that this load asks of them."""
        kind = draws(self.case.network.edges[self.use.edge])
        share = (load_class(kind).contact_share or 1.0) if kind in ("motor", "lamp") else 1.0
        for piece in self.drop.pieces:
            edge = piece.edge
            if edge.role != "contact":
                continue
            key = str(getattr(edge.inner, "rating", "contact_a"))
            rated = rating(self.circuit, self.circuit.parts[edge.owner], key).number or 0.0
            yield Contact(edge.owner, self.amps, kind, float(rated), self.amps / share)

    def _stuck(self) -> str:
        """Return which demands contradict each other."""
        if not self.tried:
            return "There is neither a fuse nor a wire of its own on the way."
        fuses = [t for t in self.tried if t.rule in OF_FUSES]
        wires = [t for t in self.tried if t.rule in OF_WIRES]
        if not wires:
            return f"No fuse of this form fits: {fuses[-1].why}"
        needs = f"The fuse must be larger than {fuses[-1].what}: {fuses[-1].why} But " \
            if fuses else ""  # fmt: skip
        return f"{needs}even {wires[-1].what} does not do: {wires[-1].why}"


@cache
def _judges(names: frozenset[str]) -> tuple[Rule, ...]:
    return tuple(r for r in rules() if r.name in names)


def _broken(circuit: Circuit, names: frozenset[str], ids: set[str]) -> Finding | None:
    """Return the gravest finding of some rules about some parts and wires, None for none."""
    survey = Survey(circuit, EVERY)
    case = Case(circuit, survey)
    found = [
        f
        for rule in _judges(names)
        for f in rule.find(case)
        if (f.severity in COUNT or f.rule in CAREFUL) and ids & set(f.place)
    ]
    return min(found, key=lambda f: f.order, default=None)


def _amps(rating_a: float | None) -> str:
    return f"{rating_a:g} A" if rating_a is not None else "no fuse"


def _text(size: Size | None) -> str:
    return size.text() if size is not None else "no wire of its own"
