"""Every kind of part, as data: symbol, terminals, positions, inner paths, ratings, duty."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from model.kinds import controls, joints, loads, protection, relays, supplies
from model.kinds.body import Body, Position
from model.kinds.kind import Duty, Kind, RatingSpec, Value
from model.kinds.shapes import shaped_body

_ALL = (
    *supplies.KINDS,
    *protection.KINDS,
    *controls.KINDS,
    *relays.KINDS,
    *loads.KINDS,
    *joints.KINDS,
)
KINDS: Mapping[str, Kind] = MappingProxyType({k.key: k for k in _ALL})
"""The kinds built into the program, by key; own kinds live in the circuit."""

__all__ = ["KINDS", "Body", "Duty", "Kind", "Position", "RatingSpec", "Value", "shaped_body"]
