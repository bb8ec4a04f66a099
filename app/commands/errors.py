"""Exit codes, and the errors that end a command with one sentence."""

from __future__ import annotations

from enum import IntEnum


class ExitCode(IntEnum):
    """What the command line tells whoever called it."""

    GOOD = 0
    FOUND = 1
    WRONG_CALL = 2
    BAD_FILE = 3
    INTERNAL = 4
    INTERRUPTED = 130


class CommandError(Exception):
    """A command that ends early; the message says what, where and what to do."""

    code = ExitCode.INTERNAL


class WrongCall(CommandError, ValueError):
    """The call asks for something that is not there."""

    code = ExitCode.WRONG_CALL


class BadFile(CommandError, ValueError):
    """The file cannot be read."""

    code = ExitCode.BAD_FILE


class NoAnswer(CommandError, ArithmeticError):
    """The circuit has no solution to show."""

    code = ExitCode.FOUND
