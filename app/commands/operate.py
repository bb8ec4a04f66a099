"""`operate FILE`: sets controls, puts faults in place, and shows what the circuit does."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from app.commands.errors import ExitCode
from app.commands.opening import opened
from app.commands.readings import step_data
from app.commands.step_text import step_text
from app.commands.steps import Operation, Step
from app.commands.talk import Talk
from app.commands.verb import Verb
from checks.used import rests_on
from model.solver import STEADY


class _InOrder(argparse.Action):
    """Collects options of several names in the order they were written."""

    def __call__(
        self,
        parser: argparse.ArgumentParser,
        namespace: argparse.Namespace,
        values: str | Sequence[Any] | None,
        option_string: str | None = None,
    ) -> None:
        """Add one step."""
        before = getattr(namespace, self.dest) or ()
        setattr(namespace, self.dest, (*before, (self.const, str(values))))


def _arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--set",
        action=_InOrder,
        dest="steps",
        const="set",
        default=(),
        metavar="S1=ON,S2=SET",
        help="a step: move these together, then settle (engine=…, supply=… likewise)",
    )
    parser.add_argument(
        "--fault",
        action=_InOrder,
        dest="steps",
        const="fault",
        default=(),
        metavar="W06=open",
        help="a step: put these faults in place until NAME=none (open, blown, shell, supply, "
        "welded, stuck, short, +1ohm, shell+10mohm)",
    )


def _run(options: argparse.Namespace, talk: Talk) -> int:
    """Take every step before anything is written, so that a wrong call writes nothing."""
    circuit = opened(options.file, talk)
    operation = Operation(circuit)
    steps = [operation.step(kind, text) for kind, text in options.steps or (("rest", ""),)]
    data = [step_data(step, operation.names) for step in steps]
    name = Path(options.file).name
    for count, step in enumerate(steps, start=1):
        _tell(talk, count, step, last=count == len(steps))
    if options.json:
        talk.json({"file": name, "circuit": circuit.settings.title, "steps": data,
                   "rests_on": list(rests_on(circuit))})  # fmt: skip
    else:
        talk.data(f"{circuit.settings.title or name}")
        for count, each in enumerate(data, start=1):
            talk.data("\n" + step_text(count, each))
        for line in rests_on(circuit):
            talk.data("\n" + talk.wrapped(line))
    steady = all(s.settled.settled == STEADY for s in steps)
    return ExitCode.GOOD if steady else ExitCode.FOUND


def _tell(talk: Talk, count: int, step: Step, *, last: bool) -> None:
    """Say what the person should know of a step."""
    for note in step.notes:
        talk.say(f"step {count}: {note}.")
    if step.settled.settled != STEADY and not last:
        talk.say(
            f"step {count} has no single steady state; step {count + 1} starts from the first "
            "of its states."
        )
    if not step.settled.complete:
        talk.say(f"step {count}: not every order of the relays could be tried.")


OPERATE = Verb(
    "operate", "Sets controls, puts faults in place and shows what the circuit does.",
    _arguments, _run,
)  # fmt: skip
