"""Diameters of cables and bundles, and temperature classes of insulation."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from model.errors import QuantityError
from model.tables.store import SizeRow, Table, find, read
from model.wiresize import Size

Wall = Literal["extra thin", "thin", "thick"]

EQUAL_BUNDLE = {1: 1.0, 2: 2.0, 3: 1 + 2 / math.sqrt(3), 4: 1 + math.sqrt(2)} | {
    5: 1 + math.sqrt(2 * (1 + 1 / math.sqrt(5))),
    6: 3.0,
    7: 3.0,
}
"""Diameter of the circle round so many equal circles, in diameters of one (exact geometry)."""
FILL = 1.25
"""D = 1.25·√(Σd²): 64 % of a hand-made bundle is cable; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DiameterRow(SizeRow):
    """Diameters in mm by the wall of the insulation; None where no figure is known."""

    conductor_mm: float | None = None
    extra_thin_mm: float | None = None
    thin_mm: float | None = None
    thick_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DiameterTable(Table):
    """Greatest outside diameters by size."""

    rows: tuple[DiameterRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class InsulationClass(Table):
    """An insulation and the temperature it stands for its rated life."""

    t_max_c: float


@dataclass(frozen=True, slots=True)
class CableFile:
    """Everything in ``cables.json``."""

    diameters: tuple[DiameterTable, ...]
    insulation: tuple[InsulationClass, ...]


def cable_file() -> CableFile:
    """Return all tables of cables."""
    return read("cables", CableFile)


def insulation_class(class_id: str) -> InsulationClass:
    """Return an insulation class such as ``flry-b``; raises `UnknownNameError`."""
    return find(cable_file().insulation, class_id, "insulation class")


def cable_diameter_m(size: Size, wall: Wall = "thin") -> float | None:
    """Return the greatest outside diameter of a single core, None where no row has it."""
    for table in cable_file().diameters:
        for row in table.rows:
            if row.size == size:
                diameter_mm = _wall_mm(row, wall)
                return None if diameter_mm is None else diameter_mm / 1e3
    return None


def _wall_mm(row: DiameterRow, wall: Wall) -> float | None:
    if wall == "extra thin":
        return row.extra_thin_mm
    return row.thin_mm if wall == "thin" else row.thick_mm


def bundle_diameter_m(diameters_m: Sequence[float], cover_m: float = 0.0) -> float:
    """Return the diameter of a bundle of cables under a cover of this thickness.

    Exact for up to seven equal cables, else 1.25·√(Σd²).
    """
    if not diameters_m or not all(d > 0.0 and math.isfinite(d) for d in diameters_m):
        raise QuantityError("A bundle needs at least one cable, each with a diameter above 0.")
    count, widest = len(diameters_m), max(diameters_m)
    if count in EQUAL_BUNDLE and widest - min(diameters_m) < 1e-9:
        inside = EQUAL_BUNDLE[count] * widest
    else:
        inside = max(widest, FILL * math.sqrt(sum(d * d for d in diameters_m)))
    return inside + 2.0 * cover_m
