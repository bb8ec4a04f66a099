"""What a verb is to the command line, and the parser of its words."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from dataclasses import dataclass
from typing import NoReturn

from app.commands.errors import WrongCall
from app.commands.talk import Talk


class HelpShown(Exception):
    """The help was asked for and is written; there is nothing more to do."""


class Parser(argparse.ArgumentParser):
    """An argument parser that raises instead of ending the process, and writes through `Talk`."""

    def __init__(self, talk: Talk, name: str, title: str) -> None:
        super().__init__(prog=f"voltwalk {name}", description=title, allow_abbrev=False)
        self.color = False  # from Python 3.14 on; the text goes to a stream argparse cannot see
        self._talk = talk

    def error(self, message: str) -> NoReturn:
        """Raise what argparse found wrong, with the right form of the call."""
        usage = " ".join(self.format_usage().split()).removeprefix("usage: ")
        raise WrongCall(f"{message.rstrip('.')}; call it like this: {usage}")

    def print_help(self, file: object = None) -> None:
        """Write the help where data goes."""
        self._talk.data(self.format_help().rstrip())

    def exit(self, status: int = 0, message: str | None = None) -> NoReturn:
        """End the verb without ending the process."""
        raise HelpShown


@dataclass(frozen=True, slots=True)
class Verb:
    """A verb: what it does, its arguments, and the run that returns the exit code."""

    name: str
    title: str
    arguments: Callable[[argparse.ArgumentParser], None]
    run: Callable[[argparse.Namespace, Talk], int]

    def call(self, words: list[str], talk: Talk) -> int:
        """Read the words after the verb and run it."""
        parser = Parser(talk, self.name, self.title)
        parser.add_argument("file", metavar="FILE", help="the circuit")
        parser.add_argument("--json", action="store_true", help="data for a program")
        self.arguments(parser)
        try:
            options = parser.parse_args(words)
        except HelpShown:
            return 0
        return self.run(options, talk)
