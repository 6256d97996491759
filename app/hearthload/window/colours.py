"""The colours of the two themes: warm paper, ink, hairlines, one accent, and the data colours.

Data colours are taken from the set of M. Okabe and K. Ito, "Color Universal Design" (2008), published for
use by anyone; each theme uses the members that reach 3:1 on its paper.
"""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtGui import QColor, QPalette

ORANGE = "#E69F00"
SKY_BLUE = "#56B4E9"
BLUISH_GREEN = "#009E73"
BLUE = "#0072B2"
VERMILLION = "#D55E00"


@dataclass(frozen=True, slots=True)
class Theme:
    """Every colour of one theme, as #rrggbb.

    Surfaces: `paper` under everything, `sheet` for fields and tables, `chosen` behind a chosen row, `hover`
    under the pointer. Lines: `hairline` between rows, `rule` around fields. Text: `ink`, `muted`,
    `accent` (links, focus, the chosen page), `on_accent` upon it. Data: `trend`, `watts`, `doubt`; `target`
    fills the target band, `target_edge` bounds it.
    """

    name: str
    dark: bool
    paper: str
    sheet: str
    chosen: str
    hover: str
    hairline: str
    rule: str
    ink: str
    muted: str
    accent: str
    on_accent: str
    trend: str
    watts: str
    doubt: str
    target: str
    target_edge: str

    def colour(self, role: str) -> QColor:
        """Give one of the colours, by its name, for painting."""
        return QColor(str(getattr(self, role)))


LIGHT = Theme(
    name="light",
    dark=False,
    paper="#F8F4EA",
    sheet="#FDFBF5",
    chosen="#F0E2CE",
    hover="#F4ECDD",
    hairline="#E0D7C6",
    rule="#8F8472",
    ink="#2A2521",
    muted="#6A6056",
    accent="#9A3B1B",
    on_accent="#FDFBF5",
    trend=BLUE,
    watts=BLUISH_GREEN,
    doubt=VERMILLION,
    target="#EADBC0",
    target_edge="#857862",
)

DARK = Theme(
    name="dark",
    dark=True,
    paper="#1D1A17",
    sheet="#24201C",
    chosen="#3D3024",
    hover="#2C2722",
    hairline="#3B352E",
    rule="#85796A",
    ink="#EDE6D9",
    muted="#ACA294",
    accent="#E9A472",
    on_accent="#1D1A17",
    trend=SKY_BLUE,
    watts=BLUISH_GREEN,
    doubt=ORANGE,
    target="#5A4A32",
    target_edge="#B5A27F",
)


def palette_of(theme: Theme) -> QPalette:
    """Give Qt's palette in the theme's colours."""
    palette = QPalette()
    role = QPalette.ColorRole
    for which, colour in (
        (role.Window, theme.paper),
        (role.WindowText, theme.ink),
        (role.Base, theme.sheet),
        (role.AlternateBase, theme.paper),
        (role.Text, theme.ink),
        (role.PlaceholderText, theme.muted),
        (role.Button, theme.paper),
        (role.ButtonText, theme.ink),
        (role.ToolTipBase, theme.sheet),
        (role.ToolTipText, theme.ink),
        (role.Highlight, theme.chosen),
        (role.HighlightedText, theme.ink),
        (role.Accent, theme.accent),
        (role.Link, theme.accent),
        (role.LinkVisited, theme.accent),
        (role.Mid, theme.hairline),
        (role.Light, theme.sheet),
        (role.Dark, theme.rule),
    ):
        palette.setColor(which, QColor(colour))
    for which in (role.WindowText, role.Text, role.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, which, QColor(theme.muted))
    return palette


def contrast(first: str, second: str) -> float:
    """Give the contrast ratio of two colours [1], (L1 + 0.05)/(L2 + 0.05), WCAG 2.2, for sRGB."""
    lighter, darker = sorted((_luminance(first), _luminance(second)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def _luminance(colour: str) -> float:
    """Give the relative luminance [1] of an sRGB colour, by WCAG 2.2."""
    linear = [
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
        for part in (int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5))
    ]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
