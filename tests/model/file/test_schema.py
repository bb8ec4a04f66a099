"""The documentation against the program: schema, docstring, list of kinds and examples.

The schema is written by hand and checked here by a small validator of the words it uses (JSON
Schema, draft 2020-12), so it is a second opinion on what the reader takes.
"""

from __future__ import annotations

import inspect
import json
import re
import textwrap
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import model.file
from model.circuit import Circuit
from model.file import FileError, dumps, loads
from model.file.heads import HEAD
from model.file.own import OWN_KIND
from model.file.reading import SPECS
from model.file.records import PLACE, ROUTE
from model.file.reference import KINDS_FILE, kinds_text
from model.kinds import KINDS
from tests.model.file.test_bad_input import GOOD
from tests.model.file.test_mutation import ODD, TEXTS, nodes_of
from tests.model.file.test_unknown import EVERYWHERE
from tests.strategies import circuits

ROOT = Path(__file__).resolve().parents[3]
SCHEMA = json.loads(
    (ROOT / "assets" / "format" / "voltwalk-1.schema.json").read_text(encoding="utf-8")
)
RECORDS = {"parts": "part", "wires": "wire", "sheets": "sheet", "branches": "branch",
           "cables": "cable", "own_kinds": "own_kind", "accepted": "acceptance",
           "promises": "promise", "zones": "zone",
           "own_tables": "own_table"}  # fmt: skip
EXAMPLES = sorted((ROOT / "assets" / "examples").glob("*.voltwalk"))
TYPES = {"object": dict, "array": list, "string": str, "boolean": bool}
WORDS = {"$ref", "$defs", "$schema", "title", "description", "type", "properties", "required",
         "additionalProperties", "items", "minItems", "maxItems", "pattern", "enum", "const",
         "anyOf", "not", "minimum", "maximum"}  # fmt: skip


def fits(value: Any, schema: dict[str, Any]) -> bool:
    """Tell whether a value fits a schema."""
    assert schema.keys() <= WORDS, "the validator does not know a word of the schema"
    if "$ref" in schema:
        return fits(value, SCHEMA["$defs"][schema["$ref"].rpartition("/")[2]])
    return (
        _is_type(value, schema.get("type"))
        and _is_one(value, schema)
        and _is_inside(value, schema)
        and ("anyOf" not in schema or any(fits(value, s) for s in schema["anyOf"]))
        and not ("not" in schema and fits(value, schema["not"]))
    )


def _is_type(value: Any, name: str | None) -> bool:
    if name in ("number", "integer"):
        whole = isinstance(value, int) or (isinstance(value, float) and value.is_integer())
        right = isinstance(value, int | float) and not isinstance(value, bool)
        return right and (whole or name == "number")
    return name is None or isinstance(value, TYPES[name])


def _is_one(value: Any, schema: dict[str, Any]) -> bool:
    if "const" in schema:
        return bool(value == schema["const"]) and not isinstance(value, bool)
    return "enum" not in schema or value in schema["enum"]


def _is_inside(value: Any, schema: dict[str, Any]) -> bool:
    """Tell whether the limits and the values inside fit."""
    if isinstance(value, dict):
        known = schema.get("properties", {})
        others = schema.get("additionalProperties", {})
        inner = all(fits(v, known.get(k, others)) for k, v in value.items())
        return inner and all(key in value for key in schema.get("required", ()))
    if isinstance(value, list):
        count = schema.get("minItems", 0) <= len(value) <= schema.get("maxItems", len(value))
        return count and all(fits(v, schema.get("items", {})) for v in value)
    if isinstance(value, str):
        return re.search(schema.get("pattern", ""), value) is not None
    if "minimum" in schema:
        return bool(schema["minimum"] <= value <= schema["maximum"])
    return True


def test_the_schema_has_the_fields_of_every_record() -> None:
    top = SCHEMA["properties"]
    assert set(top) == {"voltwalk", *SPECS, *(f.key for f in HEAD.fields)}
    for table, name in RECORDS.items():
        assert top[table]["items"] == {"$ref": f"#/$defs/{name}"}
        assert list(SCHEMA["$defs"][name]["properties"]) == [f.key for f in SPECS[table].fields]
    for name, spec in (("place", PLACE), ("route", ROUTE), ("own_kind", OWN_KIND)):
        assert list(SCHEMA["$defs"][name]["properties"]) == [f.key for f in spec.fields]


@pytest.mark.parametrize("text", [GOOD, EVERYWHERE], ids=["good", "unknown fields"])
def test_the_test_files_fit(text: str) -> None:
    assert fits(json.loads(text), SCHEMA)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_every_example_fits_and_is_written_as_it_is_read(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert fits(json.loads(text), SCHEMA)
    loaded = loads(text, path.name)
    assert loaded.warnings == ()
    assert dumps(loaded.circuit) == text


@settings(max_examples=30, deadline=None)
@given(circuits())
def test_what_is_written_fits(circuit: Circuit) -> None:
    assert fits(json.loads(dumps(circuit)), SCHEMA)


@settings(max_examples=300, deadline=None)
@given(TEXTS, st.data())
def test_what_does_not_fit_is_refused(text: str, data: st.DataObject) -> None:
    raw = json.loads(text)
    container, key = data.draw(st.sampled_from(nodes_of(raw)))
    container[key] = data.draw(ODD)
    if raw.get("voltwalk") == 1 and not fits(raw, SCHEMA):
        with pytest.raises(FileError):
            loads(json.dumps(raw))


def test_the_example_of_the_documentation() -> None:
    doc = inspect.getdoc(model.file) or ""
    text = textwrap.dedent(doc[doc.index('    {"voltwalk"') : doc.index("Only ``voltwalk``")])
    loaded = loads(text.strip() + "\n")
    assert loaded.warnings == ()
    assert len(loaded.circuit.wires) == 5
    assert dumps(loaded.circuit) == text.strip() + "\n"
    assert fits(json.loads(text), SCHEMA)


def test_the_documentation_names_every_field() -> None:
    doc = inspect.getdoc(model.file) or ""
    named = set(re.findall(r"``([a-z_0-9]+)``", doc))
    for name, schema in [("top", SCHEMA), *SCHEMA["$defs"].items()]:
        missing = set(schema.get("properties", {})) - named
        assert not missing, (name, missing)


def test_the_list_of_kinds_is_that_of_the_program() -> None:
    written = KINDS_FILE.read_text(encoding="utf-8")
    assert written == kinds_text(), "write it again with: python -m model.file.reference"
    assert all(f"\n## {key}\n" in written for key in KINDS)
