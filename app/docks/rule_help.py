"""The help of a rule, from its own text: what it finds, why it matters, how to fix it."""

from __future__ import annotations

from html import escape

from app.tr import tr
from checks.rule import SECTIONS, rules


def sections(text: str) -> list[tuple[str, str]]:
    """Return the sections of a rule's help in order, each as its title and one running text."""
    found: list[tuple[str, list[str]]] = []
    for line in text.splitlines():
        if line.strip() in SECTIONS and not line.startswith(" "):
            found.append((line.strip(), []))
        elif found and line.strip():
            found[-1][1].append(line.strip())
    return [(title, " ".join(lines)) for title, lines in found]


def help_of(rule: str) -> str:
    """Return a rule's help as rich text, a sentence where the rule is not known."""
    known = next((r for r in rules() if r.name == rule), None)
    if known is None:
        return escape(tr("There is no help on “{rule}”.", rule=rule))
    head = f"<p><b>{escape(tr(known.help.splitlines()[0]))}</b> ({escape(known.name)})</p>"
    found = [(tr(title), tr(text)) for title, text in sections(known.help)]
    rest = (f"<p><b>{escape(title)}.</b> {escape(text)}</p>" for title, text in found)
    return head + "".join(rest)
