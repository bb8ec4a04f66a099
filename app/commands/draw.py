"""`draw FILE --out x.svg|pdf|png`: the sheet as a drawing."""

from __future__ import annotations

import argparse
from pathlib import Path

from app.commands.errors import ExitCode, WrongCall
from app.commands.opening import opened
from app.commands.talk import Talk
from app.commands.verb import Verb

ENDINGS = (".svg", ".pdf", ".png")


def _arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--out", required=True, metavar="OUT", help="x.svg, x.pdf or x.png")


def _run(options: argparse.Namespace, talk: Talk) -> int:
    out = _target(options.out)
    circuit = opened(options.file, talk)

    from app.start.libraries import require_qt

    require_qt(window=False)
    from app.export import export

    try:
        export(circuit, out)
    except OSError as error:
        raise WrongCall(f"{out} cannot be written: {_why(error)}; choose another --out") from error
    if options.json:
        size = out.stat().st_size
        talk.json({"file": Path(options.file).name, "out": str(out), "bytes": size})
    else:
        talk.say(f"drawn to {out}.")
    return ExitCode.GOOD


def _target(text: str) -> Path:
    """Return where to draw to, once it is sure that it can be drawn so.

    Raises
    ------
    WrongCall
        When the ending is unknown or the folder does not exist.
    """
    out = Path(text)
    if out.suffix.lower() not in ENDINGS:
        raise WrongCall(
            f"--out {text}: “{out.suffix or out.name}” cannot be drawn; end the name in "
            ".svg, .pdf or .png"
        )
    if not out.parent.is_dir():
        raise WrongCall(f"--out {text}: there is no folder {out.parent}; make it first")
    return out


def _why(error: OSError) -> str:
    return (error.strerror or str(error)).lower()


DRAW = Verb("draw", "Draws the sheet as svg, pdf or png.", _arguments, _run)
