"""`check FILE`: everything the rules find, and whether any of it counts."""

from __future__ import annotations

import argparse
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from app.commands.errors import ExitCode
from app.commands.names import Names
from app.commands.opening import opened
from app.commands.talk import Talk
from app.commands.verb import Verb
from checks.finding import SEVERITIES, Finding
from checks.run import Report, check

ACCEPTED = "accepted"


def _arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--strict", action="store_true", help="advice and unknown count for the exit code too"
    )


def _run(options: argparse.Namespace, talk: Talk) -> int:
    circuit = opened(options.file, talk)
    report = check(circuit)
    names = Names(circuit)
    name = Path(options.file).name
    if options.json:
        head = {"file": name, "circuit": circuit.settings.title}
        talk.json(head | report_data(report, names))
    else:
        talk.data(f"{circuit.settings.title or name}\n")
        for line in report_lines(report, names, talk):
            talk.data(line)
    return ExitCode.GOOD if report.clean(options.strict) else ExitCode.FOUND


def report_data(report: Report, names: Names) -> dict[str, Any]:
    """Return a report as the JSON gives it."""
    return {
        "findings": [_finding_data(f, names) for f in report.findings],
        "tables": list(report.tables),
        "every_state": report.every_state,
        "counts": counts(report.findings),
    }


def _finding_data(finding: Finding, names: Names) -> dict[str, Any]:
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
