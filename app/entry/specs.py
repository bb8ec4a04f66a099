"""The ratings of a kind as a line sees them: which number means which, and how they read."""

from __future__ import annotations

import re
from collections.abc import Mapping

from app.entry.errors import Refused, listed
from app.entry.values import Measure
from app.entry.words import Word
from model.kinds import Kind, RatingSpec, Value
from model.units import show

MAIN = {
    "current": ("rating_a", "current_a", "main_current_a", "limit_a", "contact_a", "way_a"),
    "voltage": ("voltage_v", "at_v", "main_at_v", "coil_v", "reverse_v", "max_v"),
    "resistance": ("resistance_ohm", "main_resistance_ohm", "coil_ohm", "inner_ohm", "fuse_ohm"),
    "power": ("power_w",),
    "time": ("time_s", "start_s", "main_start_s", "operate_s"),
    "frequency": ("rate_hz",),
    "share": ("acts_at", "charge"),
    "count": ("rings", "start_multiple", "main_start_multiple"),
}
"""Which rating a number without a word before it means, by quantity, the first there is."""
PLAIN = frozenset(("rating", "current", "resistance", "voltage", "power", "time", "rate"))
"""Words before a value that go without saying."""


def shown(kind: Kind, ratings: Mapping[str, Value]) -> str:
    """Return ratings as a line reads them: "coil 85 Ω, contact 30 A"."""
    return ", ".join(_shown(kind.specs[key], value) for key, value in ratings.items())


def main_spec(kind: Kind, quantity: str) -> RatingSpec | None:
    """Return the rating that a number of a quantity means, None where the kind has none."""
    for key in MAIN.get(quantity, ()):
        if key in kind.specs and kind.specs[key].quantity == quantity:
            return kind.specs[key]
    return next((s for s in kind.ratings if s.quantity == quantity), None)


def units_for(kind: Kind) -> list[str]:
    """Return the quantities a number can have at a part of this kind, by their main ratings."""
    names = [q for q, keys in MAIN.items() if any(k in kind.specs for k in keys)]
    return [*names, "power"] if "power" not in names and has_current(kind) else names


def has_quantity(kind: Kind, quantity: str) -> bool:
    return any(s.quantity == quantity for s in kind.ratings)


def has_current(kind: Kind) -> bool:
    return "current_a" in kind.specs or "main_current_a" in kind.specs


def choice_in(kind: Kind, label: str, word: Word) -> tuple[str, str] | None:
    """Return (rating key, choice) when a word is a choice of the kind, under a label or alone."""
    for spec in kind.ratings:
        if spec.quantity != "choice" or (label and not bears(spec, label)):
            continue
        for choice in spec.choices:
            if word.text.casefold() in (choice.casefold(), choice.casefold().split()[0]):
                return spec.key, choice
    return None


def bears_label(kind: Kind, text: str) -> bool:
    """Tell whether a word names one of the kind's ratings."""
    return any(bears(spec, text.casefold()) for spec in kind.ratings)


def bears(spec: RatingSpec, label: str) -> bool:
    said = re.split(r"[^\w]+", spec.title.casefold())
    stem = spec.key.rsplit("_", 1)[0] if "_" in spec.key else spec.key
    return label in stem.split("_") or (len(label) > 2 and label in said)


def no_rating(kind: Kind, number: Measure) -> Refused:
    return Refused(
        f"“{number.text}” fits no rating of a {_lower(kind.title)}: {takes(kind)}.",
        number.span,
        fits(kind),
    )


def takes(kind: Kind) -> str:
    examples = fits(kind)
    return f"it takes {listed(examples)}" if examples else "it has no ratings"


def fits(kind: Kind) -> list[str]:
    """Return an example of each quantity the kind takes, at its default where it has one."""
    made = []
    for quantity in units_for(kind):
        spec = main_spec(kind, quantity)
        if spec is not None and isinstance(spec.default, float | int) and quantity != "count":
            made.append(show(spec.default, quantity))
        elif quantity == "power":
            made.append("21 W")
    return [*made, "6 ways"] if kind.shape == "ways" else made


def _lower(title: str) -> str:
    return title if title[:2].isupper() else title[:1].lower() + title[1:]


def _shown(spec: RatingSpec, value: Value) -> str:
    """Return a value with the words that would set it, without those that go without saying."""
    text = show(float(value), spec.quantity) if isinstance(value, float | int) else str(value)
    stem = spec.key.rsplit("_", 1)[0].replace("_", " ")
    return text if stem in PLAIN else f"{stem} {text}"
