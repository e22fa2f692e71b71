"""The one style sheet: buttons, fields, tables and lists of the toolkit in the look of the house.

It is set before the first window and again only when the palette or the zoom changes: an application-wide style sheet
is dear (0.7 s for 4 400 widgets, measured on two cores under load).
"""

from __future__ import annotations

from collections.abc import Callable
from string import Template

from findsdesk import places
from findsdesk.ui.colours import Colours

_SHEET = Template(
    """
QToolTip { background: $card; color: $ink; border: ${thin}px solid $edge; padding: ${p4}px; }

QPushButton {
    background: $card; color: $ink; border: ${thin}px solid $edge; border-radius: ${p3}px;
    padding: ${p6}px ${p16}px; min-height: ${p26}px; font-weight: bold;
}
QPushButton:pressed { background: $band; }
QPushButton:focus { border: ${focus}px solid $ink; padding: ${p4}px ${p14}px; }
QPushButton:disabled { color: $muted; border: ${thin}px dashed $edge; background: $ground; }
QPushButton[act="true"] { background: $act_fill; color: $act_ink; border: ${thin}px solid $act_edge; }
QPushButton[act="true"]:focus { border: ${focus}px solid $ink; }
QPushButton[act="true"]:pressed { background: $ink; color: $card; }
QPushButton[act="true"]:disabled { background: $ground; color: $muted; border: ${thin}px dashed $edge; }
QPushButton[yard] { min-height: ${target}px; }
QPushButton[yard="plain"] { padding: ${p6}px ${p8}px; }
QPushButton[yard="plain"]:focus { padding: ${p4}px ${p6}px; }
QPushButton[yard="large"] { font-size: ${key}px; }
QPushButton[quiet="true"] { font-weight: normal; }
QPushButton[word="true"] { font-size: ${small}px; padding: ${p2}px ${p8}px; min-height: ${p22}px; }
QPushButton:checked { background: $ink; color: $card; }

QLineEdit, QComboBox, QPlainTextEdit, QTextEdit, QDateEdit, QTimeEdit, QDateTimeEdit {
    background: $card; color: $ink; border: ${thin}px solid $edge; border-radius: ${p3}px;
    padding: ${p4}px ${p8}px; selection-background-color: $ink; selection-color: $card; placeholder-text-color: $muted;
}
QLineEdit, QComboBox, QDateEdit, QTimeEdit, QDateTimeEdit { min-height: ${p22}px; }
QLineEdit:focus, QComboBox:focus, QPlainTextEdit:focus, QTextEdit:focus,
QDateEdit:focus, QTimeEdit:focus, QDateTimeEdit:focus {
    border: ${focus}px solid $ink; padding: ${p2}px ${p6}px;
}
QLineEdit[crowded="true"], QComboBox[crowded="true"] { padding: ${p4}px ${p2}px; }
QLineEdit[crowded="true"]:focus, QComboBox[crowded="true"]:focus { padding: ${p2}px 0; }
QLineEdit[wrong="true"], QComboBox[wrong="true"] { border: ${focus}px solid $madder; padding: ${p2}px ${p6}px; }
QLineEdit:read-only { background: $ground; }
QLineEdit[scan="true"] { min-height: ${p28}px; }
QTableView QLineEdit, QTableView QComboBox {
    padding: 0 ${p4}px; min-height: ${p22}px; border-radius: 0; border: ${p2}px solid $clay; }
QComboBox QLineEdit, QComboBox QLineEdit:focus { background: transparent; border: 0; padding: 0; min-height: 0; }
QComboBox { combobox-popup: 0; }
QComboBox QAbstractItemView::item { min-height: ${p28}px; padding: 0 ${p8}px; }
QComboBox::drop-down { border: 0; width: ${p22}px; }
QComboBox QAbstractItemView { background: $card; color: $ink; border: ${thin}px solid $edge;
    selection-background-color: $ink; selection-color: $card; }

QTimeEdit::up-button, QTimeEdit::down-button { width: 0; border: 0; }
QCheckBox::indicator, QListWidget[rows="true"]::indicator { width: ${p16}px; height: ${p16}px;
    border: ${thin}px solid $edge; background: $card; }
QCheckBox::indicator:checked, QListWidget[rows="true"]::indicator:checked { background: $ink; border-color: $ink;
    image: url("$tick"); }
QCheckBox, QRadioButton { spacing: ${p8}px; min-height: ${p28}px; }
QCheckBox:focus, QRadioButton:focus { border: ${focus}px solid $ink; }

QTableView { background: $card; alternate-background-color: $card; color: $ink; border: 0;
    gridline-color: $line; selection-background-color: $band_select; selection-color: $band_ink; outline: 0; }
QTableView::item { padding: 0 ${p6}px; }
QTableView[crowded="true"]::item { padding: 0 ${p2}px; }
QHeaderView { background: $ground; border: 0; }
QHeaderView::section { background: $ground; color: $muted; border: 0; border-bottom: ${thin}px solid $line;
    padding: ${p4}px ${p9}px; font-weight: bold; font-size: ${small}px; }
QListView { background: $card; color: $ink; border: 0; outline: 0;
    selection-background-color: $ink; selection-color: $card; }
QListWidget { background: transparent; }
QListWidget[rows="true"]::item { min-height: ${p28}px; padding: 0 ${p6}px; color: $ink; }
QListWidget[rows="true"]::item:selected { background: $band_select; color: $band_ink; }
QListWidget[rows="true"]:focus { border: ${p2}px solid $ink; }

QScrollArea { border: 0; background: transparent; }
QScrollBar:vertical { background: $ground; width: ${p14}px; margin: 0; }
QScrollBar:horizontal { background: $ground; height: ${p14}px; margin: 0; }
QScrollBar::handle { background: $edge; border-radius: ${p3}px; margin: ${p3}px; min-height: ${p28}px;
    min-width: ${p28}px; }
QScrollBar::add-line, QScrollBar::sub-line { width: 0; height: 0; }
QScrollBar::add-page, QScrollBar::sub-page { background: transparent; }

QTabBar::tab { background: $ground; color: $muted; border: ${thin}px solid $edge; padding: ${p6}px ${p9}px;
    min-height: ${p22}px; margin-right: ${p4}px; border-top-left-radius: ${p3}px; border-top-right-radius: ${p3}px; }
QTabBar::tab:selected { background: $card; color: $ink; font-weight: bold; border-bottom-color: $card; }
QTabBar::tab:focus { color: $ink; border: ${p2}px solid $ink; }
QTabBar::scroller { width: ${p56}px; }
QTabWidget::pane { border: ${thin}px solid $edge; background: $card; }

QLabel[muted="true"] { color: $muted; }
QLabel[wrong="true"] { color: $madder; }
QLabel[agreed="true"] { color: $green; font-weight: bold; }
QLabel[kind="small"] { font-size: ${small}px; }
QLabel[kind="key"] { font-size: ${small}px; font-weight: bold; background: $card; border: ${thin}px solid $edge;
    border-radius: ${p3}px; padding: 1px ${p6}px; }
QLabel[kind="group"] { font-size: ${small}px; font-weight: bold; color: $muted; }
QLabel[kind="title"] { font-size: ${title}px; font-weight: bold; }
QLabel[kind="bold"] { font-weight: bold; }
QLabel[kind="large"] { font-size: ${large}px; }
"""
)


def style_sheet(colours: Colours, is_sun: bool, px: Callable[[float], int], thin: int, sizes: dict[str, int]) -> str:
    """Return the sheet for a palette; ``px`` scales a length of the sketch, ``sizes`` are the type sizes in pixels."""
    return _SHEET.substitute(
        {name: getattr(colours, name) for name in colours._fields},
        tick=places.resource("icons", "tick.png").as_posix(),
        act_edge=colours.ink if is_sun else colours.act_fill,
        band_select=colours.act_fill if is_sun else colours.band,
        band_ink=colours.ink,
        thin=thin,
        focus=3,
        **{f"p{n}": px(n) for n in (2, 3, 4, 6, 8, 9, 14, 16, 22, 26, 28, 56)},
        **sizes,
    )
