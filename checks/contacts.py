"""What contacts are made for: by kind of load, make or break, 12 V or 24 V, running and starting.

What a part or its type states comes first. What is not stated is taken from published relays, and
told as taken so.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from checks.currents import is_starter
from checks.flows import draws
from model.circuit import Circuit, Part
from model.kinds.body import Contact
from model.lookup import body_of, kind_of, number, rating
from model.network import Edge
from model.tables.relay_types import CLASS_24_V
from model.tables.relays import load_class, relay_datum

START_TIMES = 3.0
"""Times its rating a contact stands for the seconds of a start; common practice, no source."""
HALF = 0.5
"""Share left at 24 V of a rating stated at 12 V: published cube relays, 40 and 20 A."""
KINDS = ("resistive", "motor", "lamp")


@dataclass(frozen=True, slots=True)
class Shares:
    """What a contact does with other loads than heating, in shares of its resistive rating.

    `running` is by kind of load, `start` what it makes without welding while one starts, `broken`
    what a break contact has of the make contact's rating.
    """

    running: dict[str, float]
    start: dict[str, float]
    broken: float


@cache
def shares() -> Shares:
    """Return the shares of published relays."""
    resistive, motor = relay_datum("micro-resistive-a"), relay_datum("micro-motor-a")
    running = {k: load_class(k).contact_share or 1.0 for k in ("motor", "lamp")}
    times = motor.v12[1] / motor.v12[0]
    start = {
        "motor": running["motor"] * times,
        "lamp": running["lamp"] * load_class("lamp").inrush_low,
        "resistive": motor.v12[1] / resistive.v12[0],
    }
    make, rest = relay_datum("make-contact-a"), relay_datum("break-contact-a")
    return Shares({"resistive": 1.0, **running}, start, rest.v12[0] / make.v12[0])


@dataclass(frozen=True, slots=True)
class Ratings:
    """What a contact is made for.

    Attributes
    ----------
    amps : dict of str to float
        Running current by kind of load: resistive, motor, lamp, starter.
    makes : dict of str to float
        The current of a start that it makes without welding, by kind; empty for electronics,
        which do not weld, unless it is stated.
    assumed : bool
        Whether no rating is stated at all.
    base_a : float
        The rating that `amps` goes back to, before `broken` and `halved`.
    broken, halved : bool
        Whether it is taken as a break contact's share of the make contact's, and as half of what
        is stated for 12 V.
    taken : frozenset of str
        Kinds of load whose rating is a share of the resistive one.
    made : bool
        Whether what it makes is stated.
    breaks : bool
        Whether it is a relay's break contact.
    electronic : bool
        Whether it is no contact but an electronic output.
    """

    amps: dict[str, float]
    makes: dict[str, float]
    assumed: bool
    base_a: float
    broken: bool = False
    halved: bool = False
    taken: frozenset[str] = frozenset()
    made: bool = False
    breaks: bool = False
    electronic: bool = False

    @property
    def resistive(self) -> float:
        """The resistive rating."""
        return self.amps["resistive"]


def ratings_of(circuit: Circuit, part: Part, contact: Contact) -> Ratings | None:
    """Return what a contact is made for, None where it has no rating at all."""
    held, make = rating(circuit, part, contact.rating), rating(circuit, part, "contact_a")
    base, breaks = held.number, is_break(contact)
    broken = breaks and _of_the_make(circuit, part, contact)
    if broken:
        base = make.number
    if not base or base <= 0:
        return None
    halved = _halved(circuit, part)
    left = (shares().broken if broken else 1.0) * (HALF if halved else 1.0)
    resistive = float(base) * left
    of_make = resistive / make.number if make.number else 1.0
    amps, taken = _running(circuit, part, resistive, of_make)
    makes, made = _making(circuit, part, amps, of_make)
    assumed = (make if broken else held).origin == "default"
    electronic = part.kind.startswith("driver")
    return Ratings(
        amps, makes, assumed, float(base), broken, halved, taken, made, breaks, electronic
    )


def is_break(contact: Contact) -> bool:
    """Tell whether a contact is a relay's break contact, closed by its spring alone."""
    return bool(contact.by) and "in" not in contact.closed


def _of_the_make(circuit: Circuit, part: Part, contact: Contact) -> bool:
    """Tell whether nothing is stated for a break contact, but for the make contact beside it."""
    if rating(circuit, part, "contact_a").origin == "default":
        return False
    if contact.rating != "contact_a":
        return rating(circuit, part, contact.rating).origin == "default" and (
            contact.rating in kind_of(circuit, part).specs
        )
    others = (e for e in body_of(circuit, part).elements if isinstance(e, Contact))
    return any(e.by == contact.by and "in" in e.closed for e in others)


def _halved(circuit: Circuit, part: Part) -> bool:
    """Tell whether ratings are stated for 12 V in a 24 V circuit."""
    if circuit.settings.nominal_v <= CLASS_24_V:
        return False
    return 0.0 < number(circuit, part, "contact_v") <= CLASS_24_V


def _running(
    circuit: Circuit, part: Part, resistive: float, of_make: float
) -> tuple[dict[str, float], frozenset[str]]:
    """Return the running current by kind of load, and the kinds that are taken as a share."""
    amps = {"resistive": resistive, "starter": START_TIMES * resistive}
    taken = set()
    for kind in ("motor", "lamp"):
        stated = rating(circuit, part, f"{kind}_a").number
        if stated is not None and stated > 0:
            amps[kind] = float(stated) * of_make
        else:
            amps[kind] = shares().running[kind] * resistive
            taken.add(kind)
    return amps, frozenset(taken)


def _making(
    circuit: Circuit, part: Part, amps: dict[str, float], of_make: float
) -> tuple[dict[str, float], bool]:
    """Return the start that a contact makes by kind of load, and whether it is stated."""
    stated = rating(circuit, part, "inrush_a").number
    if stated is not None and stated > 0:
        return dict.fromkeys(KINDS, float(stated) * of_make), True
    if part.kind.startswith("driver"):
        return {}, False
    of = shares()
    return {k: amps[k] * of.start[k] / of.running[k] for k in KINDS}, False


@dataclass(frozen=True, slots=True)
class Start:
    """How a load starts: times its running current, of which kind, and whether that is stated."""

    times: float
    kind: str
    stated: bool


def start_of(circuit: Circuit, edge: Edge) -> Start | None:
    """Return how a load starts, None for coils and starters.

    Electronics of which nothing is stated count as drawing no more: some do, many start softly.
    """
    if edge.role != "load" or is_starter(edge):
        return None
    part, prefix = circuit.parts[edge.owner], str(getattr(edge.inner, "prefix", ""))
    held = rating(circuit, part, f"{prefix}start_multiple")
    electronic = getattr(edge.inner, "draws", "") == "electronic" and held.origin == "default"
    if electronic or not held.number or held.number <= 1.0:
        return Start(1.0, draws(edge), True)
    return Start(float(held.number), draws(edge), held.origin != "default")
