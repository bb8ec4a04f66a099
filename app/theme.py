"""The look as named roles: light, dark and projector; print takes the light one.

Nothing on the sheet holds a colour. It asks the current theme while it paints, so changing the
theme is one repaint. Overlays use the Okabe-Ito set, which colour-blind people tell apart
(Okabe and Ito, "Color Universal Design", 2008); no meaning rests on colour alone.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from PySide6.QtGui import QColor, QPalette

from model.layout.sizes import ROOMY, Sizes

ORANGE = "#e69f00"
SKY = "#56b4e9"
GREEN = "#009e73"
YELLOW = "#f0e442"
BLUE = "#0072b2"
VERMILLION = "#d55e00"
PURPLE = "#cc79a7"

INSULATION = {
    "BK": "#2d2f33",
    "BN": "#8a5a33",
    "RD": "#c8332b",
    "OG": "#ef8b26",
    "YE": "#ecc92b",
    "GN": "#3f9a4c",
    "BU": "#2d6fba",
    "VT": "#8b55a8",
    "GY": "#9aa0a6",
    "WH": "#fbfbf8",
    "PK": "#ee9db6",
    "TQ": "#35b6b4",
    "GD": "#c9a14a",
    "SR": "#c3c8cd",
    "CU": "#b87f4b",
}
"""What the insulation of each IEC 60757 letter code looks like; CU is a bare bolted joint."""
UNKNOWN_INSULATION = "#c9c6bb"


_MADE: dict[tuple[str, str], QColor] = {}


@dataclass(frozen=True, slots=True)
class Theme:
    """Colours by role, and the sizes that differ from theme to theme.

    `codes`: labels keep the code of the wire's colour at any zoom, since colours may be lost.
    `sizes` are those of the theme's cards, None where the circuit decides. `live_px` and `idle_px`
    are least widths on the screen (0: none) of wires that are fed and of the others, kept at any
    zoom.
    """

    name: str
    sheet: str
    dots: str
    card: str
    card_edge: str
    ink: str
    ink_soft: str
    tag: str
    tag_edge: str
    tag_ink: str
    metal: str
    casing: str
    gap: str
    fed: str
    ground: str
    mark: str
    mark_edge: str
    label: str
    label_edge: str
    chosen: str
    path: str
    danger: str
    fault: str
    advice: str
    unknown: str
    accepted: str
    role_permanent: str
    role_switched: str
    role_output: str
    role_control: str
    role_return: str
    panel: str
    panel_alt: str
    sizes: Sizes | None = None
    live_px: float = 0.0
    idle_px: float = 0.0
    dead_alpha: int = 115
    codes: bool = False

    def colour(self, role: str) -> QColor:
        """Return the colour of a role; it is shared, not to be changed."""
        found = _MADE.get((self.name, role))
        if found is None:
            found = _MADE[self.name, role] = QColor(getattr(self, role))
        return found

    def severity(self, severity: str) -> QColor:
        """Return the colour of a severity, that of "unknown" for a word it does not have."""
        return self.colour(severity if hasattr(self, severity) else "unknown")


LIGHT = Theme(
    name="light",
    sheet="#f6f4ed",
    dots="#dedacd",
    card="#fffefb",
    card_edge="#c4beb0",
    ink="#22262b",
    ink_soft="#6a6c6b",
    tag="#fff5cf",
    tag_edge="#22262b",
    tag_ink="#22262b",
    metal="#ecebe6",
    casing="#22262b",
    gap="#fffefb",
    fed="#22262b",
    ground="#22262b",
    mark="#ffffff",
    mark_edge="#22262b",
    label="#fffefb",
    label_edge="#cfcabd",
    chosen=BLUE,
    path=SKY,
    danger=VERMILLION,
    fault="#b97f00",
    advice=BLUE,
    unknown="#7d5570",
    accepted="#6a6c6b",
    role_permanent=VERMILLION,
    role_switched="#b97f00",
    role_output="#007d5b",
    role_control=BLUE,
    role_return="#4a4d52",
    panel="#faf8f2",
    panel_alt="#f1eee5",
)
DARK = Theme(
    name="dark",
    sheet="#191b1f",
    dots="#2b2e34",
    card="#272b31",
    card_edge="#454b54",
    ink="#eceae4",
    ink_soft="#a0a4a8",
    tag="#e9d990",
    tag_edge="#e9d990",
    tag_ink="#1b1d20",
    metal="#5b626c",
    casing="#d9d7d0",
    gap="#191b1f",
    fed="#eceae4",
    ground="#eceae4",
    mark="#191b1f",
    mark_edge="#eceae4",
    label="#272b31",
    label_edge="#454b54",
    chosen=SKY,
    path="#2f86bd",
    danger="#ff8033",
    fault=ORANGE,
    advice=SKY,
    unknown=PURPLE,
    accepted="#a0a4a8",
    role_permanent="#ff8033",
    role_switched=ORANGE,
    role_output="#1fc298",
    role_control=SKY,
    role_return="#c3c7cc",
    panel="#202327",
    panel_alt="#26292e",
)
PROJECTOR = replace(
    LIGHT,
    name="projector",
    sheet="#ffffff",
    dots="#eeeeee",
    card="#ffffff",
    card_edge="#8c8c8c",
    ink="#000000",
    ink_soft="#3d3d3d",
    label="#ffffff",
    label_edge="#8c8c8c",
    sizes=ROOMY,
    live_px=7.3,
    idle_px=5.3,
    dead_alpha=150,
)
THEMES = {t.name: t for t in (LIGHT, DARK, PROJECTOR)}


class Look:
    """The theme in force; painters ask it, the window sets it."""

    def __init__(self, theme: Theme = LIGHT) -> None:
        self.theme = theme

    def take(self, name: str) -> None:
        """Put the theme of this name in force."""
        self.theme = THEMES[name]


def palette_of(theme: Theme) -> QPalette:
    """Return the palette that gives docks, menus and tables the theme's colours."""
    palette = QPalette()
    role = QPalette.ColorRole
    for which, name in (
        (role.Window, "panel"),
        (role.Base, "card"),
        (role.AlternateBase, "panel_alt"),
        (role.Button, "panel_alt"),
        (role.ToolTipBase, "label"),
        (role.WindowText, "ink"),
        (role.Text, "ink"),
        (role.ButtonText, "ink"),
        (role.ToolTipText, "ink"),
        (role.PlaceholderText, "ink_soft"),
        (role.Highlight, "chosen"),
        (role.Link, "chosen"),
    ):
        palette.setColor(which, theme.colour(name))
    palette.setColor(role.HighlightedText, QColor("#000000" if theme is DARK else "#ffffff"))
    _fade(palette, theme)
    return palette


def _fade(palette: QPalette, theme: Theme) -> None:
    """Give what is not available the soft ink."""
    off = QPalette.ColorGroup.Disabled
    for role in (QPalette.ColorRole.WindowText, QPalette.ColorRole.Text):
        palette.setColor(off, role, theme.colour("ink_soft"))
    palette.setColor(off, QPalette.ColorRole.ButtonText, theme.colour("ink_soft"))


def insulation(code: str) -> QColor:
    """Return what the insulation of a colour code looks like; grey where it is not known."""
    return QColor(INSULATION.get(code[:2].upper(), UNKNOWN_INSULATION))
