"""The one stylesheet, written from a theme's colours.

Widgets choose their dress by the dynamic property `look`: "title", "small", "muted", "lead" and "doubt" for
labels, "primary", "quiet", "tab" and "link" for buttons, "sheet", "strip" and "bar" for frames.
"""

from __future__ import annotations

from hearthload.resources import asset
from hearthload.window.colours import Theme
from hearthload.window.fonts import SMALL_PX, TEXT_PX, TITLE_FAMILY, TITLE_PX

CLOSE_PX = 5
"""Room at each side of a cell in the roster, whose many columns stand close [px]."""


def stylesheet(theme: Theme) -> str:
    """Give the stylesheet of one theme."""
    return "\n".join((_text(theme), _buttons(theme), _fields(theme), _tables(theme), _frame(theme)))


def _text(theme: Theme) -> str:
    return f"""
    QLabel[look="title"] {{ font-family: "{TITLE_FAMILY}"; font-size: {TITLE_PX}px; }}
    QLabel[look="lead"] {{ font-size: {TEXT_PX}px; font-weight: 600; }}
    QLabel[look="small"] {{ font-size: {SMALL_PX}px; }}
    QLabel[look="muted"] {{ font-size: {SMALL_PX}px; color: {theme.muted}; }}
    QLabel[look="doubt"] {{ font-size: {SMALL_PX}px; color: {theme.ink}; }}
    QToolTip {{ color: {theme.ink}; background: {theme.sheet}; border: 1px solid {theme.rule};
        padding: 4px; }}
    """


def _buttons(theme: Theme) -> str:
    return f"""
    QPushButton {{ outline: none; background: {theme.sheet}; color: {theme.ink};
        border: 1px solid {theme.rule}; border-radius: 3px; padding: 5px 12px; min-height: 20px; }}
    QPushButton:hover {{ background: {theme.hover}; }}
    QPushButton:pressed {{ background: {theme.chosen}; }}
    QPushButton:focus {{ border: 2px solid {theme.accent}; padding: 4px 11px; }}
    QPushButton:disabled {{ color: {theme.muted}; border-color: {theme.hairline};
        background: {theme.paper}; }}
    QPushButton[look="primary"] {{ background: {theme.accent}; color: {theme.on_accent};
        border-color: {theme.accent}; font-weight: 600; }}
    QPushButton[look="primary"]:focus {{ border: 2px solid {theme.ink}; }}
    QPushButton[look="primary"]:disabled {{ background: {theme.paper}; color: {theme.muted};
        border-color: {theme.hairline}; }}
    QPushButton[look="quiet"] {{ background: transparent; border-color: transparent; }}
    QPushButton[look="quiet"]:hover {{ background: {theme.hover}; }}
    QPushButton[look="quiet"]:focus {{ border: 2px solid {theme.accent}; }}
    QPushButton[look="tab"] {{ background: transparent; border: none; border-radius: 0;
        border-bottom: 2px solid transparent; padding: 4px 10px; color: {theme.muted}; }}
    QPushButton[look="tab"]:checked {{ color: {theme.ink}; border-bottom-color: {theme.accent}; }}
    QPushButton[look="tab"]:hover {{ background: {theme.hover}; }}
    QPushButton[look="tab"]:focus {{ color: {theme.accent}; padding: 4px 10px; }}
    QPushButton[look="link"] {{ background: transparent; border: none; color: {theme.accent};
        text-decoration: underline; padding: 2px; min-height: 16px; text-align: left; }}
    QPushButton[look="link"]:focus {{ border: 1px solid {theme.accent}; padding: 1px; }}
    """


def _fields(theme: Theme) -> str:
    return f"""
    QLineEdit, QComboBox, QPlainTextEdit {{ background: {theme.sheet}; color: {theme.ink};
        border: 1px solid {theme.rule}; border-radius: 3px; padding: 5px 7px; min-height: 20px;
        selection-background-color: {theme.accent}; selection-color: {theme.on_accent}; }}
    QLineEdit:focus, QComboBox:focus, QPlainTextEdit:focus {{ border: 2px solid {theme.accent};
        padding: 4px 6px; }}
    QLineEdit:disabled, QComboBox:disabled {{ color: {theme.muted}; border-color: {theme.hairline};
        background: {theme.paper}; }}
    QLineEdit[complaint="stops"] {{ border: 2px solid {theme.doubt}; padding: 4px 6px; }}
    QComboBox {{ padding-right: 28px; combobox-popup: 0; }}
    QComboBox:focus {{ padding-right: 27px; }}
    QComboBox::drop-down {{ border: none; width: 24px; }}
    QComboBox::down-arrow {{ image: url("{_icon("chevron", theme)}"); width: 14px; height: 14px; }}
    QComboBox QAbstractItemView {{ border: 1px solid {theme.rule}; padding: 0; }}
    QComboBox QAbstractItemView::item {{ min-height: 26px; padding: 0 7px; color: {theme.ink};
        border: none; }}
    QComboBox QAbstractItemView::item:selected {{ background: {theme.chosen}; color: {theme.ink}; }}
    QCheckBox {{ outline: none; spacing: 8px; padding: 4px 4px; border: 1px solid transparent; }}
    QCheckBox:focus {{ border: 1px solid {theme.accent}; border-radius: 3px; }}
    QCheckBox::indicator {{ width: 14px; height: 14px; border: 1px solid {theme.rule};
        border-radius: 2px; background: {theme.sheet}; }}
    QCheckBox::indicator:checked {{ background: {theme.accent}; border-color: {theme.accent};
        image: url("{_icon("tick", theme)}"); }}
    """


def _tables(theme: Theme) -> str:
    return f"""
    QAbstractItemView {{ background: {theme.sheet}; alternate-background-color: {theme.sheet};
        selection-background-color: {theme.chosen}; selection-color: {theme.ink};
        border: 1px solid {theme.hairline}; outline: 0; }}
    QTableView {{ gridline-color: {theme.hairline}; }}
    QTableView:focus {{ border: 1px solid {theme.accent}; }}
    QTableView::item:focus {{ border: 2px solid {theme.accent}; }}
    QHeaderView {{ background: {theme.sheet}; border: none; }}
    QHeaderView::section {{ background: {theme.sheet}; color: {theme.muted}; font-size: {SMALL_PX}px;
        border: none; border-bottom: 1px solid {theme.rule}; padding: 4px 8px; }}
    QTableView#roster QHeaderView::section {{ padding: 4px {CLOSE_PX}px; }}
    QTableView#roster QHeaderView::section:first {{ padding-left: 8px; }}
    QScrollBar:vertical {{ background: transparent; width: 12px; margin: 0; }}
    QScrollBar:horizontal {{ background: transparent; height: 12px; margin: 0; }}
    QScrollBar::handle {{ background: {theme.rule}; border: 3px solid {theme.paper}; border-radius: 6px;
        min-height: 32px; min-width: 32px; }}
    QScrollBar::add-line, QScrollBar::sub-line {{ width: 0; height: 0; }}
    QScrollBar::add-page, QScrollBar::sub-page {{ background: transparent; }}
    """


def _frame(theme: Theme) -> str:
    return f"""
    QFrame[look="sheet"] {{ background: {theme.sheet}; border: 1px solid {theme.hairline};
        border-radius: 3px; }}
    QFrame[look="strip"] {{ background: {theme.chosen}; border: none;
        border-bottom: 1px solid {theme.rule}; }}
    QFrame[look="bar"] {{ background: {theme.paper}; border: none;
        border-right: 1px solid {theme.hairline}; }}
    QFrame[look="hairline"] {{ background: {theme.hairline}; border: none; }}
    QScrollArea {{ border: none; background: transparent; }}
    QSplitter::handle {{ background: transparent; }}
    QSplitter::handle:hover {{ background: {theme.hairline}; }}
    QMenuBar {{ background: {theme.paper}; border-bottom: 1px solid {theme.hairline}; }}
    QMenuBar::item {{ background: transparent; padding: 4px 10px; }}
    QMenuBar::item:selected {{ background: {theme.chosen}; }}
    QMenu {{ background: {theme.sheet}; border: 1px solid {theme.rule}; padding: 4px 0; }}
    QMenu::item {{ padding: 5px 24px 5px 24px; }}
    QMenu::item:selected {{ background: {theme.chosen}; color: {theme.ink}; }}
    QMenu::item:disabled {{ color: {theme.muted}; }}
    QMenu::separator {{ height: 1px; background: {theme.hairline}; margin: 4px 0; }}
    QStatusBar {{ background: {theme.paper}; border-top: 1px solid {theme.hairline}; }}
    QStatusBar::item {{ border: none; }}
    """


def _icon(name: str, theme: Theme) -> str:
    """Give the address of a drawing made for the theme, as stylesheets want it."""
    return asset(f"icons/{name}-{theme.name}.svg").as_posix()
