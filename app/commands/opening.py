"""Opens the circuit a command is about."""

from __future__ import annotations

import argparse
from dataclasses import replace
from pathlib import Path

from app.commands.errors import BadFile, WrongCall
from app.commands.talk import Talk
from model.circuit import Circuit, OwnTable
from model.file import FileError, load, save
from model.file.csv_table import load_table, with_table
from model.tables.own import as_ampacity

USUAL_C = 105.0
"""Of several columns of insulation the hottest up to this is taken, as in the default table."""


def opened(path: str, talk: Talk) -> Circuit:
    """Return the circuit of a file; what its reader should know goes to the talk.

    Raises
    ------
    BadFile
        When it cannot be read.
    """
    try:
        loaded = load(path)
    except (FileError, OSError) as error:
        raise BadFile(str(error)) from error
    for warning in loaded.warnings:
        talk.say(warning)
    return loaded.circuit


def table_arguments(parser: argparse.ArgumentParser) -> None:
    """Let a verb take tables of the user's."""
    parser.add_argument(
        "--table",
        action="append",
        default=[],
        metavar="CSV",
        help="use a table of your own in this run; see the README for its form",
    )


def with_tables(circuit: Circuit, paths: list[str], talk: Talk) -> Circuit:
    """Return the circuit with tables of the user's, those of current and bundles chosen.

    Raises
    ------
    BadFile
        One of them cannot be read, or something in it cannot be.
    """
    for path in paths:
        try:
            table = load_table(Path(path))
            circuit = _choosing(with_table(circuit, table, Path(path).name), table)
        except FileError as error:
            raise BadFile(str(error)) from error
        talk.say(f"the table {table.id} is used: {table.from_where}.")
    return circuit


def under_supply(circuit: Circuit, supply: str | None) -> Circuit:
    """Return the circuit with its battery resting, charging or cranking, as it is where None."""
    if supply is None:
        return circuit
    conditions = replace(circuit.settings.conditions, supply=supply)
    return replace(circuit, settings=replace(circuit.settings, conditions=conditions))


def _choosing(circuit: Circuit, table: OwnTable) -> Circuit:
    chosen = circuit.settings.chosen
    if table.sort == "ampacity":
        columns = sorted(as_ampacity(table).columns, key=lambda c: c.t_max_c)
        usual = [c for c in columns if c.t_max_c <= USUAL_C]
        chosen = replace(chosen, ampacity=(usual[-1] if usual else columns[0]).id)
    elif table.sort == "bundle":
        chosen = replace(chosen, bundle=table.id)
    elif table.sort == "copper":
        chosen = replace(chosen, copper=table.id)
    return replace(circuit, settings=replace(circuit.settings, chosen=chosen))


def keep(circuit: Circuit, options: argparse.Namespace, talk: Talk) -> None:
    """Write the circuit with its tables back into its file.

    Raises
    ------
    BadFile
        The file cannot be written.
    """
    if not options.table:
        raise WrongCall("--keep writes the tables of --table; name one")
    try:
        save(circuit, options.file)
    except (FileError, OSError) as error:
        raise BadFile(str(error)) from error
    talk.say(f"{Path(options.file).name} is written with {len(options.table)} table(s) in it.")
