"""The ratings that the elements of a part of one's own need, with the usual defaults."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from model.kinds.body import Coil, Contact, DiodePath, Element, LoadPath, Resistance
from model.kinds.kind import RatingSpec
from model.kinds.specs import coil_specs, contact_specs, diode_specs, load_specs, switch_specs

FIXED_OHM = 100.0
"""A start for a resistance that nobody stated yet."""
NOT_STATED = "a start, to be replaced by the real value"


def needed_specs(elements: Iterable[Element], controls: bool) -> Iterator[RatingSpec]:
    """Yield the ratings that elements name, the usual ones of their sort.

    Parameters
    ----------
    controls
        The part has positions, whose pairs are contacts.
    """
    if controls:
        yield from switch_specs()
    for element in elements:
        yield from _specs(element)


def _specs(element: Element) -> Iterable[RatingSpec]:
    if isinstance(element, Contact):
        return _contact(element)
    if isinstance(element, Coil):
        return _coil(element)
    if isinstance(element, DiodePath):
        return _renamed(diode_specs(), ("forward_v", element.volt), ("forward_ohm", element.ohm))
    if isinstance(element, LoadPath):
        law = "motor" if element.draws == "motor" else "resistor"
        law = "filament" if element.draws == "lamp" else law
        return load_specs(1.0, law, 1.0, 0.0, NOT_STATED, prefix=element.prefix)
    if isinstance(element, Resistance):
        title = f"{element.name}, resistance"
        return (RatingSpec(element.ohm, title, "resistance", FIXED_OHM, NOT_STATED),)
    return ()


def _contact(element: Contact) -> Iterable[RatingSpec]:
    """Return the ratings of a contact: those of a relay's where a coil moves it."""
    specs = switch_specs()
    if element.by:
        specs = contact_specs(30.0, 15.0, "relay_contact_ohm", 0.003)
    names = (("contact_a", element.rating), ("contact_ohm", element.ohm))
    return _renamed(specs, *names)


def _coil(element: Coil) -> Iterable[RatingSpec]:
    """Return the ratings of a coil; suppression is an element of its own here."""
    plain = [s for s in coil_specs() if not s.key.startswith("suppression")]
    return _renamed(plain, ("coil_ohm", element.ohm))


def _renamed(specs: Iterable[RatingSpec], *names: tuple[str, str]) -> list[RatingSpec]:
    """Return ratings under the keys that an element names."""
    new = dict(names)
    return [replace(s, key=new.get(s.key, s.key)) for s in specs]
