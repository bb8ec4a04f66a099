"""Other forms of fuse, where none of the form that is there fits.

A blade fuse ends at 40 A and breaks 1000 A; the large blade reaches 80 A and bears a start for
longer, the bolted strip 250 A and 2000 A. They are tried in this order, the smallest form first.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from checks.stock import ratings_a
from model.circuit import Circuit, Part
from model.lookup import word
from model.tables.fuses import style


@dataclass(frozen=True, slots=True)
class Form:
    """A form of fuse: its band, its kind of part and what people call it."""

    band: str
    kind: str

    @property
    def title(self) -> str:
        """What people call it, as it stands in a sentence."""
        title = style(self.band).title
        return title[0].lower() + title[1:]


@dataclass(frozen=True, slots=True)
class OtherFuse:
    """A rating of another form than the one that is there."""

    form: Form
    rating_a: float


FORMS = (
    Form("blade-mini", "fuse-blade"),
    Form("blade", "fuse-blade"),
    Form("blade-maxi", "fuse-blade"),
    Form("strip", "fuse-strip"),
)
AFTER = {"glass": 1, "blade-mini": 1, "blade": 2, "blade-maxi": 3}
"""Where in `FORMS` to begin after a form."""


def forms_after(circuit: Circuit, fuse: Part) -> tuple[Form, ...]:
    """Return the forms to try after a fuse's own; none for one that sits in a box of its form."""
    band = word(circuit, fuse, "band")
    if fuse.host or band not in AFTER:
        return ()
    return FORMS[AFTER[band] :]


def fuses_of(form: Form) -> tuple[OtherFuse, ...]:
    """Return what is sold of a form, the smallest first."""
    return tuple(OtherFuse(form, a) for a in ratings_a(form.band))


def with_fuse(fuse: Part, value: OtherFuse) -> Part:
    """Return a fuse as one of another form; what was stated of the old element is gone."""
    gone = ("fuse_ohm", "breaking_a", "band", "rating_a")
    ratings = {k: v for k, v in fuse.ratings.items() if k not in gone}
    ratings["rating_a"] = value.rating_a
    if value.form.band not in ("blade", "strip"):
        ratings["band"] = value.form.band
    return replace(fuse, kind=value.form.kind, type="", ratings=ratings)
