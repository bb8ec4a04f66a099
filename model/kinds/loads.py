"""Loads: what the circuit is for."""

from __future__ import annotations

from model.kinds import sources as src
from model.kinds.body import Body, Coil, Contact, LoadPath, Terminal
from model.kinds.kind import Duty, Kind
from model.kinds.specs import coil_specs, contact_specs, load_specs

PLUS = Terminal("+", "blade", "left")
MINUS = Terminal("-", "blade", "bottom")
ORDINARY = Duty(
    off_at_rest=True,
    critical=False,
    stops_in_crash=False,
    runs_engine_stopped=True,
    keeps_engine=False,
)
FUEL = Duty(
    off_at_rest=True,
    critical=False,
    stops_in_crash=True,
    runs_engine_stopped=False,
    keeps_engine=False,
)
ENGINE = Duty(
    off_at_rest=True,
    critical=True,
    stops_in_crash=False,
    runs_engine_stopped=False,
    keeps_engine=True,
)
ALWAYS = Duty(
    off_at_rest=False,
    critical=True,
    stops_in_crash=False,
    runs_engine_stopped=True,
    keeps_engine=False,
)
SAFETY = Duty(
    off_at_rest=True,
    critical=True,
    stops_in_crash=False,
    runs_engine_stopped=True,
    keeps_engine=False,
)


def _load(
    key: str,
    title: str,
    letter: str,
    amps: float,
    law: str,
    start: float,
    start_s: float,
    draws: str,
    duty: Duty,
    aliases: tuple[str, ...],
    about: str = "",
    source: str = src.TYPICAL_LOADS,
    ends: tuple[Terminal, Terminal] = (PLUS, MINUS),
) -> Kind:
    """Return a load with one element between two terminals."""
    body = Body(ends, (LoadPath(name="load", a=ends[0].key, b=ends[1].key, draws=draws),))
    return Kind(
        key,
        title,
        "load",
        letter,
        body,
        load_specs(amps, law, start, start_s, source),
        duty,
        aliases=aliases,
        about=about,
    )


MOTORS = (
    _load(
        "pump",
        "Pump",
        "M",
        8.0,
        "motor",
        3.0,
        0.05,
        "motor",
        FUEL,
        ("pump", "fuel pump"),
        "An electric pump; by default it must stop in a crash.",
    ),
    _load("fan", "Fan", "M", 20.0, "motor", 3.0, 1.0, "motor", ORDINARY, ("fan", "blower")),
    _load(
        "motor",
        "Motor",
        "M",
        5.0,
        "motor",
        4.0,
        0.3,
        "motor",
        ORDINARY,
        ("motor",),
        "A motor that may turn either way.",
        ends=(Terminal("a", "blade", "left"), Terminal("b", "blade", "right")),
    ),
)
LAMPS = (
    _load(
        "lamp",
        "Lamp",
        "E",
        1.75,
        "filament",
        10.0,
        0.01,
        "lamp",
        SAFETY,
        ("lamp", "bulb"),
        "A filament lamp: ten times its current when cold.",
        src.LAMP_R37 + ", 21 W",
    ),
    Kind(
        "lamp-twin",
        "Lamp, two filaments",
        "load",
        "E",
        Body(
            (
                Terminal("56a", "blade", "left", meaning="main beam"),
                Terminal("56b", "blade", "left", meaning="dipped beam"),
                Terminal("31", "blade", "bottom", meaning="ground"),
            ),
            (
                LoadPath(name="main", a="56a", b="31", prefix="main_", draws="lamp"),
                LoadPath(name="dip", a="56b", b="31", prefix="dip_", draws="lamp"),
            ),
        ),
        (
            *load_specs(5.0, "filament", 10.0, 0.01, src.LAMP_R37 + ", 60 W", prefix="main_"),
            *load_specs(4.58, "filament", 10.0, 0.01, src.LAMP_R37 + ", 55 W", prefix="dip_"),
        ),
        SAFETY,
        aliases=("twin-filament lamp", "headlamp"),
        about="Two filaments with one ground: a lost ground lights both dimly in series.",
    ),
    _load(
        "lamp-led",
        "LED lamp",
        "E",
        0.2,
        "led",
        1.0,
        0.0,
        "electronic",
        SAFETY,
        ("led", "led lamp"),
        "Lights one way round only.",
        src.COMMON,
    ),
)
OTHERS = (
    _load("heater", "Heater", "E", 10.0, "resistor", 1.0, 0.0, "resistive", ORDINARY, ("heater",)),
    _load(
        "solenoid",
        "Solenoid",
        "M",
        3.0,
        "resistor",
        1.0,
        0.0,
        "solenoid",
        ORDINARY,
        ("solenoid", "valve"),
    ),
    _load(
        "injector",
        "Injector",
        "M",
        1.0,
        "resistor",
        1.0,
        0.0,
        "solenoid",
        ENGINE,
        ("injector",),
        "A fuel injector; the engine stops without it.",
        src.COMMON,
    ),
    _load("horn", "Horn", "P", 5.0, "resistor", 1.5, 0.1, "motor", ORDINARY, ("horn",)),
    _load(
        "module",
        "Electronics module",
        "A",
        1.0,
        "constant power",
        10.0,
        0.005,
        "electronic",
        ALWAYS,
        ("module", "ecu", "radio", "electronics"),
        "Draws the same power whatever the voltage.",
        src.COMMON,
    ),
)
STARTER = Kind(
    "starter",
    "Starter with solenoid",
    "load",
    "M",
    Body(
        (
            Terminal("50", "blade", "left", meaning="solenoid"),
            Terminal("30", "stud", "left", meaning="feed"),
            Terminal("31", "ring", "bottom", meaning="its frame, bolted to the engine"),
        ),
        (
            Coil(name="solenoid", a="50", b="31", moves="solenoid"),
            Contact(name="bridge", a="30", b="(motor)", by="solenoid", closed=("in",)),
            LoadPath(name="motor", a="(motor)", b="31", draws="starter"),
        ),
    ),
    (
        *(
            s
            for s in load_specs(150.0, "motor", 3.0, 0.1, src.TYPICAL_LOADS)
            if s.key != "use_share"
        ),
        *(
            s
            if s.key not in ("coil_ohm",)
            else type(s)(
                "coil_ohm",
                "solenoid resistance",
                "resistance",
                0.8,
                src.TYPICAL_LOADS,
                3.2,
                follows="coil_v",
            )
            for s in coil_specs()
            if s.key != "coil_use_share"
        ),
        *contact_specs(500.0, 500.0, "relay_contact_ohm", 0.0005),
    ),
    Duty(
        off_at_rest=True,
        critical=False,
        stops_in_crash=False,
        runs_engine_stopped=True,
        keeps_engine=False,
    ),
    aliases=("starter", "starter motor"),
    about="While its motor draws current the supply is taken as cranking.",
)
KINDS = (*MOTORS, *LAMPS, *OTHERS, STARTER)
