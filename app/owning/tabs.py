"""The four tables of the form: terminals, what is inside, positions, ratings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QTabWidget, QVBoxLayout, QWidget

from app.docks.fields import written
from app.owning.draft import OwnDraft, PositionRow, with_default
from app.owning.elements import ACTIONS, DRAWS, OTHER, SORTS, ElementRow
from app.owning.rows import Column, RowTable
from app.tr import tr
from model.errors import ModelError
from model.kinds.body import Terminal
from model.kinds.kind import RatingSpec, Value
from model.units import parse

FORMS = ("blade", "ring", "pin", "splice", "stud")
SIDES = ("left", "right", "top", "bottom")
TERMINALS = (
    Column("Name"),
    Column("Form", "blade", FORMS, narrow=True),
    Column("Side", "left", SIDES, narrow=True),
    Column("Meaning"),
)
ELEMENTS = (
    Column("Name"),
    Column("What", "contact", tuple(SORTS), narrow=True),
    Column("From"),
    Column("To"),
    Column("Does"),
)
POSITIONS = (
    Column("Name"),
    Column("Closes, as 1-2, 1-3"),
    Column("Springs to"),
    Column("Latches", "", ("", "yes")),
)
RATINGS = (
    Column("Rating", fixed=True),
    Column("In 12 V", narrow=True),
    Column("In 24 V", narrow=True),
    Column("Source", fixed=True),
)
DOES = (
    "Closed in: “coil in”, “coil out”, or positions such as “ON, START”. A coil: "
    f"{', '.join(ACTIONS)}. A load: {', '.join(DRAWS)}."
)


class Tabs(QTabWidget):
    """Shows the tables of a draft and reads them back."""

    changed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.terminals = RowTable("Terminals", TERMINALS)
        self.elements = RowTable("Inside", ELEMENTS)
        self.positions = RowTable("Positions", POSITIONS)
        self.ratings = RowTable("Ratings", RATINGS, adds=False)
        self.elements.setToolTip(tr(DOES))
        for title, table in (
            ("Terminals", self.terminals),
            ("Inside", self.elements),
            ("Positions", self.positions),
            ("Ratings", self.ratings),
        ):
            self.addTab(_page(table), tr(title))
            table.changed.connect(self.changed)
        self.setAccessibleName(tr("Tables of the part"))
        self.setDocumentMode(True)

    def fill(self, draft: OwnDraft) -> None:
        """Show a draft."""
        self.terminals.fill([((t.node, t.form, t.side, t.meaning), t) for t in draft.terminals])
        self.elements.fill([((e.name, e.sort, e.a, e.b, e.does), e.base) for e in draft.elements])
        self.positions.fill(
            [((p.name, p.closes, p.springs_to, p.latches), None) for p in draft.positions]
        )
        self.fill_ratings(draft.ratings)

    def fill_ratings(self, specs: Sequence[RatingSpec]) -> None:
        """Show ratings, those that the elements need among them."""
        rows = [((s.title, _default(s), _default(s, True), s.source), s) for s in specs]
        held = [base for _, base in self.ratings.rows()]
        if [s.key for s in held] != [s.key for _, s in rows]:
            self.ratings.fill(rows)
        elif held != [s for _, s in rows]:
            self.ratings.become(rows)

    def unread(self) -> list[str]:
        """Return a sentence for every default that does not read."""
        return [said for texts, spec in self.ratings.rows() for said in _unread(texts, spec)]

    def read(self, head: OwnDraft) -> OwnDraft:
        """Return a draft with what the tables hold."""
        return replace(
            head,
            terminals=tuple(_terminal(texts, base) for texts, base in self.terminals.rows()),
            elements=tuple(
                ElementRow(t[0], t[1] or OTHER, t[2], t[3], t[4], base)
                for t, base in self.elements.rows()
            ),
            positions=tuple(PositionRow(*t) for t, _ in self.positions.rows()),
            ratings=tuple(_rating(t, base) for t, base in self.ratings.rows()),
        )


def _page(table: RowTable) -> QWidget:
    page = QWidget()
    layout = QVBoxLayout(page)
    layout.setContentsMargins(0, 0, 0, 0)
    layout.addWidget(table)
    return page


def _terminal(texts: tuple[str, ...], base: Terminal | None) -> Terminal:
    key, _, face = texts[0].partition("/")
    made = Terminal(key, texts[1] or "blade", texts[2] or "left", face, texts[3])
    return base if base == made else made


def _default(spec: RatingSpec, at_24: bool = False) -> str:
    return written(spec.default_24 if at_24 else spec.default, spec.quantity)


def _rating(texts: tuple[str, ...], spec: RatingSpec) -> RatingSpec:
    """Return a rating with the defaults typed; a text that does not read leaves the old one."""
    for text, at_24 in ((texts[1], False), (texts[2], True)):
        if text != _default(spec, at_24):
            spec = with_default(spec, _value(text, spec, at_24), at_24)
    return spec


def _unread(texts: tuple[str, ...], spec: RatingSpec) -> Iterator[str]:
    """Yield why a default does not read."""
    for text in texts[1:3]:
        words = spec.quantity in ("choice", "text")
        if words and text and spec.choices and text not in spec.choices:
            yield f"{spec.title}: “{text}” is none of {', '.join(spec.choices)}."
        elif text and not words:
            try:
                parse(text, spec.quantity)
            except ModelError as error:
                yield f"{spec.title}: {error}"


def _value(text: str, spec: RatingSpec, at_24: bool) -> Value:
    old = spec.default_24 if at_24 else spec.default
    if not text:
        return None
    if spec.quantity in ("choice", "text"):
        return text if not spec.choices or text in spec.choices else old
    try:
        return parse(text, spec.quantity)
    except ModelError:
        return old
