"""Records as lists of fields: one description serves reading and writing."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from operator import attrgetter
from typing import Any

from model.file.codecs import Codec, check_unknown
from model.file.errors import FileError
from model.file.reader import Inside, Reader, clean


@dataclass(frozen=True, slots=True)
class Field:
    """A field: its key in the file, the attribute it fills, where it comes from, its codec."""

    key: str
    attr: str
    codec: Codec
    get: Callable[[Any], Any]


def field(key: str, codec: Codec, attr: str = "", get: Callable[[Any], Any] | None = None) -> Field:
    """Return a field; its attribute has the name of the key unless told."""
    name = attr or key
    return Field(key, name, codec, get or attrgetter(name))


class Spec:
    """What a record consists of: fields in file order, how it is built, what is left out.

    Parameters
    ----------
    build
        Makes the record from the attributes read; takes `extra` only when `keeps` is set.
    blank
        A record with every default; fields equal to its are not written.
    """

    def __init__(
        self,
        build: Callable[..., Any],
        blank: Any,
        *fields: Field,
        required: tuple[str, ...] = (),
        keeps: bool = False,
    ) -> None:
        self.build = build
        self.fields = fields
        self.required = required
        self.keeps = keeps
        self._by_key = {f.key: (f.attr, f.codec.read) for f in fields}
        never = object()
        self._written = [(f, never if f.key in required else f.get(blank)) for f in fields]

    def read(self, reader: Reader, raw: Any) -> Any:
        """Return the record; unknown fields go to its `extra`, or to the enclosing record's."""
        values, rest = self.read_fields(reader, raw)
        if self.keeps and rest:
            values["extra"] = rest
        elif rest:
            reader.keep(str(reader.path[-1]), rest)
        return self.build(reader, values)

    def read_fields(self, reader: Reader, raw: Any) -> tuple[dict[str, Any], dict[str, Any]]:
        """Return the attributes read and the unknown fields."""
        if not isinstance(raw, dict):
            raise reader.wrong_value(raw, "write fields in { }")
        for key in self.required:
            if key not in raw:
                raise reader.wrong(f"“{key}” is missing", "add it")
        reader.rests.append({})
        depth = (len(reader.path) + 1, len(reader.rests))
        path, known = reader.path, self._by_key
        values: dict[str, Any] = {}
        path.append("")
        for key, value in raw.items():
            path[-1] = key
            found = known.get(key)
            try:
                if found:
                    values[found[0]] = found[1](reader, value)
                else:
                    self._unknown(reader, key, value)
            except FileError as error:
                if not reader.later or key in self.required:
                    raise
                reader.leave_out(error, depth)
        path.pop()
        return values, reader.rests.pop()

    def _unknown(self, reader: Reader, key: str, value: Any) -> None:
        check_unknown(reader, key)
        check_unknown(reader, value)
        reader.warn(f"the field “{clean(key)[:40]}” is not known here", "it is kept as it is")
        reader.keep(key, value)

    def write(self, record: Any) -> dict[str, Any]:
        """Return the record as plain values, without what is as by default."""
        made = {}
        for f, default in self._written:
            value = f.get(record)
            if value != default:
                made[f.key] = f.codec.write(value)
        return self._with_rest(made, record.extra) if self.keeps and record.extra else made

    def _with_rest(self, made: dict[str, Any], extra: Mapping[str, Any]) -> dict[str, Any]:
        """Return the record with unknown fields, also those inside fields that were left out."""
        for key in extra:
            if key in self._by_key and key not in made and not isinstance(extra[key], Inside):
                made[key] = {}
        return merged(made, {k: v for k, v in extra.items() if k in made or k not in self._by_key})

    def codec(self) -> Codec:
        """Return the codec of such a record inside another."""
        return Codec(self.read, self.write)


def merged(known: dict[str, Any], rest: Mapping[str, Any]) -> dict[str, Any]:
    """Return what is known with the unknown fields put back where they stood."""
    made = dict(known)
    for key, value in rest.items():
        if key in made:
            made[key] = _merged(made[key], value)
        elif not isinstance(rest, Inside):
            made[key] = value
    return made


def _merged(known: Any, rest: Any) -> Any:
    """Return one known value with the unknown fields inside it."""
    if isinstance(known, dict):
        return merged(known, rest)
    if isinstance(known, list) and isinstance(rest, Inside):
        return [merged(i, rest.get(i.get("id", i.get("wire")), {})) for i in known]
    # The only other list with fields inside is a position in its short form.
    return merged({"closed": known}, rest)


def keyed(spec: Spec, attr: str) -> Codec:
    """Return the codec of a list of records, held as a mapping by one of their attributes."""

    def read(reader: Reader, raw: Any) -> dict[str, Any]:
        if not isinstance(raw, list):
            raise reader.wrong_value(raw, "write a list in [ ]")
        made: dict[str, Any] = {}
        rests = Inside()
        for index, item in enumerate(raw):
            reader.path.append(index)
            values, rest = spec.read_fields(reader, item)
            record = spec.build(reader, values)
            name = getattr(record, attr)
            if name in made:
                raise reader.wrong(f"“{name}” stands twice in the list", "remove one of the two")
            made[name] = record
            if rest:
                rests[name] = rest
            reader.path.pop()
        if rests:
            reader.keep(str(reader.path[-1]), rests)
        return made

    def write(records: Mapping[str, Any]) -> list[Any]:
        return [spec.write(record) for record in records.values()]

    return Codec(read, write)


def made_by(cls: Callable[..., Any]) -> Callable[[Reader, dict[str, Any]], Any]:
    """Return the builder of a record whose attributes are its fields."""
    return lambda _, values: cls(**values)
