"""Runs the benchmark modules and prints their table."""

import importlib
import math
import os
import pkgutil
import sys

import tests.bench
from tests.bench import Row

_HEAD = ("what", "against", "ratio median", "ratio p95", "limit", "ours ms", "baseline ms", "")


def run(names: list[str]) -> int:
    """Print the table of the modules `names`, or of all; return 0 when every limit is met."""
    rows: list[Row] = []
    for name in names or modules():
        sys.stderr.write(f"measuring {name}, load of the machine {_load()} ...\n")
        rows += importlib.import_module(f"tests.bench.{name}").table()
    sys.stdout.write(rendered(rows) + "\n")
    return 0 if all(row.is_met for row in rows) else 1


def _load() -> str:
    """Return how many processes wanted to run in the last minute: a ratio wants a calm machine."""
    return f"{os.getloadavg()[0]:.1f}" if hasattr(os, "getloadavg") else "unknown"


def modules() -> list[str]:
    """Return the names of the benchmark modules, sorted."""
    found = (module.name for module in pkgutil.iter_modules(tests.bench.__path__))
    return sorted(name for name in found if name.startswith("bench_"))


def rendered(rows: list[Row]) -> str:
    """Return `rows` as a text table with aligned columns."""
    cells = [_HEAD, *(_cells(row) for row in rows)]
    widths = [max(len(line[i]) for line in cells) for i in range(len(_HEAD))]
    return "\n".join(
        "  ".join(cell.ljust(width) for cell, width in zip(line, widths, strict=True)).rstrip()
        for line in cells
    )


def _cells(row: Row) -> tuple[str, ...]:
    return (
        row.what,
        row.against,
        f"{row.ratio_median:.3g}",
        f"{row.ratio_p95:.3g}",
        f"{row.limit:.3g} ({row.judged})" if math.isfinite(row.limit) else "none",
        f"{row.ours.median_s * 1e3:.3g}",
        f"{row.baseline.median_s * 1e3:.3g}",
        _verdict(row),
    )


def _verdict(row: Row) -> str:
    """Return whether the limit is met; a row without one only informs."""
    if math.isinf(row.limit):
        return "information"
    return "met" if row.is_met else "NOT MET"
