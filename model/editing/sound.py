"""Whether a record would be read back from a file: asked of the reader itself."""

from __future__ import annotations

import re
from collections.abc import Mapping

from model.circuit import Circuit, OwnKind, Part, Wire
from model.editing.errors import EditError
from model.file import FileError, dumps, loads
from model.file.reader import CONTROL

_WHERE = re.compile(r".*?, line \d+(?:, [^:]*)?: ")


def check_sound(record: Part | Wire | None, own_kinds: Mapping[str, OwnKind] | None = None) -> None:
    """Raise when a part or wire, by itself, or kinds of one's own cannot be in a file.

    Parameters
    ----------
    record
        A part without host, slot and branch, or a wire without ends, cable and branches.
    own_kinds
        Kinds of one's own; with a part only its kind is looked at.

    Raises
    ------
    EditError
        What is wrong and what to do.
    """
    kinds = dict(own_kinds or {})
    if isinstance(record, Part):
        kinds = {k: o for k, o in kinds.items() if k == record.kind}
    parts = {record.id: record} if isinstance(record, Part) else {}
    wires = {record.id: record} if isinstance(record, Wire) else {}
    try:
        back = loads(dumps(Circuit(parts, wires, own_kinds=kinds)), "This").circuit
    except FileError as error:
        said = _WHERE.sub("", str(error), count=1)
        raise EditError(said[:1].upper() + said[1:]) from error
    if (back.parts, back.wires, back.own_kinds) != (parts, wires, kinds):
        raise EditError("A value would not be read back as it is; take control characters out.")


def check_text(text: str) -> None:
    """Raise when a reference or number has characters that no file keeps.

    Raises
    ------
    EditError
        It has control characters.
    """
    if CONTROL.search(text):
        raise EditError(
            "A reference or number is one line of plain text; take the control character out."
        )
