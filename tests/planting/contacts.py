"""Mistakes at contacts: rated for heating, for running alone, or the weaker one of the two.

What a contact carries is reckoned here by taking it out: the loads that then have no way to one
side of the supply are those it carries.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import networkx as nx
import numpy as np

from model.circuit import Circuit, Part
from model.kinds.body import Contact, LoadPath
from model.lookup import kind_of, label, number
from model.network import Edge
from model.survey import Survey
from tests.planting.plant import Plant, moved, wires_on, with_parts
from tests.planting.ways import relays, seat, survey

PART = {"motor": 0.55, "lamp": 0.55}
"""Share of the resistive rating: a published micro relay, 17 of 30 A (rallyrace.net), rounded."""
MAKES = {"motor": 65 / 17, "lamp": 10.0}
"""Times the motor rating that it makes (the same relay), and the lamp rating (ten times inrush)."""
BROKEN = 30 / 40
"""Break contact over make contact of published cube relays."""
LEAST_A = 1.0
SPECIAL = ("motor_a", "lamp_a", "inrush_a", "break_a", "contact_a", "aux_contact_a")


@dataclass(frozen=True)
class Carries:
    """What a contact of a part carries in one state, running and starting, by kind of load."""

    part: Part
    edge: Edge
    amps: float
    kinds: dict[str, float]
    loads: frozenset[str]
    starts: dict[str, float]

    def share(self) -> float:
        """Return what it asks of its resistive rating, over its current."""
        return self.asks() / self.amps

    def asks(self) -> float:
        """Return the resistive rating that it takes."""
        return sum(a / PART.get(k, 1.0) for k, a in self.kinds.items())


def carried(circuit: Circuit) -> Iterator[Carries]:
    """Yield for every relay and control its contact that asks most, with what that carries."""
    best: dict[str, Carries] = {}
    for found in each_contact(circuit):
        held = best.get(found.part.id)
        if held is None or found.asks() > held.asks() + 1e-6:
            best[found.part.id] = found
    yield from best.values()


def each_contact(circuit: Circuit) -> Iterator[Carries]:
    """Yield for every contact of a relay or control the state that asks most of it."""
    best: dict[tuple[str, str], Carries] = {}
    for found in in_every_state(circuit, survey(circuit)):
        held = best.get(found.edge.key)
        if held is None or found.asks() > held.asks() + 1e-6:
            best[found.edge.key] = found
    yield from best.values()


def in_every_state(circuit: Circuit, states: Survey) -> Iterator[Carries]:
    """Yield what every contact of a relay or control carries, for each current it ever has."""
    for index, edge in enumerate(states.solver.network.edges):
        part = circuit.parts.get(edge.owner)
        if edge.role != "contact" or part is None or edge.inner is None:
            continue
        if kind_of(circuit, part).family not in ("relay", "control"):
            continue
        column = np.round(np.abs(states.amps[:, index]), 2)
        _, rows = np.unique(column, return_index=True)
        for row in rows.tolist():
            if column[row] >= LEAST_A:
                found = _in_state(circuit, states, index, edge, row)
                if found is not None:
                    yield found


def _in_state(circuit: Circuit, states: Survey, index: int, edge: Edge, row: int) -> Carries | None:
    """Return what a contact carries in one state; None where engines start or nothing is lost."""
    if states.supplies[row] == "cranking":
        return None
    net, on = states.solver.network, states.on[row]
    graph: nx.Graph[int] = nx.Graph()
    graph.add_nodes_from(range(net.count))
    graph.add_edges_from(
        (e.a, e.b) for i, e in enumerate(net.edges)
        if on[i] and i != index and e.role not in ("load", "coil", "source", "resistor")
    )  # fmt: skip
    plus = [n for e in net.edges if e.role == "source" for n in (e.a,)]
    minus = [n for e in net.edges if e.role == "source" for n in (e.b,)]
    live = {n for p in plus for n in nx.node_connected_component(graph, p)}
    ground = {n for m in minus for n in nx.node_connected_component(graph, m)}
    kinds: dict[str, float] = {}
    starts: dict[str, float] = {}
    loads = set()
    for i, load in enumerate(net.edges):
        amps = abs(float(states.amps[row, i]))
        fed = (load.a in live and load.b in ground) or (load.b in live and load.a in ground)
        if load.role not in ("load", "coil") or amps < 1e-3 or fed:
            continue
        kind = load.inner.draws if isinstance(load.inner, LoadPath) else ""
        kind = kind if kind in PART else "other"
        kinds[kind] = kinds.get(kind, 0.0) + amps
        starts[kind] = starts.get(kind, 0.0) + amps * _times(circuit, load)
        if load.role == "load":
            loads.add(load.owner)
    total = sum(kinds.values())
    through = abs(float(states.amps[row, index]))
    if not loads or abs(total - through) > 0.05 * through:
        return None  # the contact is not the only way of what it carries
    return Carries(circuit.parts[edge.owner], edge, through, kinds, frozenset(loads), starts)


def _times(circuit: Circuit, load: Edge) -> float:
    """Return how many times its running current a load draws as it starts."""
    inner, part = load.inner, circuit.parts[load.owner]
    if not isinstance(inner, LoadPath):
        return 1.0
    key = f"{inner.prefix}start_multiple"
    if inner.draws == "electronic" and key not in part.ratings:
        return 1.0
    return max(number(circuit, part, key), 1.0)


def _rated(part: Part, **ratings: float) -> Part:
    """Return a part with its contacts rated anew."""
    kept = {k: v for k, v in part.ratings.items() if k not in SPECIAL}
    return replace(part, ratings={**kept, **ratings})


def _both(circuit: Circuit, held: Carries, amps: float) -> dict[str, float]:
    """Return one rating for the make and the break contact of a part."""
    if _key(held) not in ("contact_a", "break_a"):
        return {_key(held): amps}
    breaks = "break_a" in kind_of(circuit, held.part).specs
    return {"contact_a": amps, **({"break_a": amps} if breaks else {})}


def _key(held: Carries) -> str:
    return str(getattr(held.edge.inner, "rating", "contact_a"))


def _breaks(held: Carries) -> bool:
    inner = held.edge.inner
    return isinstance(inner, Contact) and bool(inner.by) and "in" not in inner.closed


def contact_for_steady_current(circuit: Circuit) -> Iterator[Plant]:
    """Mistake 20: a contact rated for just the steady current of motors or lamps."""
    for held in carried(circuit):
        if held.share() < 1.05:
            continue
        amps = float(f"{held.amps:.3g}")
        yield Plant(
            with_parts(circuit, _rated(held.part, **_both(circuit, held, amps))),
            f"{label(held.part)} rated for {amps:g} A",
            frozenset(("contact-overload",)),
            frozenset((held.part.id,)),
            severities=frozenset(("fault", "danger")),
            numbers={
                "rating": (amps, 0.0),
                "current": (held.amps, 0.01),
                "share": (held.share(), 0.02),
            },
        )


STARTS = 6.0
"""Times running: within the 5 to 10 that a data book has for motors (azmanual.top, p. 8)."""


def contact_for_running_start(circuit: Circuit) -> Iterator[Plant]:
    """Mistake 20: a contact that suits a motor as it runs, and does not bear six times at start."""
    for held in carried(circuit):
        motors = [circuit.parts[p] for p in held.loads
                  if circuit.parts[p].kind in ("motor", "pump", "fan")]  # fmt: skip
        if set(held.kinds) != {"motor"} or not motors or len(motors) < len(held.loads):
            continue
        if _breaks(held) or held.part.kind.startswith("driver"):
            continue  # electronics shut off and do not weld
        rated = float(f"{1.02 * held.amps / PART['motor']:.3g}")
        hard = [replace(m, ratings={**m.ratings, "start_multiple": STARTS}) for m in motors]
        makes = rated * PART["motor"] * MAKES["motor"]
        yield Plant(
            with_parts(circuit, _rated(held.part, **_both(circuit, held, rated)), *hard),
            f"{label(held.part)} of {rated:g} A for {', '.join(map(label, motors))}",
            frozenset(("contact-overload",)),
            frozenset((held.part.id,)),
            {
                "fuse-below-start": frozenset(circuit.parts),
                "contact-overload": frozenset(circuit.parts) - {held.part.id},
            },
            frozenset(("fault",)),
            {"start": (STARTS * held.amps, 0.01), "makes": (makes, 0.01),
             "start share": (STARTS * held.amps / makes, 0.01)},
        )  # fmt: skip


def load_on_the_break_contact(circuit: Circuit) -> Iterator[Plant]:
    """Mistake 20: motors or lamps on 87a of a relay whose make contact would just suit them."""
    known = {r.id for r in relays(circuit)}
    for held in each_contact(circuit):
        relay, place = held.part, seat(circuit, held.part)
        if relay.id not in known or held.share() < 1.05:
            continue
        on_break = _breaks(held)
        if not on_break and (
            relay.kind not in ("relay-make", "relay-resistor", "relay-diode", "relay-changeover")
            or not wires_on(circuit, place, "87")
            or wires_on(circuit, place, "87a")
        ):
            continue
        rated = float(f"{1.02 * held.asks():.4g}")
        five = _rated(relay, contact_a=rated)
        if relay.kind != "relay-bistable":
            five = replace(five, kind="relay-changeover", ratings={
                **five.ratings, "suppression": kind_of(circuit, relay).specs["suppression"].default
                if "suppression" not in relay.ratings else relay.ratings["suppression"]
            })  # fmt: skip
        made = with_parts(circuit, five)
        yield Plant(
            made if on_break else moved(made, place, {"87": "87a"}),
            f"87a of {label(relay)}, {rated:g} A on 87, for {held.amps:.3g} A",
            frozenset(("contact-overload",)),
            frozenset((relay.id,)),
            dict.fromkeys(
                ("runs-at-rest", "runs-after-crash", "always-on", "voltage-drop", "ground-lift"),
                held.loads,
            ),
            frozenset(("fault",)),
            {"rating": (BROKEN * rated, 0.001), "base": (rated, 0.0)},
        )
