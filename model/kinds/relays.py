"""Relays: coils that move contacts, and relays with a clock."""

from __future__ import annotations

from model.kinds import sources as src
from model.kinds.body import Body, Coil, Contact, DiodePath, Element, Resistance, Terminal
from model.kinds.kind import Kind, RatingSpec
from model.kinds.specs import coil_specs, contact_specs

T30 = Terminal("30", "blade", "left", meaning="feed")
T86 = Terminal("86", "blade", "left", meaning="coil, feed side")
T85 = Terminal("85", "blade", "bottom", meaning="coil, ground side")
T87 = Terminal("87", "blade", "right", meaning="make contact")
T87A = Terminal("87a", "blade", "right", meaning="break contact")
T87B = Terminal("87b", "blade", "right", meaning="second make contact")
T31 = Terminal("31", "blade", "bottom", meaning="ground")
MAKE = Contact(name="make", a="30", b="87", by="coil", closed=("in",))
BREAK = Contact(name="break", a="30", b="87a", by="coil", closed=("out",), rating="break_a")
SECOND = Contact(name="second make", a="30", b="87b", by="coil", closed=("in",))


def _coil(
    a: str = "86", b: str = "85", name: str = "coil", moves: str = "coil", action: str = "hold"
) -> tuple[Element, ...]:
    """Return a coil with the suppression its rating chooses; with a diode `a` is +."""
    return (
        Coil(name=name, a=a, b=b, moves=moves, action=action),
        Resistance(
            name=f"{name} resistor",
            a=a,
            b=b,
            ohm="suppression_ohm",
            when=("suppression", "resistor"),
        ),
        DiodePath(
            name=f"{name} diode",
            a=b,
            b=a,
            volt="suppression_forward_v",
            ohm="suppression_forward_ohm",
            when=("suppression", "diode"),
        ),
    )


def _contacts(break_a: float | None = None) -> tuple[RatingSpec, ...]:
    """Return the contact ratings of a cube relay."""
    specs = contact_specs(40.0, 20.0, "relay_contact_ohm", 0.003)
    if break_a is None:
        return specs
    spec = RatingSpec(
        "break_a",
        "break contact, resistive load",
        "current",
        break_a,
        "published data of mini relays: 40 A make, 30 A break",
        break_a / 2,
        follows="contact_v",
    )
    return (*specs, spec)


def _relay(
    key: str,
    title: str,
    terminals: tuple[Terminal, ...],
    contacts: tuple[Contact, ...],
    aliases: tuple[str, ...],
    about: str,
    suppression: str = "none",
) -> Kind:
    """Return a plain relay."""
    has_break = any(c.rating == "break_a" for c in contacts)
    ratings = (*coil_specs(suppression), *_contacts(30.0 if has_break else None))
    return Kind(
        key,
        title,
        "relay",
        "K",
        Body(terminals, (*_coil(), *contacts)),
        ratings,
        aliases=aliases,
        about=about,
    )


FOUR = (T30, T86, T87, T85)
PLAIN = (
    _relay(
        "relay-make",
        "Relay, make",
        FOUR,
        (MAKE,),
        ("relay", "make relay", "4-pin relay"),
        "30 to 87 closes while the coil 86–85 is energised.",
    ),
    _relay(
        "relay-changeover",
        "Relay, change-over",
        (T30, T86, T87, T87A, T85),
        (MAKE, BREAK),
        ("change-over relay", "5-pin relay"),
        "30 rests on 87a and moves to 87; a spare 87a is live at rest.",
    ),
    _relay(
        "relay-double",
        "Relay, double make",
        (T30, T86, T87, T87B, T85),
        (MAKE, SECOND),
        ("double relay", "double make relay"),
        "30 closes to 87 and 87b together.",
    ),
    _relay(
        "relay-resistor",
        "Relay with resistor",
        FOUR,
        (MAKE,),
        ("relay with resistor",),
        "A resistor across the coil takes the spike; polarity does not matter.",
        "resistor",
    ),
    _relay(
        "relay-diode",
        "Relay with diode",
        FOUR,
        (MAKE,),
        ("relay with diode",),
        "A diode across the coil: 86 must be +, reversed it is a short.",
        "diode",
    ),
)


def _clocked(
    key: str,
    title: str,
    terminals: tuple[Terminal, ...],
    coil: tuple[str, str],
    contact: tuple[str, str],
    action: str,
    more: tuple[RatingSpec, ...],
    aliases: tuple[str, ...],
    about: str,
) -> Kind:
    """Return a relay with a clock: its control input is a coil of high resistance."""
    elements = (
        *_coil(coil[0], coil[1], action=action),
        Contact(name="make", a=contact[0], b=contact[1], by="coil", closed=("in",)),
    )
    ratings = (*more, *coil_specs(), *_contacts())
    return Kind(
        key, title, "relay", "K", Body(terminals, elements), ratings, aliases=aliases, about=about
    )


T15 = Terminal("15", "blade", "left", meaning="control input")
T49 = Terminal("49", "blade", "left", meaning="flasher feed")
T49A = Terminal("49a", "blade", "right", meaning="flasher output")
TIMER = _clocked(
    "timer",
    "Timer relay",
    (T30, T15, T87, T31),
    ("15", "31"),
    ("30", "87"),
    "timed",
    (
        RatingSpec(
            "timing",
            "timing",
            "choice",
            "pulse",
            src.COMMON,
            choices=("pulse", "on-delay", "off-delay"),
        ),
        RatingSpec("time_s", "time", "time", 2.0, src.COMMON),
    ),
    ("timer", "timer relay", "delay relay"),
    "Pulse: runs for its time after 15 comes on. On-delay: closes after it. Off-delay: opens "
    "after 15 has gone.",
)
FLASHER = _clocked(
    "flasher",
    "Flasher",
    (T49, T49A, T31),
    ("49", "31"),
    ("49", "49a"),
    "flash",
    (RatingSpec("rate_hz", "rate", "frequency", 1.5, "UN R48: 60 to 120 flashes a minute"),),
    ("flasher", "flasher relay"),
    "Joins 49 to 49a and parts them again, 90 times a minute.",
)
BISTABLE = Kind(
    "relay-bistable",
    "Relay, bistable",
    "relay",
    "K",
    Body(
        (
            T30,
            Terminal("S", "blade", "left", meaning="set coil"),
            Terminal("R", "blade", "left", meaning="reset coil"),
            T87,
            T87A,
            T31,
        ),
        (
            *_coil("S", "31", "set coil", "latch", "set"),
            *_coil("R", "31", "reset coil", "latch", "reset"),
            Contact(name="make", a="30", b="87", by="latch", closed=("in",)),
            Contact(name="break", a="30", b="87a", by="latch", closed=("out",), rating="break_a"),
        ),
    ),
    (*coil_specs(), *_contacts(30.0)),
    aliases=("bistable relay", "latching relay"),
    about="Stays where the last pulse put it; both coils at once leave it as it was.",
)
KINDS = (*PLAIN, TIMER, FLASHER, BISTABLE)
