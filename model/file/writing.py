"""From a circuit to the text of its file: one record a line, in a stable order."""

from __future__ import annotations

import json
from typing import Any

from model.circuit import TABLES, Circuit
from model.file.errors import FileError
from model.file.heads import HEAD
from model.file.reading import SPECS, VERSION

_encode = json.JSONEncoder(ensure_ascii=False, allow_nan=False, check_circular=True).encode


def dumps(circuit: Circuit) -> str:
    """Return the text of the circuit's file.

    Raises
    ------
    FileError
        A number in it is NaN or infinite, which no file can hold.
    """
    lines = [f'"voltwalk": {VERSION}']
    lines += [f"{_encode(k)}: {_line(v, k)}" for k, v in HEAD.write(circuit.settings).items()]
    for table in TABLES:
        records = getattr(circuit, table).values()
        if records:
            written = [_record(table, SPECS[table].write(r)) for r in records]
            lines.append(f'"{table}": [\n' + ",\n".join(written) + "\n]")
    return "{" + ",\n".join(lines) + "\n}\n"


def _record(table: str, values: dict[str, Any]) -> str:
    """Return a record on one line; a sheet with one line a place and a route."""
    if table != "sheets":
        return _line(values, str(values.get("id")))
    pairs = [f"{_encode(k)}: {_listed(k, v)}" for k, v in values.items()]
    return "{" + ", ".join(pairs) + "}"


def _listed(key: str, value: Any) -> str:
    if key in ("places", "routes"):
        return "[\n" + ",\n".join(_line(v, key) for v in value) + "\n]"
    return _line(value, key)


def _line(value: Any, what: str) -> str:
    """Return a value on one line."""
    try:
        return _encode(value)
    except (ValueError, TypeError) as error:
        raise FileError(
            f"The circuit, “{what}”: a value in it cannot be written ({error}); change that value."
        ) from error
