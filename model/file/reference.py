"""The list of kinds for those who write files by hand; ``python -m model.file.reference`` makes it.

A test holds the written list against the kinds, so that neither runs ahead of the other.
"""

from __future__ import annotations

from pathlib import Path

from model.kinds import KINDS, Body, Kind, RatingSpec, shaped_body

KINDS_FILE = Path(__file__).resolve().parents[2] / "assets" / "format" / "kinds.md"
UNITS = {
    "current": "A",
    "voltage": "V",
    "resistance": "ohm",
    "time": "s",
    "power": "W",
    "temperature": "°C",
    "pressure": "Pa",
    "share": "share of 1",
    "count": "times",
    "frequency": "Hz",
}


def kinds_text() -> str:
    """Return every kind in Markdown: terminals, positions, slots, ratings with defaults."""
    head = (
        "# Kinds of parts in a file\n\n"
        "Key, title, terminals, positions (the first is not always that of rest), slots and "
        "ratings. A default with a second value after / takes that in a 24 V circuit.\n"
    )
    return "\n".join([head, *(_kind(kind) for kind in KINDS.values())])


def _kind(kind: Kind) -> str:
    body = shaped_body(kind)
    lines = [f"## {kind.key}\n", f"{kind.title}. Terminals: {_names(body)}."]
    if kind.shape == "ways":
        lines.append(f"`ways` sets their number; {kind.ways} unless told.")
    for position in body.positions:
        closed = ", ".join(f"{a}–{b}" for a, b in position.closed)
        lines.append(
            f"- position {position.name}: closes {closed or 'nothing'}{_rest(body, position.name)}"
        )
    lines += [f"- slot {slot.name}: takes {slot.takes or 'any'}" for slot in body.slots]
    lines += [f"- `{spec.key}`: {_rating(spec)}" for spec in kind.ratings]
    return "\n".join(lines) + "\n"


def _names(body: Body) -> str:
    return ", ".join(f"`{t.node}`" for t in body.terminals) or "none"


def _rest(body: Body, name: str) -> str:
    return ", at rest" if name == body.rest else ""


def _rating(spec: RatingSpec) -> str:
    if spec.choices:
        return f"{spec.title}; {', '.join(spec.choices)}; {spec.default}"
    values = [v for v in (spec.default, spec.default_24) if v is not None]
    said = " / ".join(f"{v:.12g}" if isinstance(v, float | int) else v for v in values)
    return "; ".join(filter(None, (spec.title, UNITS.get(spec.quantity, "text"), said)))


def write() -> None:
    """Write the list to where it is kept."""
    KINDS_FILE.write_text(kinds_text(), encoding="utf-8")


if __name__ == "__main__":
    write()
