"""Sizes for a load, for some, or for a whole circuit: the search, told as advice."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

import numpy as np

from checks.case import Case, Use
from checks.drops import Drop, drop_of
from checks.flows import draws
from checks.run import check
from checks.sizing.advice import FUSE, RELAY, WIRE, Choice, Contact, Plan, Sized, Tried
from checks.sizing.forms import OtherFuse
from checks.sizing.items import Item, items_of, present
from checks.sizing.judges import BETTER, JUDGES, Values, findings_of, with_values
from checks.sizing.rests import rests_on, source_of
from checks.sizing.retry import search_forms
from checks.sizing.search import Search, demand_of
from model.changes import Change
from model.circuit import Circuit
from model.edits import put
from model.lookup import label, number, rating
from model.tables.relay_types import RelayType
from model.tables.relays import load_class
from model.wiresize import Size


def plan_sizes(
    circuit: Circuit, parts: Iterable[str] = (), go_on: Callable[[], bool] = lambda: True
) -> Plan:
    """Return the smallest fuses, wires and relays that satisfy every rule together.

    Parameters
    ----------
    circuit
        The circuit.
    parts
        Ids of the loads to be sized, what carries others too left as it is; none for the whole
        circuit, trunks and main fuses sized for all that is downstream of them together.
    go_on
        Asked now and then during a long search.

    Raises
    ------
    Stopped
        When `go_on` says no.
    """
    case, wanted = Case(circuit), frozenset(parts)
    ways = list(_ways(case, wanted))
    chosen = frozenset(use.part.id for use, _, _ in ways)
    items = items_of(case, chosen, whole=not wanted)
    search, others = search_forms(case, items, chosen, go_on)
    choices = tuple(_choice(case, search, i, others.get(i.key, ())) for i in search.items)
    loads = tuple(_sized(case, use, drop, amps, choices) for use, drop, amps in ways)
    change = _change(case, search, _refused(choices), wanted)
    after = change.apply(circuit) if change else circuit
    return Plan(
        loads,
        choices,
        rests_on(case, loads, choices),
        tuple(w for w in circuit.wires if w in case.network.assumed
              and any(w in c.wires for c in choices)),
        _left(after, search),
        _worse(circuit, after) if change else (),
        change,
    )  # fmt: skip


def _left(after: Circuit, search: Search) -> tuple[str, ...]:
    """Return what rules of good practice still find when all is done, that no size meets."""
    return tuple(
        f.sentence()
        for f in findings_of(after, quick=False)
        if f.rule in BETTER and demand_of(f) in search.set_aside
    )


def _ways(case: Case, wanted: frozenset[str]) -> Iterator[tuple[Use, Drop, float]]:
    """Yield each load that runs in some state, once, with its way and current there."""
    done: set[str] = set()
    calm = ~case.cranking & ~case.cleared
    for use in case.loads:
        if use.part.id in done or (wanted and use.part.id not in wanted):
            continue
        amps = np.abs(case.survey.amps[:, use.edge]) * calm
        row = int(amps.argmax())
        drop = drop_of(case.flows(row), use) if amps[row] > 1e-3 else None
        if drop is not None and use.draws != "starter":
            done.add(use.part.id)
            yield use, drop, float(amps[row])


def _choice(case: Case, search: Search, item: Item, others: tuple[Tried, ...]) -> Choice:
    """Return what the search found for one item."""
    value = search.values.get(item.key)
    nominal_v = case.nominal_v
    fits_a = (
        value.make_at(nominal_v) if isinstance(value, RelayType)
        else value.rating_a if isinstance(value, OtherFuse)
        else None if isinstance(value, Size) else value
    )  # fmt: skip
    fits = "" if value is None else item.text(value)
    if isinstance(value, RelayType):
        fits = f"{value.title}, {value.make_at(nominal_v):g} A"
    order = [item.text(v) for v in item.values]
    tried = sorted(search.tried[item.key].values(), key=lambda t: order.index(t.what))
    return Choice(
        item.kind,
        item.part,
        item.wires,
        item.loads,
        present(case.circuit, item),
        fits,
        fits_a,
        value if isinstance(value, Size) else None,
        item.amps,
        (*others, *tried),
        search.stuck.get(item.key),
        source_of(case, item, value),
        _differs(case.circuit, item, value),
    )


def _differs(circuit: Circuit, item: Item, value: object) -> bool:
    """Tell whether a value is not what is there; a relay of the same contact is the same."""
    if isinstance(value, RelayType):
        part, nominal_v = circuit.parts[item.part], circuit.settings.nominal_v
        same = number(circuit, part, "contact_a") == value.make_at(nominal_v)
        early = number(circuit, part, "must_pull_in_share") > value.must_pull_in_share
        return not same or early or number(circuit, part, "coil_v") != nominal_v
    if isinstance(value, Size):
        return any(circuit.wires[w].size != value for w in item.wires)
    if isinstance(value, OtherFuse):
        return True
    return (
        value is not None and rating(circuit, circuit.parts[item.part], "rating_a").value != value
    )


def _sized(case: Case, use: Use, drop: Drop, amps: float, choices: tuple[Choice, ...]) -> Sized:
    """Return what one load needs, out of all that was chosen."""
    owners = list(dict.fromkeys(p.edge.owner for p in drop.pieces))
    mine = [c for c in choices if use.part.id in c.loads and set(c.ids) & set(owners)]
    mine.sort(key=lambda c: min(owners.index(i) for i in c.ids if i in owners))
    fuses = [p.edge.owner for p in drop.pieces if p.edge.role == "fuse" and not p.back]
    fuse = fuses[-1] if fuses else ""
    chosen = next((c for c in mine if c.kind == FUSE and c.part == fuse), None)
    runs = [c for c in mine if c.kind == WIRE]
    start_a, start_s = _start(case, use, amps)
    fuse_a = number(case.circuit, case.circuit.parts[fuse], "rating_a") if fuse else 0.0
    good = not any(c.stuck for c in mine if c.kind != RELAY)
    return Sized(
        use.part.id,
        amps,
        drop.volts / case.nominal_v,
        start_a,
        start_s,
        fuse,
        fuse_a,
        (chosen.fits_a if chosen else fuse_a or None) if good else None,
        tuple(w for c in runs for w in c.wires),
        runs[-1].size if runs and good else None,
        tuple(_contacts(case, use, drop, amps)),
        tuple(mine),
    )


def _start(case: Case, use: Use, amps: float) -> tuple[float, float]:
    """Return the current of a load while it starts, and for how long."""
    prefix = str(getattr(case.network.edges[use.edge].inner, "prefix", ""))
    times = number(case.circuit, use.part, f"{prefix}start_multiple", 1.0)
    lasts = number(case.circuit, use.part, f"{prefix}start_s", 0.0)
    return (amps * times, lasts) if times > 1.0 and lasts > 0.0 else (amps, 0.0)


def _contacts(case: Case, use: Use, drop: Drop, amps: float) -> Iterator[Contact]:
    """Yield the contacts on the way with the rating that this load asks of them."""
    kind = draws(case.network.edges[use.edge])
    share = (load_class(kind).contact_share or 1.0) if kind in ("motor", "lamp") else 1.0
    for piece in drop.pieces:
        edge = piece.edge
        if edge.role == "contact":
            key = str(getattr(edge.inner, "rating", "contact_a"))
            rated = rating(case.circuit, case.circuit.parts[edge.owner], key).number or 0.0
            yield Contact(edge.owner, amps, kind, float(rated), amps / share)


def _refused(choices: tuple[Choice, ...]) -> frozenset[tuple[str, ...]]:
    """Return the ids of the choices that are not to be made: nothing fits on a load's way."""
    stuck = {p for c in choices if c.stuck and c.kind != RELAY for p in c.loads}
    return frozenset(c.ids for c in choices if c.stuck or stuck & set(c.loads))


def _change(
    case: Case, search: Search, refused: frozenset[tuple[str, ...]], wanted: frozenset[str]
) -> Change | None:
    """Return the change to all that was chosen and is not so already."""
    circuit = case.circuit
    names = [label(circuit.parts[p]) for p in circuit.parts if p in wanted]
    what = f"the way of {', '.join(names[:3])}{' …' if len(names) > 3 else ''}"
    text = f"Size {what if names else 'the whole circuit'}"
    return change_to(circuit, search.items, {
        i.key: v for i in search.items if (v := search.values.get(i.key)) is not None
        and _ids(i) not in refused and _differs(circuit, i, v)}, text)  # fmt: skip


def _ids(item: Item) -> tuple[str, ...]:
    return (item.part, *item.wires) if item.part else item.wires


def change_to(
    circuit: Circuit, items: tuple[Item, ...], values: Values, text: str
) -> Change | None:
    """Return the change to these values as one act, None where it changes nothing."""
    after = with_values(circuit, items, values)
    change = Change(text, ())
    for part in after.parts.values():
        if part is not circuit.parts[part.id]:
            change = change.then(put(circuit, "parts", part, text), text)
    for wire in after.wires.values():
        if wire != circuit.wires[wire.id]:
            change = change.then(put(circuit, "wires", wire, text), text)
    return change if change.swaps else None


def _worse(before: Circuit, after: Circuit) -> tuple[str, ...]:
    """Return what other rules find after a change and did not find before."""
    known = {(f.rule, f.place) for f in check(before).findings}
    return tuple(
        f.sentence()
        for f in check(after).findings
        if (f.rule, f.place) not in known and f.rule not in JUDGES
    )


def part_of_change(plan: Plan, change: Change, kept: Iterable[Choice], text: str) -> Change | None:
    """Return that part of a plan's change that belongs to some of its choices."""
    ids = {i for c in kept for i in c.ids}
    swaps = tuple(s for s in change.swaps if s.key in ids)
    return replace(change, label=text, swaps=swaps) if swaps else None
