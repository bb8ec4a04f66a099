"""What no record shows by itself: whether the others that it names exist, and fit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from model.circuit import Branch, Circuit, End, OwnTable, Part, Sheet, Wire
from model.file.context import Links
from model.file.part_checks import check_guest, check_own_kind, check_part
from model.file.reader import Reader
from model.own_tables import choices, table_clashes


def check_links(reader: Reader, circuit: Circuit, raw: Any) -> Circuit:
    """Return the circuit once everything in it points at something that is there.

    Raises
    ------
    FileError
        Something does not; in a file of a later version it is left out with a warning instead.
    """
    links = Links(reader, circuit, raw)
    links.keep("own_tables", check_own_table)
    links.keep("own_kinds", check_own_kind)
    links.keep("branches", _check_branch)
    links.keep("parts", check_part)
    while links.keep("parts", check_guest):
        pass
    links.keep("wires", _check_wire)
    links.keep("sheets", _check_sheet)
    _check_settings(links)
    return links.circuit


def check_own_table(links: Links, table: OwnTable) -> OwnTable:
    """Check that a table of types names ratings there are, and that none hides another table."""
    for reason in table_clashes(links.circuit, table):
        raise links.wrong(reason, "correct it or take the table out")
    return table


def _check_branch(links: Links, branch: Branch) -> Branch:
    """Warn of a zone that does not exist."""
    links.warn_of_zone(branch.zone)
    return branch


def _check_wire(links: Links, wire: Wire) -> Wire:
    """Check that the wire's ends exist and warn of harness records that do not."""
    circuit = links.circuit
    if wire.id in circuit.parts:
        raise links.wrong(f"the id “{wire.id}” is taken by a part", "give the wire another id")
    _check_end(links, wire.first, "from")
    _check_end(links, wire.second, "to")
    if wire.cable and wire.cable not in circuit.cables:
        links.warn(f"there is no cable “{wire.cable}”", "add it or take “cable” out")
    for branch in wire.branches:
        if branch not in circuit.branches:
            links.warn(f"there is no branch “{branch}”", "add it or take it out of “branches”")
    links.warn_of_zone(wire.zone)
    return wire


def _check_end(links: Links, end: End | None, key: str) -> None:
    """Raise when the end is at no terminal that exists."""
    if end is None:
        return
    part = links.circuit.parts.get(end.part)
    if part is None:
        raise links.wrong(
            f"it ends at “{end.part}”, and there is no such part",
            f"correct “{key}”, or leave it out for an open end",
            key,
        )
    nodes = links.nodes(part)
    if (f"{end.terminal}/{end.face}" if end.face else end.terminal) not in nodes:
        raise _no_terminal(links, part, end, key)


def _no_terminal(links: Links, part: Part, end: End, key: str) -> Exception:
    """Return the sentence for an end at a terminal or face that the part does not have."""
    nodes = links.nodes(part)
    name = part.reference or part.id
    known = ", ".join(list(nodes)[:12]) + (" …" if len(nodes) > 12 else "")
    said = f"{end.terminal}/{end.face}" if end.face else end.terminal
    if end.face and end.terminal in nodes:
        return links.wrong(f"{name} has no faces, and the wire ends at “{said}”", _TAKE, key)
    if f"{end.terminal}/a" in nodes:
        return links.wrong(
            f"it ends at “{said}” of the connector {name} without a face a or b that is there",
            f"write {part.id}.{end.terminal}/a or {part.id}.{end.terminal}/b",
            key,
        )
    return links.wrong(
        f"{name} has no terminal “{said}”", f"use one of {known}" if known else _TAKE, key
    )


_TAKE = "write ID.TERMINAL with a terminal of that part"


def _check_sheet(links: Links, sheet: Sheet) -> Sheet:
    """Check that places show parts and routes follow wires that exist."""
    circuit = links.circuit
    lost = [k for k, p in sheet.places.items() if p.part not in circuit.parts]
    astray = [k for k in sheet.routes if k not in circuit.wires]
    _leave(links, "places", lost, lambda k: f"the place “{k}” shows a part that is not there")
    _leave(links, "routes", astray, lambda k: f"the route follows “{k}”, and there is no such wire")
    if not lost and not astray:
        return sheet
    places = {k: p for k, p in sheet.places.items() if k not in lost}
    return replace(
        sheet, places=places, routes={k: r for k, r in sheet.routes.items() if k not in astray}
    )


def _leave(links: Links, key: str, lost: list[str], said: Callable[[str], str]) -> None:
    """Raise for the first lost place or route; of a later version leave them out."""
    for name in lost:
        error = links.wrong(said(name), "remove that line or add what it names", key, name)
        if not links.reader.later:
            raise error
        links.reader.leave_out(error, (0, 0))


def _check_settings(links: Links) -> None:
    """Check what the settings name."""
    settings = links.circuit.settings
    battery = settings.reference_battery
    if battery and battery not in links.circuit.parts:
        links.at("reference_battery")
        links.reader.warn(
            f"there is no part “{battery}” to measure against", "the first battery is taken"
        )
    chosen = settings.chosen
    for key in ("copper", "ampacity", "bundle"):
        name = getattr(chosen, key)
        if name == getattr(type(settings)().chosen, key):
            continue
        ids = choices(links.circuit, key)
        if name not in ids:
            links.at("tables", key)
            raise links.reader.wrong(
                f"there is no table “{name}” of {key}", f"write one of {', '.join(ids)}"
            )
