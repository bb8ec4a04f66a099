"""Sizing as text and as data for programs."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from app.commands.names import Names
from app.commands.talk import Talk
from checks.sizing import Choice, Contact, Plan, Sized
from checks.sizing.axis import Axis
from model.circuit import Circuit
from model.units import show

AXIS = 56
"""Letters of the lines on which load, fuse, wire and short are drawn."""
LANES = ("load", "fuse", "wire", "short")
SIGNS = {"running": "●", "start": "◆", "rating": "┃", "holds": "▷"}
"""Signs of points; what spans a stretch is drawn as a line."""


def plan_data(circuit: Circuit, names: Names, plan: Plan, axes: dict[str, Axis]) -> dict[str, Any]:
    """Return a plan as the JSON gives it."""
    chosen = circuit.settings.chosen
    return {
        "loads": [_load(circuit, names, s, plan, axes.get(s.load)) for s in plan.loads],
        "choices": [_choice(names, c) for c in plan.choices],
        "rests_on": list(plan.rests),
        "left": list(plan.left),
        "worse": list(plan.worse),
        "ampacity_table": chosen.ampacity,
        "copper_table": chosen.copper,
    }


def _load(
    circuit: Circuit, names: Names, sized: Sized, plan: Plan, axis: Axis | None
) -> dict[str, Any]:
    """Return what one load needs."""
    return {
        "load": names.parts[sized.load],
        "current_a": sized.amps,
        "start_a": sized.start_a,
        "start_s": sized.start_s,
        "drop_share": sized.share,
        "fuse": names.parts.get(sized.fuse, ""),
        "fuse_a": sized.fuse_a or None,
        "fits_a": sized.fits_a,
        "wires": [names.wires.get(w, w) for w in sized.wires],
        "sizes": [_size(circuit, w) for w in sized.wires],
        "fits_size": sized.fits.text() if sized.fits else None,
        "contacts": [_contact(names, c) for c in sized.contacts],
        "smaller": [{"what": t.what, "rule": t.rule, "why": t.why} for t in sized.tried],
        "stuck": sized.stuck,
        "assumed": [names.wires.get(w, w) for w in sized.wires if w in plan.assumed],
        "axis": [_mark(m.lane, m.what, m.low_a, m.high_a) for m in axis.marks] if axis else [],
        "ampacity_table": circuit.settings.chosen.ampacity,
    }


def _mark(lane: str, what: str, low_a: float, high_a: float) -> dict[str, Any]:
    return {"lane": lane, "what": what, "low_a": low_a, "high_a": high_a}


def _choice(names: Names, choice: Choice) -> dict[str, Any]:
    """Return one thing that is sized."""
    stuck = choice.stuck
    return {
        "kind": choice.kind,
        "part": names.parts.get(choice.part, ""),
        "wires": [names.wires.get(w, w) for w in choice.wires],
        "loads": [names.parts[p] for p in choice.loads],
        "current_a": choice.amps,
        "now": choice.now,
        "fits": choice.fits or None,
        "changes": choice.differs,
        "source": choice.source,
        "smaller": [{"what": t.what, "rule": t.rule, "why": t.why} for t in choice.tried],
        "needs": stuck.needs if stuck else "",
        "against": stuck.against if stuck else "",
    }


def _contact(names: Names, contact: Contact) -> dict[str, Any]:
    return {
        "part": names.parts[contact.part],
        "current_a": contact.amps,
        "kind": contact.kind,
        "rating_a": contact.rating_a,
        "needs_a": contact.needs_a,
    }


def _size(circuit: Circuit, wire: str) -> str | None:
    size = circuit.wires[wire].size
    return size.text() if size else None


def plan_lines(
    circuit: Circuit, names: Names, plan: Plan, axes: dict[str, Axis], talk: Talk
) -> Iterator[str]:
    """Yield a plan as lines: load by load, then what feeds coils, then what it rests on."""
    told: set[tuple[str, ...]] = set()
    for sized in plan.loads:
        yield from _lines(circuit, names, sized, axes.get(sized.load), talk, told)
        yield ""
    rest = [c for c in plan.choices if c.ids not in told]
    if rest:
        yield "What feeds coils, and the rest"
        for choice in rest:
            yield _head(names, choice, talk)
            yield from _reasons(names, choice, talk, told)
        yield ""
    for title, sentences in (
        ("Rests on", plan.rests),
        ("Not met by any size", plan.left),
        ("Worse after it", plan.worse),
    ):
        for sentence in sentences:
            yield talk.wrapped(f"{title}: {sentence}")


def _lines(
    circuit: Circuit,
    names: Names,
    sized: Sized,
    axis: Axis | None,
    talk: Talk,
    told: set[tuple[str, ...]],
) -> Iterator[str]:
    """Yield what a load needs: what fits, contacts, the axis, why nothing smaller."""
    load = circuit.parts[sized.load]
    yield f"{names.parts[load.id]}  {load.name}".rstrip() + f": {show(sized.amps, 'current')}"
    why: list[str] = []
    for choice in sized.choices:
        yield _head(names, choice, talk)
        why += _reasons(names, choice, talk, told)
    for contact in sized.contacts:
        yield _contact_line(names, contact)
    if axis is not None:
        yield from (f"  {line}" for line in axis_lines(axis))
    if sized.stuck:
        yield talk.wrapped(f"Nothing fits. {sized.stuck}", "  ")
    yield from why


def _head(names: Names, choice: Choice, talk: Talk) -> str:
    """Return what there is and what fits."""
    fits = choice.fits or "none fits"
    return talk.wrapped(f"{_what(names, choice)}: now {choice.now}, smallest {fits}", "  ")


def _what(names: Names, choice: Choice) -> str:
    """Return what is sized, by kind and name."""
    if choice.part:
        return f"{choice.kind} {names.parts[choice.part]}"
    return f"wires {', '.join(names.wires.get(w, w) for w in choice.wires)}"


def _reasons(names: Names, choice: Choice, talk: Talk, told: set[tuple[str, ...]]) -> Iterator[str]:
    """Yield, the first time, why nothing smaller fits."""
    if choice.ids not in told and choice.tried:
        yield talk.wrapped(f"{_what(names, choice)}, why no smaller", "  ")
        for tried in choice.tried:
            yield talk.wrapped(f"not {tried.what}: {tried.why}", "    ")
    told.add(choice.ids)


def _contact_line(names: Names, contact: Contact) -> str:
    """Return what a contact is rated and what it needs."""
    kind = "" if contact.kind == "resistive" else f" ({contact.kind})"
    small = "" if contact.enough else ": too small"
    return (
        f"  contact of {names.parts[contact.part]}: rated {contact.rating_a:g} A, needs "
        f"{show(contact.needs_a, 'current')}{kind}{small}"
    )


def axis_lines(axis: Axis) -> Iterator[str]:
    """Yield load, fuse, wire and short on one axis of current, a line each, and the axis."""
    for lane in LANES:
        marks = [m for m in axis.marks if m.lane == lane]
        if not marks:
            continue
        line = [" "] * (AXIS + 1)
        for mark in sorted(marks, key=lambda m: m.what in SIGNS):
            low, high = (round(axis.share(a) * AXIS) for a in (mark.low_a, mark.high_a))
            sign = SIGNS.get(mark.what)
            line[low : high + 1] = [sign or ("═" if lane == "fuse" else "─")] * (high + 1 - low)
            if not sign:
                line[high] = "╡" if lane == "fuse" else "┤"
        said = ", ".join(_said(m.what, m.low_a, m.high_a) for m in marks)
        yield f"{lane:5} {''.join(line)}".rstrip()
        yield f"      {said}"
    yield _ticks(axis)


def _said(what: str, low_a: float, high_a: float) -> str:
    """Return a mark with its sign and its numbers."""
    sign = SIGNS.get(what)
    if sign:
        return f"{sign} {what} {show(low_a, 'current')}"
    if low_a <= 0.0:
        return f"{what} {show(high_a, 'current')}"
    return f"{what} {show(low_a, 'current')} to {show(high_a, 'current')}"


def _ticks(axis: Axis) -> str:
    """Return the steps of the axis; those that would run into one another are left out."""
    line, free = [" "] * (AXIS + 8), 0
    for tick in axis.ticks:
        at, text = round(axis.share(tick) * AXIS), f"{tick:g}"
        if at >= free:
            line[at : at + len(text)] = text
            free = at + len(text) + 1
    return f"A     {''.join(line)}".rstrip()
