"""Relay coils with nothing that takes their spark.

What it finds
    Coils with neither a resistor nor a diode across them, all of a circuit in one advice: first
    those switched by electronics or beside electronics on the same feed.

Why it matters
    A coil that is switched off drives its current on for a moment: without a way round it, at
    several hundred to over a thousand volts. The switch's contact burns a little each time,
    radios crackle, and an engine computer beside it may reset or die.

Example
    A bare relay on the feed of the fuel-injection computer: each time the fan stops, the engine
    stumbles.

How to fix
    A relay with a resistor across its coil (680 Ω at 12 V), which hardly slows it; or with a
    diode, where no motor hangs on its contact and 86 is the fed side; or with diode and zener.

Limits
    Coils of solenoids, horns and motors are not looked at, only those of relays. A resistor or
    diode drawn as a part of its own across the coil counts.

Reference
    Peaks of 1000 to 1500 V without, 65 V with 680 Ω, 0.7 V with a diode: te.com coil-suppression
    note, periheliondesign.com, and a measurement (electro-tech-online.com thread 167257), which
    also has the release with 680 Ω; that without is from memory.
"""

from __future__ import annotations

from collections.abc import Iterator

from checks.case import Case, Use
from checks.finding import ADVICE, Datum, Finding
from checks.quieting import METAL, quieted
from checks.wording import listed
from model.lookup import kind_of
from model.tables.relay_types import CLASS_24_V
from model.tables.relays import relay_datum, suppression

NAME = "no-suppression"
FAMILY = "logic"
SAYS = (
    "{parts} {have} no resistor or diode across the coil: each time it is switched off it makes a "
    "spark of {low:voltage} to {high:voltage}. {ohm:resistance} across it would leave "
    "{quiet:voltage}, and it lets go after {late:time} in place of {soon:time}."
)
NEAR = " Electronics hang on the feed or switch of {near}."
_BASE = """
    G1 battery
    F1 fuse-blade rating_a=5
    S1 switch
    K1 {kind}
    X1 ground
    X2 ground
    W1 G1.+ F1.1 1 0.15
    W2 F1.2 S1.1 1 0.3
    W3 S1.2 K1.86 1 1
    W4 K1.85 X1.g 1 0.3
    W5 X2.g G1.- 10 0.3
"""
BAD = ((_BASE.format(kind="relay-make"), ((ADVICE, ("K1",)),)),)
GOOD = (
    _BASE.format(kind="relay-resistor"),
    _BASE.format(kind="relay-diode"),
    _BASE.format(kind="relay-make")
    + """
    R1 resistor resistance_ohm=680
    W6 R1.1 K1.86 1 0.1
    W7 R1.2 K1.85 1 0.1
""",
)


def find(case: Case) -> Iterator[Finding]:
    """Yield one finding for all relays without suppression."""
    relays = (u for u in case.coils if _is_relay(case, u))
    bare = [u for u, quiet in quieted(case, relays) if quiet.way == "none"]
    if not bare:
        return
    beside = [u for u in bare if _beside_electronics(case, u)]
    parts = tuple(dict.fromkeys(u.part.id for u in (*beside, *bare)))
    near = tuple(dict.fromkeys(u.part.id for u in beside))
    yield Finding(
        rule=NAME,
        severity=ADVICE,
        parts=parts,
        says=SAYS + (NEAR if near else ""),
        values={
            "parts": listed(case.name(p) for p in parts),
            "have": "have" if len(parts) > 1 else "has",
            "near": listed(case.name(p) for p in near),
            **_table(case),
        },
        source="te.com coil-suppression note; periheliondesign.com; times: 680 Ω measured "
        "(electro-tech-online.com thread 167257), none from memory",
        path=tuple(("parts", p) for p in parts),
    )


def _table(case: Case) -> dict[str, Datum]:
    """Return the figures of the table: without, and with a resistor."""
    none, resistor = suppression("none"), suppression("resistor-680")
    ohm = relay_datum("suppressor-ohm")
    at = ohm.v24 if case.nominal_v > CLASS_24_V and ohm.v24 else ohm.v12
    return {
        "ohm": at[0],
        "low": none.peak_low_v or 0.0,
        "high": none.peak_v or 0.0,
        "quiet": resistor.peak_v or 0.0,
        "soon": none.release_s or 0.0,
        "late": resistor.release_s or 0.0,
    }


def _is_relay(case: Case, use: Use) -> bool:
    return kind_of(case.circuit, use.part).family == "relay"


def _beside_electronics(case: Case, use: Use) -> bool:
    """Tell whether a driver output switches a coil, or electronics share the node of its feed."""
    near = case.reach({use.a, use.b} - case.always_ground, METAL)
    drivers = {p.id for p in case.circuit.parts.values() if p.kind.startswith("driver")}
    held = {p for n in near for p in case.parts_by_node.get(n, ())}
    electronic = {u.part.id for u in case.loads if u.draws == "electronic"}
    return bool(held & (drivers | electronic))
