"""What Details shows of the circuit as a whole, while nothing is selected."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from app.docks.fields import Field, Setter
from app.docks.lying_fields import lying_fields
from app.tr import tr
from model.changes import Change
from model.circuit import Chosen, Circuit, Conditions, Settings
from model.edits import set_settings
from model.own_tables import choices, describe
from model.tables.catalog import Entry
from model.tables.practice import drop_limit
from model.units import parse, show

SMALL_CRAFT = "standards for small craft"
TEXTS = {
    "title": "Title",
    "vehicle": "Vehicle",
    "author": "Drawn by",
    "revision": "Revision",
    "date": "Date",
    "note": "Note",
}


def circuit_fields(circuit: Circuit) -> list[Field]:
    """Return the rows of the circuit itself."""
    settings = circuit.settings
    texts = [Field(k, t, getattr(settings, k), _Text(k)) for k, t in TEXTS.items()]
    nominal = show(settings.nominal_v, "voltage")
    return [
        *texts,
        _choice("nominal_v", "Nominal voltage", nominal, "12 V", _Nominal(), ("24 V",), ""),
        *_conditions(settings),
        *_limits(settings),
        _table(circuit, "copper", "Copper resistance", settings.chosen.copper),
        _table(circuit, "ampacity", "Current of wires", settings.chosen.ampacity),
        _table(circuit, "bundle", "Wires in bundles", settings.chosen.bundle),
        *lying_fields(circuit),
    ]


def _conditions(settings: Settings) -> list[Field]:
    """Return the rows of the conditions the circuit is looked at under."""
    held = settings.conditions
    rows = (
        ("temperature_c", "Copper of coils and wires", show(held.temperature_c, "temperature")),
        ("zone_c", "Surroundings in no zone", show(held.zone_c, "temperature")),
    )
    made = [Field(k, t, v, _Temperature(k), group="Conditions") for k, t, v in rows]
    plain = Conditions()
    choices = (
        ("supply", "Battery at opening", ("resting", "charging", "cranking")),
        ("engine", "Engine at opening", ("stopped", "cranking", "running")),
    )
    for key, title, words in choices:
        default, now = getattr(plain, key), getattr(held, key)
        others = tuple(w for w in words if w != default)
        made.append(_choice(key, title, now, default, _Condition(key), others, "Conditions"))
    follows = "yes" if held.engine_follows else "no"
    title = "Engine stops without its loads"
    made.append(_choice("engine_follows", title, follows, "yes", _Follows(), ("no",), "Conditions"))
    return made


def _limits(settings: Settings) -> list[Field]:
    """Return the rows of what loads may lose on their way, of the nominal voltage."""
    made = []
    for duty, title in (
        ("critical", "Critical loads may lose"),
        ("ordinary", "Other loads may lose"),
    ):
        key, table = f"{duty}_drop_share", drop_limit(duty)
        own = getattr(settings.constants, key)
        default = show(table.share or 0.0, "share")
        value = "" if own is None else show(own, "share")
        made.append(Field(key, title, value, _Limit(key), default, SMALL_CRAFT, group="Limits"))
    return made


def _choice(
    key: str,
    title: str,
    now: str,
    default: str,
    setter: Setter,
    others: tuple[str, ...],
    group: str,
    note: str = "",
) -> Field:
    """Return a row to choose from, the default being its first choice."""
    value, source = "" if now == default else now, "that of a new circuit"
    return Field(key, title, value, setter, default, source, others, group, note)


def _table(circuit: Circuit, kind: str, title: str, chosen: str) -> Field:
    """Return the row of a table to choose, with its title, source and standing below."""
    default = getattr(Chosen(), kind)
    entry = describe(circuit, kind, chosen)
    note = _told(entry) if entry else "bundles do not count"
    others = tuple(i for i in choices(circuit, kind) if i != default)
    return _choice(kind, title, chosen, default, _Choose(kind), others, "Tables", note)


def _told(entry: Entry) -> str:
    """Return a table's title, source and standing."""
    return f"{tr(entry.title)}. {tr(entry.source)} ({tr(entry.standing)})"


def _settings(circuit: Circuit, text: str, **values: Any) -> Change | None:
    new = replace(circuit.settings, **values)
    return None if new == circuit.settings else set_settings(circuit, new, text)


@dataclass(frozen=True, slots=True)
class _Text:
    key: str

    def __call__(self, circuit: Circuit, text: str) -> Change | None:
        return _settings(circuit, f"Change {self.key}", **{self.key: text})


@dataclass(frozen=True, slots=True)
class _Nominal:
    def __call__(self, circuit: Circuit, text: str) -> Change | None:
        return _settings(
            circuit, "Change nominal voltage", nominal_v=parse(text or "12 V", "voltage")
        )


@dataclass(frozen=True, slots=True)
class _Condition:
    key: str

    def __call__(self, circuit: Circuit, text: str) -> Change | None:
        value: dict[str, Any] = {self.key: text or getattr(Conditions(), self.key)}
        conditions = replace(circuit.settings.conditions, **value)
        return _settings(circuit, f"Change {self.key}", conditions=conditions)


@dataclass(frozen=True, slots=True)
class _Temperature:
    key: str

    def __call__(self, circuit: Circuit, text: str) -> Change | None:
        value: dict[str, Any] = {self.key: parse(text, "temperature")}
        conditions = replace(circuit.settings.conditions, **value)
        return _settings(circuit, "Change temperature", conditions=conditions)


@dataclass(frozen=True, slots=True)
class _Limit:
    key: str

    def __call__(self, circuit: Circuit, text: str) -> Change | None:
        value: dict[str, Any] = {self.key: parse(text, "share") if text else None}
        constants = replace(circuit.settings.constants, **value)
        return _settings(circuit, "Change what loads may lose", constants=constants)


@dataclass(frozen=True, slots=True)
class _Follows:
    def __call__(self, circuit: Circuit, text: str) -> Change | None:
        conditions = replace(circuit.settings.conditions, engine_follows=text != "no")
        return _settings(circuit, "Change how the engine stops", conditions=conditions)


@dataclass(frozen=True, slots=True)
class _Choose:
    kind: str

    def __call__(self, circuit: Circuit, text: str) -> Change | None:
        value: dict[str, Any] = {self.kind: text or getattr(Chosen(), self.kind)}
        chosen = replace(circuit.settings.chosen, **value)
        return _settings(circuit, f"Choose the table {value[self.kind]}", chosen=chosen)
