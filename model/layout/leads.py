"""At which height of its 64 × 64 pictogram each kind's leads come out.

Terminals stand level with the contact or coil they belong to. The heights follow the contacts
drawn in assets/icons; a kind or terminal not named here is centred on its pictogram.
"""

from __future__ import annotations

MIDDLE = 32.0
COIL = 51.0

_MAKE = {"30": 26.0, "87": 26.0, "86": COIL, "15": COIL}
_LOW = {"1": 54.0, "2": 54.0}
LEADS: dict[str, dict[str, float]] = {
    "relay-make": _MAKE,
    "relay-resistor": _MAKE,
    "relay-diode": _MAKE,
    "relay-changeover": {"30": 18, "87": 29, "87a": 8, "86": COIL},
    "relay-socket": {"30": 18, "87": 29, "87a": 8, "86": COIL},
    "relay-double": {"30": 26, "87": 26, "87b": COIL, "86": COIL},
    "relay-bistable": {"30": 26, "87": 26, "87a": 6, "S": 46, "R": 66},
    "timer": _MAKE,
    "flasher": {"49": 26, "49a": 26},
    "switch": {"1": 44, "2": 44},
    "switch-changeover": {"C": MIDDLE, "A": 14, "B": 50},
    "crash-switch": {"C": 46, "NC": 36, "NO": 57},
    "push-make": {"1": 50, "2": 50},
    "push-break": {"1": 40, "2": 40},
    "brake-switch": _LOW,
    "clutch-switch": _LOW,
    "pressure-switch": _LOW,
    "temperature-switch": _LOW,
    "level-switch": {"1": 14, "2": 14},
}


def lead(kind: str, terminal: str) -> float | None:
    """Return the height of a terminal's lead in the pictogram, None where it does not matter."""
    return LEADS.get(kind, {}).get(terminal)


def base(kind: str) -> float:
    """Return the height of the kind's main lead: the first one named, else the middle."""
    heights = LEADS.get(kind)
    return next(iter(heights.values())) if heights else MIDDLE
