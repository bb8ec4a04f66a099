"""Opens the circuit a command is about."""

from __future__ import annotations

from app.commands.errors import BadFile
from app.commands.talk import Talk
from model.circuit import Circuit
from model.file import FileError, load


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
