"""A kind of the user's own as fields of the file: terminals, elements, positions, ratings."""

from __future__ import annotations

from dataclasses import fields as dataclass_fields
from operator import attrgetter
from typing import Any

from model.circuit import Constants, OwnKind
from model.file.codecs import ID, KEY, NAME, NAMES, NODE, NOTE, Codec, choice, listed, mapped, pair
from model.file.fields import Field, Spec, field, made_by
from model.file.part_fields import DUTY, POSITIONS, RATING
from model.file.reader import Reader
from model.kinds import body as bodies
from model.kinds.body import Body, Element, Slot, Terminal
from model.kinds.kind import Kind, RatingSpec

ELEMENTS: dict[str, type[Element]] = {
    "contact": bodies.Contact,
    "coil": bodies.Coil,
    "resistance": bodies.Resistance,
    "diode": bodies.DiodePath,
    "fuse": bodies.FusePath,
    "load": bodies.LoadPath,
    "source": bodies.SourcePath,
    "bond": bodies.Bond,
    "way": bodies.Way,
    "shell": bodies.ShellPath,
}
"""Name in the file of each sort of element."""
TYPE_OF = {cls: name for name, cls in ELEMENTS.items()}
QUANTITIES = (
    "current",
    "voltage",
    "resistance",
    "time",
    "power",
    "temperature",
    "pressure",
    "share",
    "count",
    "frequency",
    "choice",
    "text",
)
FAMILIES = ("own", "supply", "protection", "control", "relay", "load", "diode", "joint", "ground")
_SPECIAL = {
    "when": pair(NAME, NAME),
    "closed": NAMES,
    "action": choice("hold", "set", "reset", "on-delay", "off-delay", "pulse", "flash"),
    "source": choice("battery", "alternator"),
}
_NEEDED: dict[type[Element], dict[str, Any]] = {
    bodies.Contact: {"closed": ()},
    bodies.Coil: {"moves": ""},
}


def _element_spec(cls: type[Element]) -> Spec:
    """Return the fields of one sort of element: type, a, b, and its own."""
    own = [f.name for f in dataclass_fields(cls) if f.name not in ("name", "a", "b", "when")]
    needed = _NEEDED.get(cls, {})
    ends: dict[str, Any] = {"name": "", "a": "", "b": ""}
    blank = cls(**(ends | needed))
    return Spec(
        made_by(dict),
        blank,
        field("type", choice(*ELEMENTS), get=lambda e: TYPE_OF[type(e)]),
        field("a", NODE),
        field("b", NODE),
        *(field(name, _SPECIAL.get(name, NAME)) for name in (*own, "when")),
        required=("type", "a", "b", *needed),
    )


_SPECS = {name: _element_spec(cls) for name, cls in ELEMENTS.items()}


def _read_element(reader: Reader, raw: Any) -> Element:
    sort = raw.get("type") if isinstance(raw, dict) else None
    if not isinstance(sort, str) or sort not in ELEMENTS:
        raise reader.wrong(
            "this element has no known “type”", f"write one of {', '.join(ELEMENTS)}"
        )
    values = _SPECS[sort].read(reader, raw)
    del values["type"]
    return ELEMENTS[sort](name=str(reader.path[-1]), **values)


def _write_element(element: Element) -> dict[str, Any]:
    return _SPECS[TYPE_OF[type(element)]].write(element)


_TERMINAL = Spec(
    made_by(dict),
    Terminal(""),
    field("form", NAME),
    field("side", choice("left", "right", "top", "bottom")),
    field("meaning", NAME),
)


def _read_terminals(reader: Reader, raw: Any) -> tuple[Terminal, ...]:
    made = []
    for node, values in _TERMINALS.read(reader, raw):
        key, _, face = node.partition("/")
        made.append(Terminal(key, face=face, **values))
    return tuple(made)


_TERMINALS = mapped(NODE, _TERMINAL.codec())
_NAMED = mapped(NAME, Codec(_read_element, _write_element))
_RATING = Spec(
    made_by(dict),
    RatingSpec("", "", "", None, ""),
    field("title", NAME),
    field("quantity", choice(*QUANTITIES)),
    field("default", RATING),
    field("default_24", RATING),
    field("source", NAME),
    field("choices", NAMES),
    field("constant", choice("", *(f.name for f in dataclass_fields(Constants)))),
    field("follows", NAME),
    field("table", choice("", "suppression")),
    required=("quantity",),
)
_SPEC_PAIRS = mapped(KEY, _RATING.codec())
_SLOT = Spec(
    made_by(dict), Slot("", ()), field("joins", listed(pair(KEY, NAME))), field("takes", NAME)
)
_SLOT_PAIRS = mapped(NAME, _SLOT.codec())


def _read_specs(reader: Reader, raw: Any) -> tuple[RatingSpec, ...]:
    blank = {"title": "", "default": None, "source": ""}
    pairs = _SPEC_PAIRS.read(reader, raw)
    return tuple(RatingSpec(key, **(blank | values)) for key, values in pairs)


def _read_slots(reader: Reader, raw: Any) -> tuple[Slot, ...]:
    return tuple(Slot(n, **({"joins": ()} | v)) for n, v in _SLOT_PAIRS.read(reader, raw))


def _of_kind(key: str, codec: Codec, attr: str = "") -> Field:
    """Return a field that comes from the kind, or from its body."""
    name = attr or key
    return field(key, codec, name.rpartition(".")[2], attrgetter(f"kind.{name}"))


def _own_kind(_: Reader, values: dict[str, Any]) -> OwnKind:
    """Build a kind from fields that stand side by side in the file."""
    key, extra = values.pop("id"), values.pop("extra", {})
    inner = {n: values.pop(n) for n in _BODY if n in values}
    body = Body(**({"terminals": ()} | inner))
    blank = {"title": "", "family": "own", "letter": "X"}
    return OwnKind(key, Kind(key=key, body=body, **(blank | values)), extra)


_BODY = ("terminals", "elements", "positions", "rest", "slots")
OWN_KIND = Spec(
    _own_kind,
    OwnKind("", Kind("", "", "own", "X", Body(()))),
    field("id", ID),
    _of_kind("title", NAME),
    _of_kind("family", choice(*FAMILIES)),
    _of_kind("letter", NAME),
    _of_kind(
        "terminals",
        Codec(_read_terminals, lambda ts: _TERMINALS.write([(t.node, t) for t in ts])),
        "body.terminals",
    ),
    _of_kind(
        "elements",
        Codec(
            lambda reader, raw: tuple(e for _, e in _NAMED.read(reader, raw)),
            lambda elements: _NAMED.write([(e.name, e) for e in elements]),
        ),
        "body.elements",
    ),
    _of_kind("positions", POSITIONS, "body.positions"),
    _of_kind("rest", NAME, "body.rest"),
    _of_kind(
        "slots",
        Codec(_read_slots, lambda slots: _SLOT_PAIRS.write([(s.name, s) for s in slots])),
        "body.slots",
    ),
    _of_kind(
        "ratings",
        Codec(_read_specs, lambda specs: _SPEC_PAIRS.write([(r.key, r) for r in specs])),
    ),
    _of_kind("duty", DUTY),
    _of_kind("shape", choice("", "table")),
    _of_kind("aliases", NAMES),
    _of_kind("about", NOTE),
    _of_kind("icon", NAME),
    required=("id",),
    keeps=True,
)
