"""The style of docks, menus and bars, made from the theme's roles."""

from __future__ import annotations

from PySide6.QtGui import QFontInfo
from PySide6.QtWidgets import QApplication

from app.theme import Theme

RING = "#1c86c6"
"""Of what has the keys: 3 to 1 and more against card, panel and ink in every theme."""
LARGE, SMALL = 1.17, 0.84
"""Headings and notes, in sizes of the system's text."""
USUAL_PT, LARGE_PT = 9.0, 13.0
LEFT_WIDTH, RIGHT_WIDTH = 220, 310
SHEET = """
QMainWindow, QDockWidget, QStatusBar {{ background: {panel}; color: {ink}; }}
QMainWindow::separator {{ background: {card_edge}; width: 1px; height: 1px; }}
QDockWidget {{ font-weight: 600; titlebar-close-icon: none; titlebar-normal-icon: none; }}
QDockWidget::title {{ background: {panel}; padding: 9px 12px 5px 12px; }}
QDockWidget > QWidget {{ font-weight: 400; }}
QScrollArea, QScrollArea > QWidget > QWidget, QListWidget {{ background: {panel}; color: {ink};
  border: none; }}
QToolBar {{ background: {panel}; border: none; border-bottom: 1px solid {card_edge};
  spacing: 3px; padding: 4px 8px; }}
QToolBar::separator {{ background: {card_edge}; width: 1px; margin: 6px 6px; }}
QAbstractScrollArea::corner {{ background: {panel}; }}
QToolButton {{ border: 1px solid transparent; border-radius: 6px; padding: 4px 9px; color: {ink}; }}
QToolButton#act {{ border-color: {card_edge}; padding: 2px 8px; }}
QToolButton:hover {{ background: {panel_alt}; border-color: {card_edge}; }}
QToolButton:checked {{ background: {ink}; color: {card}; }}
QToolButton:focus {{ border: 2px solid {ring}; padding: 3px 8px; }}
QToolButton#act:focus {{ border: 2px solid {ring}; padding: 1px 7px; }}
QToolButton:disabled {{ color: {ink_soft}; }}
QMenuBar {{ background: {panel}; color: {ink}; }}
QMenuBar::item {{ padding: 4px 9px; background: transparent; }}
QMenuBar::item:selected, QMenu::item:selected {{ background: {chosen}; color: {on_chosen}; }}
QMenu {{ background: {card}; color: {ink}; border: 1px solid {card_edge}; padding: 4px; }}
QMenu::item {{ padding: 5px 22px 5px 26px; border-radius: 4px; }}
QMenu::item:disabled {{ color: {ink_soft}; }}
QMenu::separator {{ height: 1px; background: {dots}; margin: 4px 8px; }}
QTabBar::tab {{ background: {panel}; color: {ink_soft}; padding: 2px 8px;
  border: 2px solid transparent; }}
QTabBar::tab:selected {{ color: {ink}; border-bottom-color: {chosen}; }}
QTabBar::tab:focus {{ border-color: {ring}; }}
QTabWidget::pane {{ border: none; }}
QLineEdit, QComboBox {{ background: {card}; color: {ink}; border: 1px solid {card_edge};
  border-radius: 5px; padding: 3px 6px; min-height: 18px; }}
QLineEdit:focus, QComboBox:focus {{ border: 2px solid {ring}; padding: 2px 5px; }}
QComboBox QAbstractItemView {{ background: {card}; color: {ink}; }}
QComboBox::drop-down {{ border: none; width: 18px; }}
QListWidget::item {{ border-radius: 6px; padding: 3px 6px; }}
QListWidget::item:hover {{ background: {panel_alt}; }}
QListWidget::item:selected {{ background: {panel_alt}; color: {ink}; border: 1px solid {chosen}; }}
QTableView {{ background: {card}; alternate-background-color: {panel}; color: {ink};
  gridline-color: {dots}; selection-background-color: {chosen};
  selection-color: {on_chosen}; }}
QHeaderView {{ background: {panel}; }}
QHeaderView::section {{ background: {panel}; color: {ink_soft}; border: none;
  border-bottom: 1px solid {card_edge}; padding: 4px 6px; font-weight: 600; }}
QLabel {{ color: {ink}; }}
QStatusBar QLabel {{ padding: 2px 12px; color: {ink_soft}; }}
QStatusBar::item {{ border: none; }}
QLabel#heading {{ font-weight: 700; font-size: {large}pt; }}
QLabel#group {{ color: {ink_soft}; font-weight: 700; font-size: {small}pt; padding-top: 8px; }}
QLabel#now {{ background: {panel_alt}; border-radius: 6px; padding: 7px 9px; }}
QLabel#found {{ border: 1px solid {danger}; border-radius: 6px; padding: 7px 9px; }}
QLabel#soft {{ color: {ink_soft}; }}
QLabel#note {{ color: {ink_soft}; font-size: {small}pt; }}
QLabel#note[wrong="true"] {{ color: {danger}; }}
QFrame#slim {{ background: {panel_alt}; border-bottom: 1px solid {card_edge}; }}
QLabel#slim_title {{ font-weight: 600; }}
QLabel#soft[wrong="true"] {{ color: {danger}; }}
QFrame#entry {{ background: {card}; border: 1px solid {chosen}; border-radius: 10px; }}
QFrame#entry QListWidget, QFrame#entry QTreeWidget {{ background: {card}; color: {ink};
  border: none; }}
QTreeWidget, QPlainTextEdit {{ background: {card}; color: {ink}; }}
QTreeWidget::item {{ padding: 2px 4px; }}
QTreeWidget::item:selected {{ background: {chosen}; color: {on_chosen}; }}
QTreeWidget::item:disabled {{ color: {ink_soft}; }}
QListWidget, QTreeWidget, QTableView, QScrollArea, QPlainTextEdit {{
  border: 2px solid {panel}; }}
SheetView {{ border: none; border-top: 2px solid {panel}; }}
SheetView:focus {{ border-top-color: {ring}; }}
QListWidget, QTreeWidget {{ outline: none; }}
QListWidget:focus, QTreeWidget:focus, QTableView:focus, QScrollArea:focus,
QPlainTextEdit:focus {{
  border: 2px solid {ring}; }}
QLabel#notice {{ background: {tag}; color: {tag_ink}; padding: 8px 14px;
  border-bottom: 1px solid {card_edge}; }}
QScrollBar:vertical {{ background: transparent; width: 10px; }}
QScrollBar:horizontal {{ background: transparent; height: 10px; }}
QScrollBar::handle {{ background: {card_edge}; border-radius: 4px; min-height: 24px;
  min-width: 24px; margin: 1px; }}
QScrollBar::add-line, QScrollBar::sub-line {{ width: 0; height: 0; }}
QScrollBar::add-page, QScrollBar::sub-page {{ background: transparent; }}
"""


def text_pt() -> float:
    """Return the size of the system's text in points."""
    return float(QFontInfo(QApplication.font()).pointSizeF())


def is_text_large() -> bool:
    """Tell whether the system's text is so large that docks below need the window's whole width."""
    return text_pt() >= LARGE_PT


def dock_widths() -> list[int]:
    """Return the widths of the left and the right docks in pixels; larger text gets wider ones.

    Wider by the root of the text's size, so that the sheet keeps its room; words wrap beyond that.
    """
    grown = max(text_pt() / USUAL_PT, 1.0) ** 0.5
    return [round(LEFT_WIDTH * grown), round(RIGHT_WIDTH * grown)]


def style_of(theme: Theme) -> str:
    """Return the style sheet of a theme, in sizes of the system's text."""
    roles = {name: getattr(theme, name) for name in theme.__slots__}
    size = text_pt()
    roles |= {"large": round(LARGE * size, 1), "small": round(SMALL * size, 1), "ring": RING}
    roles["on_chosen"] = "#101214" if theme.name == "dark" else "#ffffff"
    return SHEET.format(**roles)
