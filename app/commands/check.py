"""`check FILE`: everything the rules find, and whether any of it counts."""

from __future__ import annotations

import argparse
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from app.commands.beside import beside_data, beside_lines, heat_data
from app.commands.errors import ExitCode, WrongCall
from app.commands.names import Names
from app.commands.opening import keep, opened, table_arguments, under_supply, with_tables
from app.commands.talk import Talk
from app.commands.verb import Verb
from checks.compare import Compared, compare
from checks.finding import SEVERITIES, Finding
from checks.heat import heat_of
from checks.run import Report, check
from checks.used import LOOK_AT, assumed_wires
from model.circuit import Circuit
from model.errors import UnknownNameError

ACCEPTED = "accepted"


def _arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--strict", action="store_true", help="advice and unknown count for the exit code too"
    )
    table_arguments(parser)
    parser.add_argument(
        "--supply",
        choices=("resting", "charging", "cranking"),
        help="look at it with the battery so, whatever its conditions say",
    )
    parser.add_argument(
        "--keep", action="store_true", help="write the tables of --table into FILE as well"
    )
    parser.add_argument(
        "--beside", metavar="TABLE", help="show the circuit under this table too, side by side"
    )


def _run(options: argparse.Namespace, talk: Talk) -> int:
    circuit = with_tables(opened(options.file, talk), options.table, talk)
    if options.keep:
        keep(circuit, options, talk)
    circuit = under_supply(circuit, options.supply)
    found = _beside(circuit, options.beside) if options.beside else None
    report = found.first if found else check(circuit)
    names = Names(circuit)
    name = Path(options.file).name
    if options.json:
        head = {"file": name, "circuit": circuit.settings.title}
        other = {"beside": beside_data(found, names)} if found else {}
        talk.json(head | report_data(report, names) | other)
    else:
        talk.data(f"{circuit.settings.title or name}\n")
        for line in report_lines(report, names, talk):
            talk.data(line)
        for line in beside_lines(circuit, found, names, talk) if found else ():
            talk.data(line)
    return ExitCode.GOOD if report.clean(options.strict) else ExitCode.FOUND


def _beside(circuit: Circuit, table: str) -> Compared:
    """Return the circuit under another table.

    Raises
    ------
    WrongCall
        There is no such table.
    """
    try:
        return compare(circuit, table)
    except UnknownNameError as error:
        raise WrongCall(str(error)) from error


def report_data(report: Report, names: Names) -> dict[str, Any]:
    """Return a report as the JSON gives it."""
    assumed = frozenset(assumed_wires(report.case.circuit) if report.case else ())
    return {
        "findings": [_finding_data(f, names, assumed) for f in report.findings],
        "tables": list(report.tables),
        "every_state": report.every_state,
        "counts": counts(report.findings),
        "table_sources": [
            {
                "kind": t.kind,
                "id": t.id,
                "title": t.title,
                "source": t.source,
                "standing": t.standing,
                "conditions": t.conditions,
            }
            for t in report.used
        ],
        "wires": _wires_data(report, names),
    }


def _wires_data(report: Report, names: Names) -> list[dict[str, Any]]:
    """Return every wire in its worst state: current, limit, temperature, what it rests on."""
    heats = heat_of(report.case).values() if report.case else ()
    return [
        {"wire": names.wires.get(h.wire, h.wire), "assumed": h.assumed} | heat_data(h)
        for h in heats
    ]


def _state(finding: Finding, names: Names) -> dict[str, Any] | None:
    """Return the state that shows a finding, None where it holds in any."""
    setting = finding.setting
    if setting is None:
        return None
    positions = {names.parts.get(p, p): at for p, at in setting.positions.items()}
    return {"positions": positions, "engine": setting.engine, "supply": setting.supply}


def _assumed(finding: Finding, assumed: frozenset[str]) -> list[str]:
    """Return the wires of a finding, its evidence included, whose size or length is assumed."""
    along = (key for table, key in finding.path if table == "wires")
    return [w for w in dict.fromkeys((*finding.wires, *along)) if w in assumed]


def _finding_data(finding: Finding, names: Names, assumed: frozenset[str]) -> dict[str, Any]:
    """Return one finding with people's references."""
    return {
        "rule": finding.rule,
        "severity": finding.severity,
        "parts": [names.parts.get(p, p) for p in finding.parts],
        "wires": [names.wires.get(w, w) for w in finding.wires],
        "values": dict(finding.values),
        "source": finding.source,
        "sentence": finding.sentence(),
        "accepted": bool(finding.accepted),
        "reason": finding.accepted,
        "assumed": [names.wires.get(w, w) for w in _assumed(finding, assumed)],
        "state": _state(finding, names),
    }


def counts(findings: tuple[Finding, ...]) -> dict[str, int]:
    """Return how many findings there are of each severity, accepted ones apart."""
    found = Counter(ACCEPTED if f.accepted else f.severity for f in findings)
    return {key: found[key] for key in (*SEVERITIES, ACCEPTED)}


def report_lines(report: Report, names: Names, talk: Talk) -> Iterator[str]:
    """Yield a report as lines: by severity, accepted ones last, counts at the end."""
    for group in (*SEVERITIES, ACCEPTED):
        found = [f for f in report.findings if (ACCEPTED if f.accepted else f.severity) == group]
        if found:
            yield group.upper()
        for finding in found:
            yield from _finding_lines(finding, names, talk)
            yield ""
    yield ", ".join(f"{count} {key}" for key, count in counts(report.findings).items())
    if not report.every_state:
        yield talk.wrapped(
            "There are too many combinations of positions to look at all: at rest, and every "
            "single and double change from it, were looked at."
        )
    yield f"tables: {'; '.join(report.tables) or 'none'}"
    for table in report.used:
        if table.standing in LOOK_AT:
            said = "" if table.standing in table.source else f" ({table.standing})"
            yield talk.wrapped(f"{table.kind} {table.id}: {table.source}{said}", "  ")
    wires = assumed_wires(report.case.circuit) if report.case else ()
    if wires:
        text = f"assumed: size or length of {', '.join(names.wires.get(w, w) for w in wires)}"
        yield talk.wrapped(text)


def _finding_lines(finding: Finding, names: Names, talk: Talk) -> Iterator[str]:
    """Yield one finding: rule and place, sentence, source, the reason it was accepted."""
    place = [names.parts.get(p, p) for p in finding.parts]
    place += [names.wires.get(w, w) for w in finding.wires]
    yield f"  {finding.rule}  {', '.join(place)}".rstrip()
    yield talk.wrapped(finding.sentence(), "    ")
    yield talk.wrapped(f"source: {finding.source}", "    ")
    if finding.accepted:
        yield talk.wrapped(f"accepted: {finding.accepted}", "    ")


CHECK = Verb("check", "Checks a circuit and lists what it finds.", _arguments, _run)
