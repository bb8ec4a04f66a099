"""Controls: everything with named positions that closes terminal pairs."""

from __future__ import annotations

from model.kinds import sources as src
from model.kinds.body import Body, Position, Terminal
from model.kinds.kind import Kind, RatingSpec
from model.kinds.specs import switch_specs

_ONE_TWO = (Terminal("1", "blade", "left"), Terminal("2", "blade", "right"))
_PAIR = (("1", "2"),)


def _control(
    key: str,
    title: str,
    terminals: tuple[Terminal, ...],
    positions: tuple[Position, ...],
    rest: str,
    aliases: tuple[str, ...],
    about: str,
    contact_a: float = 10.0,
    letter: str = "S",
    more: tuple[RatingSpec, ...] = (),
) -> Kind:
    """Return a control whose terminals and positions a part may replace by its own."""
    return Kind(
        key,
        title,
        "control",
        letter,
        Body(terminals, (), positions, rest),
        (*switch_specs(contact_a), *more),
        shape="table",
        aliases=aliases,
        about=about,
    )


def _make(
    key: str,
    title: str,
    off: str,
    on: str,
    aliases: tuple[str, ...],
    about: str,
    contact_a: float = 10.0,
    letter: str = "S",
    *,
    rest: str = "",
    springs: bool = False,
    more: tuple[RatingSpec, ...] = (),
) -> Kind:
    """Return a make contact with positions `off` and `on`."""
    positions = (Position(off), Position(on, _PAIR, springs_to=off if springs else ""))
    return _control(
        key, title, _ONE_TWO, positions, rest or off, aliases, about, contact_a, letter, more
    )


def _sense(
    key: str,
    title: str,
    terminals: str,
    quantity: str,
    at: float,
    low: str,
    high: str,
    aliases: tuple[str, ...],
) -> Kind:
    """Return a switch that senses something and makes when it is high."""
    more = (RatingSpec("acts_at", "changes over at", quantity, at, src.COMMON),)
    return _make(
        key, title, low, high, aliases, f"Makes when the {terminals} rises.", 5.0, "B", more=more
    )


SWITCHES = (
    _make("switch", "Switch", "OFF", "ON", ("switch", "toggle"), "A make contact that stays put."),
    _control(
        "switch-changeover",
        "Change-over switch",
        (
            Terminal("C", "blade", "left"),
            Terminal("A", "blade", "right"),
            Terminal("B", "blade", "right"),
        ),
        (Position("A", (("C", "A"),)), Position("B", (("C", "B"),))),
        "A",
        ("change-over switch", "selector"),
        "One common joined to either of two.",
    ),
    _control(
        "switch-table",
        "Multi-position switch",
        (
            Terminal("30", "blade", "left"),
            Terminal("58", "blade", "right"),
            Terminal("56", "blade", "right"),
        ),
        (
            Position("OFF"),
            Position("SIDE", (("30", "58"),)),
            Position("HEAD", (("30", "58"), ("30", "56"))),
        ),
        "OFF",
        ("multi-position switch", "light switch", "rotary switch"),
        "Any positions, each with the pairs it closes.",
    ),
    _make(
        "push-make",
        "Push button, make",
        "REST",
        "PRESS",
        ("push", "button", "push button"),
        "Closed only while pressed.",
        5.0,
        springs=True,
    ),
    _control(
        "push-break",
        "Push button, break",
        _ONE_TWO,
        (Position("REST", _PAIR), Position("PRESS", springs_to="REST")),
        "REST",
        ("break button", "stop button"),
        "Open only while pressed.",
        5.0,
    ),
    _control(
        "key-switch",
        "Key switch",
        (
            Terminal("30", "blade", "left"),
            Terminal("15", "blade", "right"),
            Terminal("50", "blade", "right"),
        ),
        (
            Position("OFF"),
            Position("ON", (("30", "15"),)),
            Position("START", (("30", "15"), ("30", "50")), springs_to="ON"),
        ),
        "OFF",
        ("key", "key switch", "ignition switch"),
        "Ignition key 30, 15, 50.",
        20.0,
    ),
    _control(
        "crash-switch",
        "Crash switch",
        (
            Terminal("C", "blade", "left"),
            Terminal("NC", "blade", "right"),
            Terminal("NO", "blade", "right"),
        ),
        (Position("SET", (("C", "NC"),)), Position("TRIPPED", (("C", "NO"),), latches=True)),
        "SET",
        ("crash", "crash switch", "inertia switch"),
        "Opens C–NC on an impact and stays so until it is reset by hand.",
    ),
    _control(
        "master-switch",
        "Master switch",
        (Terminal("1", "stud", "left"), Terminal("2", "stud", "right")),
        (Position("OFF"), Position("ON", _PAIR)),
        "ON",
        ("master", "kill", "isolator", "master switch"),
        "Battery isolator with two studs; it does not stop an engine by itself.",
        100.0,
    ),
    _control(
        "master-switch-6",
        "Master switch, six terminals",
        (
            Terminal("1", "stud", "left"),
            Terminal("W", "blade", "left"),
            Terminal("Z", "blade", "left"),
            Terminal("2", "stud", "right"),
            Terminal("W1", "blade", "right"),
            Terminal("Z1", "blade", "right"),
        ),
        (Position("OFF", (("Z", "Z1"),)), Position("ON", (("1", "2"), ("W", "W1")))),
        "ON",
        ("six-terminal master", "six-terminal isolator"),
        "Main pair, ignition pair that opens with it, run-down pair that closes.",
        100.0,
        more=(RatingSpec("aux_contact_a", "auxiliary pairs", "current", 10.0, src.MEMORY),),
    ),
    _sense(
        "pressure-switch",
        "Pressure switch",
        "pressure",
        "pressure",
        0.3e5,
        "NO PRESSURE",
        "PRESSURE",
        ("pressure", "oil switch", "pressure switch"),
    ),
    _sense(
        "temperature-switch",
        "Temperature switch",
        "temperature",
        "temperature",
        92.0,
        "COLD",
        "HOT",
        ("thermostat", "temperature switch"),
    ),
    _sense(
        "level-switch",
        "Level switch",
        "level",
        "share",
        0.1,
        "LOW",
        "FULL",
        ("level", "level switch", "float switch"),
    ),
    _make(
        "brake-switch",
        "Brake switch",
        "REST",
        "BRAKE",
        ("brake switch",),
        "Makes when the pedal is pressed.",
        springs=True,
    ),
    _control(
        "clutch-switch",
        "Clutch switch",
        _ONE_TWO,
        (Position("REST"), Position("DOWN", _PAIR, springs_to="REST")),
        "REST",
        ("clutch switch",),
        "Makes while the pedal is down.",
    ),
)
DRIVERS = (
    _control(
        "driver-ground",
        "Driver output to ground",
        (Terminal("out", "pin", "left"), Terminal("31", "pin", "bottom")),
        (Position("OFF"), Position("ON", (("out", "31"),))),
        "OFF",
        ("low-side driver", "driver to ground"),
        "An electronic output that joins its pin to ground.",
        1.0,
        "A",
    ),
    _control(
        "driver-supply",
        "Driver output to supply",
        (Terminal("30", "pin", "left"), Terminal("out", "pin", "right")),
        (Position("OFF"), Position("ON", (("30", "out"),))),
        "OFF",
        ("high-side driver", "driver to supply"),
        "An electronic output that joins its pin to its supply.",
        5.0,
        "A",
    ),
)
KINDS = (*SWITCHES, *DRIVERS)
