"""Small pieces of sentences that several rules need."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

MOST_NAMES = 6


def listed(names: Iterable[str], most: int = MOST_NAMES) -> str:
    """Return names as people list them: "W1, W2 and W3", long lists cut with a number."""
    found: Sequence[str] = list(dict.fromkeys(names))
    if len(found) > most:
        return f"{', '.join(found[: most - 1])} and {len(found) - most + 1} more"
    if len(found) < 2:
        return "".join(found)
    return f"{', '.join(found[:-1])} and {found[-1]}"
