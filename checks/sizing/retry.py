"""The search, and again with other forms of fuse where none of a form fits."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from checks.case import Case
from checks.sizing.advice import FUSE, Stuck, Tried
from checks.sizing.forms import FORMS, Form, forms_after, fuses_of
from checks.sizing.items import Item
from checks.sizing.search import Key, Search
from model.lookup import word
from model.tables.fuses import fuse_styles, style

Others = dict[Key, tuple[Tried, ...]]


def search_forms(
    case: Case, items: tuple[Item, ...], chosen: frozenset[str], go_on: Callable[[], bool]
) -> tuple[Search, Others]:
    """Return a search that has run, and the forms of fuses that do not fit, with the reason.

    Where no rating of a fuse's form fits, the next form is tried with all of its ratings, and so
    on; where no form does, the fuse stays of its own form and what stands against it is told.

    Parameters
    ----------
    case, items, chosen, go_on
        As `Search` takes them.
    """
    first = _run(case, items, chosen, go_on)
    best, others = first, Others()
    for turn in range(len(FORMS)):
        forms = {i.key: f for i in best.items if (f := _next(case, first, best, i, turn))}
        if not forms:
            break
        others |= {k: (*others.get(k, ()), _failed(case, best, k)) for k in forms}
        tried = _run(case, _with_forms(best.items, forms), chosen, go_on)
        if set(tried.stuck) - set(best.stuck):
            break  # it stands in the way of something else
        best = tried
    return _settled(case, first, best, others, chosen, go_on)


def _run(
    case: Case, items: tuple[Item, ...], chosen: frozenset[str], go_on: Callable[[], bool]
) -> Search:
    search = Search(case, items, chosen, go_on)
    search.run()
    return search


def _next(case: Case, first: Search, best: Search, item: Item, turn: int) -> Form | None:
    """Return the form to try next for a fuse, None where it fits or there is no other."""
    if item.kind != FUSE or not best.would_another_form_help(item):
        return None
    if turn and item in first.items:
        return None  # it was not among the first, and need not begin now
    forms = forms_after(case.circuit, case.circuit.parts[item.part])
    return forms[turn] if turn < len(forms) else None


def _with_forms(items: tuple[Item, ...], forms: dict[Key, Form]) -> tuple[Item, ...]:
    """Return the items, fuses with all ratings of another form."""
    return tuple(replace(i, values=fuses_of(forms[i.key])) if i.key in forms else i for i in items)


def _failed(case: Case, search: Search, key: Key) -> Tried:
    """Return why a form does not fit, as a candidate that fails."""
    item = next(i for i in search.items if i.key == key)
    stuck = search.stuck.get(key) or next(iter(search.stuck.values()))
    finding = search.cause.get(key) or next(iter(search.cause.values()))
    low, high = (getattr(v, "rating_a", v) for v in (item.values[0], item.values[-1]))
    return Tried(f"{low:g} to {high:g} A, {_form(case, item)}", finding.rule, stuck.text)


def _form(case: Case, item: Item) -> str:
    """Return the form that a fuse's values are of."""
    value = item.values[0]
    band = word(case.circuit, case.circuit.parts[item.part], "band")
    title = getattr(getattr(value, "form", None), "title", "")
    if title or band not in fuse_styles():
        return title or "of its own form"
    own = style(band).title
    return own[0].lower() + own[1:]


def _settled(
    case: Case,
    first: Search,
    best: Search,
    others: Others,
    chosen: frozenset[str],
    go_on: Callable[[], bool],
) -> tuple[Search, Others]:
    """Return the best search, with fuses that fit in no form back in their own."""
    if best is first:
        return first, {}
    own = {i.key: i for i in first.items}
    moved = [i for i in best.items if i != own[i.key]]
    back = {i.key for i in moved if best.would_another_form_help(i) or i.key in best.stuck}
    if not back:
        return best, {k: t for k, t in others.items() if k not in best.stuck}
    final = _run(case, tuple(own[i.key] if i.key in back else i for i in best.items), chosen, go_on)
    for key in back & final.stuck.keys():
        said, last = final.stuck[key], _failed(case, best, key)
        final.stuck[key] = Stuck(
            said.needs, f"{said.against} Nor does one of {last.what}: {last.why}"
        )
    return final, {k: t for k, t in others.items() if k not in back}
