"""The harness as values: zones of the vehicle, branches in which wires lie together, cables."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

Extra = Mapping[str, Any]
"""Unknown fields of a record, kept so that a newer file survives an older program."""


@dataclass(frozen=True, slots=True)
class Zone:
    """A part of the vehicle as warm as `temperature_c` at its worst: engine bay, cabin, boot."""

    id: str
    name: str = ""
    temperature_c: float = 30.0
    note: str = ""
    extra: Extra = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Branch:
    """A stretch of the harness from node to node: the wires in it are one bundle.

    Its surroundings are those of `zone`, the id of one, or else `zone_c`.
    """

    id: str
    name: str = ""
    start: str = ""
    end: str = ""
    length_m: float | None = None
    zone_c: float | None = None
    wet: bool = False
    shaking: bool = False
    cover: str = ""
    note: str = ""
    extra: Extra = field(default_factory=dict)
    zone: str = ""


@dataclass(frozen=True, slots=True)
class Cable:
    """A cable whose cores are wires: its name, sheath and screen."""

    id: str
    name: str = ""
    sheath: str = ""
    screened: bool = False
    note: str = ""
    extra: Extra = field(default_factory=dict)
