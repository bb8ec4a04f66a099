"""Themes: text reads on its ground, severities differ by shape, insulation has every letter."""

from __future__ import annotations

import pytest

pytest.importorskip("PySide6")

from PySide6.QtGui import QColor

from app.theme import DARK, INSULATION, LIGHT, PROJECTOR, THEMES, Theme, insulation
from assets.icons import icon_svg
from checks.finding import SEVERITIES
from model.layout.sizes import ROOMY

PAIRS = (
    ("ink", "card"), ("ink", "sheet"), ("ink", "panel"), ("ink", "label"), ("tag_ink", "tag"),
    ("ink_soft", "sheet"), ("ink_soft", "panel"),
)  # fmt: skip
# IEC 60757: the letters of the colours (BK black … TQ turquoise, GD gold, SR silver).
IEC_60757 = ["BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK", "GD", "TQ", "SR"]


def _luminance(colour: QColor) -> float:
    """Return the relative luminance (WCAG 2.1, definition of contrast ratio)."""
    parts = [c / 255 for c in (colour.red(), colour.green(), colour.blue())]
    linear = [c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def _contrast(a: QColor, b: QColor) -> float:
    high, low = sorted((_luminance(a), _luminance(b)), reverse=True)
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("theme", THEMES.values(), ids=lambda t: t.name)
@pytest.mark.parametrize(("ink", "ground"), PAIRS)
def test_text_reads(theme: Theme, ink: str, ground: str) -> None:
    """WCAG 2.1, 1.4.3 level AA: 4.5 to 1."""
    assert _contrast(theme.colour(ink), theme.colour(ground)) >= 4.5


@pytest.mark.parametrize("theme", THEMES.values(), ids=lambda t: t.name)
@pytest.mark.parametrize("severity", SEVERITIES)
def test_a_badge_stands_out(theme: Theme, severity: str) -> None:
    """WCAG 2.1, 1.4.11 non-text contrast: 3 to 1."""
    assert _contrast(theme.severity(severity), theme.colour("sheet")) >= 3.0


def test_every_severity_has_a_shape_of_its_own() -> None:
    shapes = {s: icon_svg(f"actions/{s}") for s in (*SEVERITIES, "accepted")}
    assert len(set(shapes.values())) == 5


def test_every_letter_code_has_an_insulation() -> None:
    assert set(IEC_60757) <= set(INSULATION)
    assert insulation("rd") == QColor(INSULATION["RD"])
    assert insulation("GNYE") == insulation("GN")
    assert insulation("??").name() not in {QColor(c).name() for c in INSULATION.values()}


def test_the_projector_keeps_numbers_and_live_wires_large() -> None:
    assert PROJECTOR.sizes is ROOMY
    assert (PROJECTOR.live_px, PROJECTOR.idle_px) > (5.0, 3.0)
    assert (LIGHT.sizes, DARK.sizes) == (None, None)
