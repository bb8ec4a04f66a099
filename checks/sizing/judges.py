"""The rules as judges of a candidate: what they find that another size would cure."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import numpy as np

from checks.case import Case
from checks.finding import ADVICE, DANGER, FAULT, UNKNOWN, Finding
from checks.rule import Rule, rules
from checks.sizing.forms import OtherFuse, with_fuse
from checks.sizing.items import Item, Value
from model.circuit import Circuit, Part
from model.kinds.kind import Value as Stated
from model.lookup import kind_of, number
from model.survey import Survey
from model.tables.relay_types import RelayType
from model.wiresize import Size

OF_FUSES = frozenset(("fuse-below-running", "fuse-below-start", "breaking-capacity"))
OF_WIRES = frozenset(
    ("wire-overload", "fuse-above-wire", "thinner-without-fuse", "short-outlasts-wire",
     "voltage-drop", "return-thinner-than-feed", "ground-lift")
)  # fmt: skip
OF_RELAYS = frozenset(("contact-overload", "weak-pull-in", "coil-voltage-class"))
"""The rules that judge a fuse, the wires of a load, and a relay."""
BETTER = frozenset(("return-thinner-than-feed", "ground-lift"))
"""Rules of good practice: where no size meets them, the rest is advised all the same."""
JUDGES = OF_FUSES | OF_WIRES | OF_RELAYS
COUNT = frozenset((DANGER, FAULT, ADVICE))
CAREFUL = frozenset(("fuse-below-start", "short-outlasts-wire", "voltage-drop", "contact-overload"))
"""Rules that count even where they rest on a usual or assumed value: a start that is not stated
happens all the same."""
SOME = 0.3
"""Share of its pull-in from which a coil counts as fed, if too weakly."""
DATA_MISSING = "data missing"
Values = dict[tuple[str, ...], Value]


def findings_of(circuit: Circuit, *, quick: bool) -> list[Finding]:
    """Return what the judges find in a circuit, the gravest first.

    `quick` looks at rest, at every control moved alone and at all of them where they close most,
    which shows the greatest currents of nearly every circuit; the last look is to be a full one.
    """
    case = Case(circuit, Survey(circuit, quick=quick))
    found = [f for rule in _judges() for f in rule.find(case) if _counts(f)]
    found += _stays_out(case)
    return sorted(found, key=lambda f: f.order)


def _stays_out(case: Case) -> Iterator[Finding]:
    """Yield a finding for every coil that gets something but never enough to pull in.

    The rules tell that at the load, which then never runs, and so say nothing of its relay.
    """
    for use in case.dead_coil_uses:
        volts, pulls = float(np.abs(case.survey.across(use.edge)).max()), case.pull_in_v(use)
        if volts >= SOME * pulls:
            yield Finding(
                rule="weak-pull-in",
                severity=FAULT,
                parts=(use.part.id,),
                says="{part} gets no more than {volts:voltage} at its coil and pulls in at "
                "{pulls:voltage}: it stays out.",
                values={"part": use.name, "volts": volts, "pulls": pulls},
            )


@cache
def _judges() -> tuple[Rule, ...]:
    return tuple(r for r in rules() if r.name in JUDGES)


def _counts(finding: Finding) -> bool:
    """Tell whether a finding speaks against a candidate; one of a size no table has does."""
    if finding.severity == UNKNOWN and finding.rule not in CAREFUL:
        return finding.source == DATA_MISSING and finding.rule in OF_WIRES
    return finding.severity in COUNT or finding.rule in CAREFUL


def with_values(circuit: Circuit, items: tuple[Item, ...], values: Values) -> Circuit:
    """Return the circuit with candidates in it; items without a value stay as they are."""
    parts, wires = dict(circuit.parts), dict(circuit.wires)
    for item in items:
        value = values.get(item.key)
        if isinstance(value, Size):
            wires |= {w: replace(wires[w], size=value) for w in item.wires}
        elif value is not None:
            parts[item.part] = with_value(circuit, parts[item.part], value)
    return replace(circuit, parts=parts, wires=wires)


def with_value(circuit: Circuit, part: Part, value: Value) -> Part:
    """Return a fuse of another rating, or a relay of another type."""
    if isinstance(value, OtherFuse):
        return with_fuse(part, value)
    stated: dict[str, Stated]
    if isinstance(value, RelayType):
        stated = _of_type(circuit, part, value)
    else:
        assert not isinstance(value, Size)
        stated = {**part.ratings, "rating_a": value}
    return part if stated == part.ratings else replace(part, ratings=stated)


def _of_type(circuit: Circuit, part: Part, kind: RelayType) -> dict[str, Stated]:
    """Return the ratings of a relay as those of a type; what the type does not say is kept."""
    nominal_v = circuit.settings.nominal_v
    gone = ("motor_a", "lamp_a", "inrush_a", "contact_v", "coil_v")
    stated: dict[str, Stated] = {k: v for k, v in part.ratings.items() if k not in gone}
    stated |= {
        "contact_a": kind.make_at(nominal_v),
        "coil_ohm": kind.coil_at(nominal_v),
        "must_pull_in_share": kind.must_pull_in_share,
    }
    if number(circuit, part, "pull_in_share") > kind.must_pull_in_share:
        stated["pull_in_share"] = kind.must_pull_in_share  # none pulls in later than is promised
    if "break_a" in kind_of(circuit, part).specs:
        stated["break_a"] = kind.break_at(nominal_v)
    return stated
