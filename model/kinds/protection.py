"""Fuses and breakers."""

from __future__ import annotations

from model.kinds import sources as src
from model.kinds.body import Body, FusePath, Terminal
from model.kinds.kind import Kind, RatingSpec


def _fuse(
    key: str,
    title: str,
    form: str,
    rating_a: float,
    breaking_a: float,
    band: str,
    source: str,
    aliases: tuple[str, ...],
    more: tuple[RatingSpec, ...] = (),
) -> Kind:
    """Return a kind of fuse; `band` names its operating-time table."""
    body = Body(
        (Terminal("1", form, "left"), Terminal("2", form, "right")),
        (FusePath(name="element", a="1", b="2"),),
    )
    ratings = (
        RatingSpec("rating_a", "rating", "current", rating_a, src.COMMON),
        RatingSpec("fuse_ohm", "resistance at rated current", "resistance", None, source),
        RatingSpec("breaking_a", "breaking capacity", "current", breaking_a, source),
        RatingSpec("max_v", "highest voltage", "voltage", 32.0, source),
        RatingSpec("band", "operating-time band", "text", band, source),
        *more,
    )
    return Kind(
        key,
        title,
        "protection",
        "F",
        body,
        ratings,
        aliases=aliases,
        about="Protects the wire behind it; stands as near the source as can be.",
    )


BREAKER_TYPE = RatingSpec(
    "breaker_type",
    "action",
    "choice",
    "III",
    "SAE J553: I resets itself, II stays open while live, III is reset by hand",
    choices=("I", "II", "III"),
)
KINDS = (
    _fuse(
        "fuse-blade",
        "Blade fuse",
        "blade",
        15.0,
        1000.0,
        "blade",
        "ISO 8820-3 (1000 A, 32 V); " + src.BLADE_DROP,
        ("fuse", "blade fuse"),
    ),
    _fuse(
        "fuse-strip",
        "Strip fuse",
        "stud",
        60.0,
        2000.0,
        "strip",
        "ISO 8820-5 (2000 A, 32 V); " + src.MEMORY,
        ("strip fuse", "bolt-down fuse"),
    ),
    _fuse(
        "fuse-glass",
        "Glass fuse",
        "blade",
        10.0,
        200.0,
        "glass",
        "UL 248-14 times; breaking capacity " + src.MEMORY,
        ("glass fuse", "cartridge fuse"),
    ),
    _fuse(
        "breaker",
        "Circuit breaker",
        "stud",
        20.0,
        1000.0,
        "breaker",
        "SAE J553 types; values " + src.MEMORY,
        ("breaker", "circuit breaker"),
        (BREAKER_TYPE,),
    ),
)
