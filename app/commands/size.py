"""`size FILE [REF …]`: the smallest fuses, wires and relays that satisfy every rule, and why."""

from __future__ import annotations

import argparse
from pathlib import Path

from app.commands.errors import ExitCode, WrongCall
from app.commands.names import Names
from app.commands.opening import opened, table_arguments, with_tables
from app.commands.size_text import plan_data, plan_lines
from app.commands.talk import Talk
from app.commands.verb import Verb
from checks.case import Case
from checks.sizing import Plan, plan_sizes
from checks.sizing.axis import Axis, axis_of
from model.circuit import Circuit
from model.lookup import label


def _arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "refs",
        nargs="*",
        metavar="REF",
        help="a load by its reference; the whole circuit if none is told",
    )
    table_arguments(parser)


def _run(options: argparse.Namespace, talk: Talk) -> int:
    circuit = with_tables(opened(options.file, talk), options.table, talk)
    names = Names(circuit)
    parts = [names_part(circuit, names, ref) for ref in options.refs]
    plan = plan_sizes(circuit, parts)
    axes = axes_of(circuit, plan)
    name = Path(options.file).name
    if options.json:
        head = {"file": name, "circuit": circuit.settings.title}
        talk.json(head | plan_data(circuit, names, plan, axes))
    else:
        talk.data(f"{circuit.settings.title or name}\n")
        for line in plan_lines(circuit, names, plan, axes, talk):
            talk.data(line)
        if not plan.loads:
            talk.data("No load runs in any state.")
    stuck = any(s.stuck for s in plan.loads)
    return ExitCode.FOUND if stuck else ExitCode.GOOD


def axes_of(circuit: Circuit, plan: Plan) -> dict[str, Axis]:
    """Return the axis of every load that something fits, with the advice in place, by id."""
    case = Case(plan.change.apply(circuit) if plan.change else circuit)
    return {s.load: axis_of(case, s) for s in plan.loads if not s.stuck}


def names_part(circuit: Circuit, names: Names, ref: str) -> str:
    """Return the id of the part that a reference names.

    Raises
    ------
    WrongCall
        When no part has it.
    """
    found = [i for i, n in names.parts.items() if n.casefold() == ref.casefold()]
    if not found:
        loads = ", ".join(label(p) for p in list(circuit.parts.values())[:8])
        raise WrongCall(f"No part is called {ref}; there are {loads} …")
    return found[0]


SIZE = Verb("size", "Sizes fuses, wires and relays, of loads or of all.", _arguments, _run)
