"""What the Tray lists, as data: favourites, last used, parts of one's own, families, templates."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from app.gallery.templates import TEMPLATES
from model.circuit import Circuit
from model.kinds import KINDS, Kind

FAVOURITES, USED = "tray/favourites", "tray/used"
"""Keys under which the program remembers what is starred and what was placed last."""
MOST_USED = 12
SHOWN_USED = 4
FAMILIES = {
    "supply": "Supply",
    "protection": "Protection",
    "control": "Controls",
    "relay": "Relays",
    "load": "Loads",
    "joint": "Joints",
    "ground": "Ground",
    "diode": "Diode and resistor",
}
OWN = "Your own parts"


@dataclass(frozen=True, slots=True)
class TrayRow:
    """A row: the key of a kind or template with all the words it is found by; "" heads a group."""

    key: str
    title: str
    picture: str = ""
    about: str = ""
    words: tuple[str, ...] = ()
    starred: bool = False


def tray_rows(circuit: Circuit, starred: Sequence[str], used: Sequence[str]) -> list[TrayRow]:
    """Return the rows of the Tray in order, headings included."""
    known = {r.key: r for r in _kinds(circuit, set(starred))}
    own = [known[k] for k in circuit.own_kinds if k in known]
    groups = [
        ("Favourites", [known[k] for k in starred if k in known]),
        ("Last used", [known[k] for k in used if k in known][:SHOWN_USED]),
        (OWN, own),
    ]
    for family, title in FAMILIES.items():
        groups.append((title, [known[k] for k, kind in KINDS.items() if kind.family == family]))
    groups.append(("Templates", [known[t.key] for t in TEMPLATES]))
    rows: list[TrayRow] = []
    for title, group in groups:
        rows += [TrayRow("", title), *group] if group else []
    return rows


def _kinds(circuit: Circuit, starred: set[str]) -> Iterable[TrayRow]:
    """Yield a row for every kind, the program's and those of the circuit, and every template."""
    for kind in (*KINDS.values(), *(o.kind for o in circuit.own_kinds.values())):
        yield _row(kind, kind.key in starred)
    for made in TEMPLATES:
        yield TrayRow(made.key, made.title, made.picture, made.about, (), made.key in starred)


def _row(kind: Kind, starred: bool) -> TrayRow:
    title = kind.title or kind.key
    return TrayRow(kind.key, title, kind.picture, kind.about or title, kind.aliases, starred)
