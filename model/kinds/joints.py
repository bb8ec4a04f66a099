"""Joints, ground points, diodes and resistors."""

from __future__ import annotations

from model.kinds import sources as src
from model.kinds.body import (
    SHELL,
    Body,
    DiodePath,
    Resistance,
    ShellPath,
    Slot,
    Terminal,
)
from model.kinds.kind import Kind, RatingSpec
from model.kinds.relays import T30, T85, T86, T87, T87A
from model.kinds.specs import diode_specs

WAY = RatingSpec(
    "way_ohm", "resistance of a way", "resistance", 0.001, src.MEMORY, constant="way_ohm"
)
WAY_A = RatingSpec(
    "way_a", "current of a way", "current", 10.0, "UL 310 push-on blades on 16 AWG, 30 K rise"
)
WAY_FORMS = (
    "not known", "push-on-2.8", "push-on-6.3", "push-on-9.5", "sealed-1.5", "sealed-20",
    "sealed-16", "sealed-12", "circular-16", "circular-12", "circular-8", "circular-4",
    "circular-0",
)  # fmt: skip
"""Contacts of connectors by their ids in the table of joints."""
WAY_FORM = RatingSpec(
    "way_form", "contacts of the ways", "choice", WAY_FORMS[0], src.COMMON, choices=WAY_FORMS
)
SPLICE = Kind(
    "splice",
    "Splice",
    "joint",
    "SP",
    Body((Terminal("s", "splice", "right"),)),
    aliases=("splice",),
    about="Wires joined for good.",
)
STUD = Kind(
    "stud",
    "Stud",
    "joint",
    "X",
    Body((Terminal("s", "stud", "right"),)),
    (
        RatingSpec(
            "rings",
            "most rings on it",
            "count",
            4.0,
            "small-craft practice: at most four rings on one stud",
        ),
    ),
    aliases=("stud", "post"),
    about="Ring terminals bolted together.",
)
BUS_BAR = Kind(
    "bus-bar",
    "Bus bar",
    "joint",
    "X",
    Body(()),
    shape="ways",
    ways=4,
    aliases=("bus bar", "bus"),
    about="A bar with n screws, all one piece of metal.",
)
FUSE_BOX = Kind(
    "fuse-box",
    "Fuse box",
    "joint",
    "X",
    Body(()),
    shape="ways",
    ways=4,
    aliases=("fuse box", "fuse holder"),
    about="A common feed B and n slots; the fuses sit in it as parts.",
)
CONNECTOR = Kind(
    "connector",
    "Connector",
    "joint",
    "X",
    Body(()),
    (WAY, WAY_A, WAY_FORM),
    shape="ways",
    ways=4,
    aliases=("connector", "plug"),
    about="A mated pair with n ways.",
)
SOCKET = Kind(
    "relay-socket",
    "Relay socket",
    "joint",
    "X",
    Body(
        (T30, T86, T87, T87A, T85),
        slots=(Slot("relay", tuple((k, k) for k in ("30", "86", "87", "87a", "85")), "relay"),),
    ),
    aliases=("relay socket",),
    about="A relay sits in it; wires end at the socket.",
)
GROUND = Kind(
    "ground",
    "Ground point",
    "ground",
    "X",
    Body((Terminal("g", "ring", "top"),), (ShellPath(name="bolt", a="g", b=SHELL),)),
    (
        RatingSpec(
            "ground_ohm",
            "resistance to the shell",
            "resistance",
            0.001,
            src.MEMORY,
            constant="ground_ohm",
        ),
        RatingSpec(
            "rings",
            "most rings on it",
            "count",
            4.0,
            "small-craft practice: at most four rings on one stud",
        ),
    ),
    aliases=("ground", "earth", "chassis"),
    about="A bolt on the shell that wires return to.",
)
DIODE = Kind(
    "diode",
    "Diode",
    "diode",
    "V",
    Body(
        (
            Terminal("A", "pin", "left", meaning="anode"),
            Terminal("K", "pin", "right", meaning="cathode, the stripe"),
        ),
        (DiodePath(name="junction", a="A", b="K"),),
    ),
    (
        *diode_specs(),
        RatingSpec("rating_a", "forward current", "current", 3.0, src.COMMON),
        RatingSpec("reverse_v", "reverse voltage", "voltage", 200.0, src.COMMON),
    ),
    aliases=("diode",),
    about="Passes current from A to K only.",
)
RESISTOR = Kind(
    "resistor",
    "Resistor",
    "diode",
    "R",
    Body(
        (Terminal("1", "pin", "left"), Terminal("2", "pin", "right")),
        (Resistance(name="resistance", a="1", b="2"),),
    ),
    (
        RatingSpec("resistance_ohm", "resistance", "resistance", 680.0, src.COMMON, 2700.0),
        RatingSpec("power_w", "power for good", "power", 0.5, src.COMMON),
    ),
    aliases=("resistor",),
    about="A fixed resistance.",
)
KINDS = (SPLICE, STUD, BUS_BAR, FUSE_BOX, CONNECTOR, SOCKET, GROUND, DIODE, RESISTOR)
