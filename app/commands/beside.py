"""`check FILE --beside TABLE`: the circuit under another table, as lines and as data."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from app.commands.names import Names
from app.commands.talk import Talk
from checks.compare import Compared, Pair
from checks.finding import Finding
from checks.heat import Heat
from model.circuit import Circuit
from model.own_tables import describe
from model.units import show

_HEADS = ("wire", "size", "at worst", "may carry", "copper", "may carry", "copper")


def beside_lines(circuit: Circuit, found: Compared, names: Names, talk: Talk) -> Iterator[str]:
    """Yield both limits of every wire, and the findings that differ."""
    yield ""
    yield f"BESIDE: {found.kind} {found.chosen} | {found.other}"
    for table in (found.chosen, found.other):
        entry = describe(circuit, found.kind, table)
        if entry is not None:
            text = f"{table}: {entry.title}. {entry.source} ({entry.standing})"
            yield talk.wrapped(text, "  ")
    yield ""
    yield from _aligned([_HEADS, *(_row(circuit, p, names) for p in found.wires)])
    groups = (
        (f"only under {found.chosen}", [(f, f) for f in found.gone]),
        (f"only under {found.other}", [(f, f) for f in found.new]),
        (f"otherwise under {found.other}", list(found.changed)),
    )
    for title, pairs in groups:
        if not pairs:
            continue
        yield ""
        yield title.upper()
        for before, after in pairs:
            was = "" if before.severity == after.severity else f"{before.severity} → "
            yield f"  {was}{after.severity} {after.rule}  {', '.join(_place(after, names))}"
            yield talk.wrapped(after.sentence(), "    ")
    if not any(pairs for _, pairs in groups):
        yield ""
        yield "The findings are the same."


def _row(circuit: Circuit, pair: Pair, names: Names) -> tuple[str, ...]:
    size = circuit.wires[pair.wire].size
    return (
        names.wires.get(pair.wire, pair.wire),
        size.text() if size else "",
        show(pair.first.amps, "current") + ("*" if pair.first.assumed else ""),
        *(cell for heat in (pair.first, pair.second) for cell in (_limit(heat), _copper(heat))),
    )


def _limit(heat: Heat) -> str:
    held = heat.held
    if held is None or held.value_a is None:
        return "not known"
    over = " !" if heat.amps > held.value_a * (1 + 1e-9) else ""
    return show(held.value_a, "current") + over


def _copper(heat: Heat) -> str:
    return "" if heat.copper_c is None else show(heat.copper_c, "temperature")


def _aligned(rows: list[tuple[str, ...]]) -> Iterator[str]:
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    for row in rows:
        yield "  " + "  ".join(c.ljust(w) for c, w in zip(row, widths, strict=True)).rstrip()


def _place(finding: Finding, names: Names) -> list[str]:
    parts = [names.parts.get(p, p) for p in finding.parts]
    return parts + [names.wires.get(w, w) for w in finding.wires]


def beside_data(found: Compared, names: Names) -> dict[str, Any]:
    """Return a comparison as the JSON gives it."""
    return {
        "kind": found.kind,
        "chosen": found.chosen,
        "other": found.other,
        "wires": [_wire_data(p, names) for p in found.wires],
        "gone": [_brief(f, names) for f in found.gone],
        "new": [_brief(f, names) for f in found.new],
        "changed": [
            _brief(after, names) | {"was": before.severity} for before, after in found.changed
        ],
    }


def _wire_data(pair: Pair, names: Names) -> dict[str, Any]:
    return {
        "wire": names.wires.get(pair.wire, pair.wire),
        "assumed": pair.first.assumed,
        "chosen": heat_data(pair.first),
        "other": heat_data(pair.second),
    }


def heat_data(heat: Heat) -> dict[str, Any]:
    """Return a wire in its worst state as the JSON gives it."""
    held = heat.held
    return {
        "current_a": heat.amps,
        "may_carry_a": held.value_a if held else None,
        "copper_c": heat.copper_c,
        "stands_c": held.t_max_c if held else None,
        "surroundings_c": held.warmth.celsius if held else None,
        "zone": held.warmth.zone if held else "",
        "bundle": held.bundle if held else "",
        "loaded": held.loaded if held else 1,
        "bundle_share": held.share if held else 1.0,
        "table": held.table if held else "",
        "standing": held.standing if held else "",
    }


def _brief(finding: Finding, names: Names) -> dict[str, Any]:
    return {
        "rule": finding.rule,
        "severity": finding.severity,
        "parts": [names.parts.get(p, p) for p in finding.parts],
        "wires": [names.wires.get(w, w) for w in finding.wires],
        "sentence": finding.sentence(),
    }
