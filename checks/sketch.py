"""A circuit written in a few lines, for the examples of rules and for tests.

    G1 battery
    F1 fuse-blade rating_a=15
    S1 switch rest=OFF
    M1 pump duty=critical,stops_in_crash
    W1 G1.+ F1.1 2.5 0.15 RD
    W2 F1.2 S1.1 18AWG 2

A line whose first word begins with W and whose second has a dot is a wire: number, two ends ("-"
for an open one), size in mm² or AWG ("?" unknown), length in metres ("?" unknown), colour. Any
other line is a part: reference (also its id), kind, then key=value: ratings, or ref, ways, rest,
host, slot, name, terminals (a,b,c), table (OFF;ON:1-2,1-3), duty (names, "not-" before one
denies it).
A first line "24 V" makes it a 24 V circuit. "zone bay 85" is a zone of 85 °C, in which parts with
zone=bay are; "bundle B1 W2 W3" after its wires is a branch they lie in, "bundle B1@bay …" one in
that zone, "sheath B2 W4 W5" one with a sheath around it.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from model.circuit import Branch, Circuit, End, Part, Settings, Wire, Zone
from model.errors import StructureError
from model.kinds import Duty, Position
from model.wiresize import Size

_WORDS = ("rest", "host", "slot", "name", "branch", "zone")


def sketch(text: str, settings: Settings | None = None) -> Circuit:
    """Return the circuit a few lines describe.

    Raises
    ------
    StructureError
        When a line is neither a part nor a wire.
    """
    parts: dict[str, Part] = {}
    wires: dict[str, Wire] = {}
    zones: dict[str, Zone] = {}
    branches: dict[str, Branch] = {}
    now = settings or Settings()
    for line in filter(None, (raw.split("#")[0].strip() for raw in text.splitlines())):
        words = line.split()
        if words[1:] == ["V"]:
            now = replace(now, nominal_v=float(words[0]))
        elif words[0] == "zone" and len(words) == 3:
            zones[words[1]] = Zone(words[1], words[1], float(words[2]))
        elif words[0] in ("bundle", "sheath") and len(words) > 2:
            name, _, zone = words[1].partition("@")
            cover = "" if words[0] == "bundle" else words[0]
            branches[name] = Branch(name, name, zone=zone, cover=cover)
            for number in words[2:]:
                along = (*wires[number].branches, name)
                wires[number] = replace(wires[number], branches=along)
        elif words[0].startswith("W") and len(words) > 2 and _is_end(words[1]):
            wires[words[0]] = _wire(words)
        elif len(words) > 1:
            parts[words[0]] = _part(words)
        else:
            raise StructureError(f"“{line}” is neither a part nor a wire.")
    return Circuit(parts=parts, wires=wires, branches=branches, zones=zones, settings=now)


def _is_end(word: str) -> bool:
    """Tell whether a word is a wire's end."""
    return "." in word or word == "-"


def _wire(words: list[str]) -> Wire:
    """Return the wire of a line."""
    number, first, second, *rest = words
    size = rest[0] if rest else "?"
    length = rest[1] if len(rest) > 1 else "?"
    return Wire(
        number,
        number,
        _end(first),
        _end(second),
        _size(size),
        None if length == "?" else float(length.removesuffix("m")),
        rest[2] if len(rest) > 2 else "",
    )


def _end(word: str) -> End | None:
    """Return an end: part.terminal, or part.terminal/face."""
    if word == "-":
        return None
    part, terminal = word.split(".", 1)
    terminal, _, face = terminal.partition("/")
    return End(part, terminal, face)


def _size(word: str) -> Size | None:
    """Return a size: mm² without a unit, or with AWG."""
    if word == "?":
        return None
    if word.upper().endswith("AWG"):
        return Size(awg=int(word[:-3]))
    return Size(mm2=float(word))


def _part(words: list[str]) -> Part:
    """Return the part of a line."""
    part = Part(words[0], words[1], words[0])
    for key, _, value in (word.partition("=") for word in words[2:]):
        part = _with(part, key, value)
    return part


def _with(part: Part, key: str, value: str) -> Part:
    """Return the part with one key=value taken in."""
    if key in _WORDS:
        stated: dict[str, Any] = {key: value}
        return replace(part, **stated)
    if key == "ref":
        return replace(part, reference=value)
    if key == "ways":
        return replace(part, ways=int(value))
    if key == "terminals":
        return replace(part, terminals=tuple(value.split(",")))
    if key == "table":
        return replace(part, table=tuple(_position(p) for p in value.split(";")))
    if key == "duty":
        names = {n.removeprefix("not-"): not n.startswith("not-") for n in value.split(",")}
        return replace(part, duty=Duty(**names))
    return replace(part, ratings={**part.ratings, key: _value(value)})


def _position(text: str) -> Position:
    """Return a position: NAME or NAME:a-b,c-d."""
    name, _, pairs = text.partition(":")
    closed = tuple((a, b) for a, b in (p.split("-") for p in pairs.split(",") if p))
    latches = name == "TRIPPED"
    return Position(name, closed, latches=latches)


def _value(text: str) -> float | str:
    """Return a number where it is one, else the word."""
    try:
        return float(text)
    except ValueError:
        return text.replace("_", " ")
