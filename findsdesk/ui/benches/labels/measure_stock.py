"""Measuring a stock of one's own: a sheet, a roll, or plain paper to cut; and taking one away again."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QLineEdit, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from findsdesk.desk.own_stocks import AsMeasured, Kind, MeasuredSheet, add_paper_to_cut, add_roll, add_sheet, pages
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.set_up_numbers import read_whole
from findsdesk.ui.bench import act_button
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.number_field import Measure, NumberField, steel_rule
from findsdesk.words import N_, _

SHEET, CARD, ROLL, CUT = "sheet", "tags", "roll", "cut"
_ASKED = {
    SHEET: ("columns", "rows", "width", "height", "left", "top", "last_left", "last_top", "corner"),
    CARD: ("columns", "rows", "width", "height", "left", "top", "last_left", "last_top"),
    ROLL: ("width", "height", "gap", "corner"),
    CUT: ("width", "height"),
}
_MAY_BE_EMPTY = ("last_left", "last_top", "corner", "gap")
_AT_LEAST_ONE = ("columns", "rows", "width", "height")
_MEANT_BY = {
    "columns_wider_than_page": "last_left",
    "columns_overlap": "last_left",
    "rows_higher_than_page": "last_top",
    "rows_overlap": "last_top",
    "stock_corner_too_round": "corner",
    "label_larger_than_page": "width",
}
"""The field that a refusal of the whole stock is most likely about."""


@dataclass(frozen=True, slots=True)
class SaidStock:
    """A stock as it was typed: its kind, name and page, lengths in hundredths of a millimetre."""

    kind: str
    name: str
    page: str
    numbers: dict[str, int]
    instead: str = ""
    """The stock that is corrected: it stands no longer beside what was typed."""

    def keep(self) -> str:
        """Keep the stock and return its name. Refusals: those of keeping it."""
        n = self.numbers
        if self.kind == ROLL:
            return add_roll(self.name, n["width"], n["height"], n["gap"], n["corner"], instead=self.instead).name
        if self.kind == CUT:
            return add_paper_to_cut(self.name, self.page, n["width"], n["height"], instead=self.instead).name
        paper = pages()[self.page]
        size = (n["columns"], n["rows"], n["width"], n["height"])
        where = (n["left"], n["top"], n["last_left"], n["last_top"], n.get("corner", 0))
        measured = MeasuredSheet(paper.page_width, paper.page_height, *size, *where)
        kind: Kind = "tags" if self.kind == CARD else "sheet"
        return add_sheet(self.name, self.page, measured, kind, instead=self.instead).name


class MeasureStock(QWidget):
    """What is typed stays until the stock is kept or the page is left."""

    keep_wanted = Signal()
    complained = Signal(str)
    """What is wrong with a length, named; '' where nothing is any more. Said here it would move the fields below."""
    take_away_wanted = Signal(str)
    correct_wanted = Signal(str)
    """The stock whose lengths are to be typed over."""
    frames_wanted = Signal(str)
    """The stock whose frames are printed on plain paper, to be held against the sheet."""

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme, self._terms = surroundings.theme, surroundings.terms
        self.kind, self.page, self.name = ChoiceBox(), ChoiceBox(), QLineEdit()
        self.keep, self.leave = act_button(_("Keep the stock")), QPushButton(_("Back"))
        self.own, self.take_away = ChoiceBox(), QPushButton(_("Take away"))
        self.frames, self.correct = QPushButton(_("Print its frames")), QPushButton(_("Correct it"))
        self._instead = ""
        for key, words in _kinds():
            self.kind.addItem(words, key)
        for page in pages():
            self.page.addItem(page, page)
        self.fields = {
            name: NumberField(_measure(name), words, surroundings.terms, says=False)
            for name, words in _lengths().items()
        }
        self._words = {name: labels.plain(words) for name, words in _lengths().items()}
        self._page_words = labels.plain(_("Page"))
        self._flows: list[FlowLayout] = []
        self._grid = QGridLayout()
        self._columns = 1
        self._own_line = QWidget()
        self._name_parts()
        self._fill()
        for field in self.fields.values():
            field.complained.connect(lambda _text, field=field: self._complain(field))
        self.kind.currentIndexChanged.connect(self._show_asked)
        self._show_asked()

    def _name_parts(self) -> None:
        self.kind.setAccessibleName(_("Kind of stock"))
        self.page.setAccessibleName(_("Page"))
        self.name.setAccessibleName(_("What the stock is called"))
        self.name.setPlaceholderText(_("What the stock is called"))
        self.own.setAccessibleName(_("Stocks measured here"))
        self.take_away.clicked.connect(lambda: self.take_away_wanted.emit(str(self.own.currentData())))
        self.correct.clicked.connect(lambda: self.correct_wanted.emit(str(self.own.currentData())))
        self.frames.clicked.connect(lambda: self.frames_wanted.emit(str(self.own.currentData())))
        self.keep.clicked.connect(self.keep_wanted)

    def _fill(self) -> None:
        card = Card(self.theme, _("Measure a stock"))
        body = card.body
        body.addWidget(labels.plain(_("Measure with a steel rule on an empty sheet, to a tenth of a millimetre.")))
        body.addWidget(self._line(self.name, self.kind, self._page_words, self.page))
        body.addLayout(self._grid)
        body.addWidget(labels.bold(_("Print at actual size (100 %), never “fit to page”."), wrap=True))
        body.addWidget(self._line(self.keep, self.leave))
        self._own_line = self._line(self.own, self.frames, self.correct, self.take_away)
        body.addWidget(self._own_line)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(card)
        layout.addStretch(1)

    def arrange(self, wide: bool) -> None:
        """Let the lengths stand in two columns where there is room."""
        self._columns = 2 if wide else 1
        asked = _ASKED[str(self.kind.currentData())]
        # Those that are not asked have their place too: without a parent they would be windows of their own.
        for place, name in enumerate((*asked, *(name for name in self.fields if name not in asked))):
            row, column = divmod(place, self._columns)
            self._grid.addWidget(self._words[name], row, 2 * column)
            self._grid.addWidget(self.fields[name], row, 2 * column + 1)
        for column in range(4):
            self._grid.setColumnStretch(column, 1 if column < 2 * self._columns else 0)

    def begin(self, own: tuple[str, ...]) -> None:
        """Begin with nothing typed; ``own`` are the stocks that were measured here."""
        self._instead = ""
        self.name.clear()
        for field in self.fields.values():
            field.set_value(None)
        self.show_own(own)

    def is_begun(self) -> bool:
        """Return whether something is typed that was not kept."""
        return bool(self.name.text().strip()) or any(field.line.text() for field in self.fields.values())

    def show_measured(self, stock: AsMeasured) -> None:
        """Fill the form with a stock as it was measured; kept, it stands in place of that one."""
        self._instead = stock.name
        self.name.setText(stock.name)
        self.kind.setCurrentIndex(self.kind.findData(stock.kind))
        self.page.setCurrentIndex(max(0, self.page.findData(stock.page)))
        for name, field in self.fields.items():
            field.set_value(stock.numbers.get(name))
        self.name.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_own(self, own: tuple[str, ...]) -> None:
        """Show which stocks can be taken away."""
        self.own.clear()
        for name in own:
            self.own.addItem(name, name)
        self._own_line.setVisible(bool(own))

    def _show_asked(self) -> None:
        kind = str(self.kind.currentData())
        self.arrange(self._columns > 1)
        for name, field in self.fields.items():
            field.setVisible(name in _ASKED[kind])
            self._words[name].setVisible(name in _ASKED[kind])
        self.page.setVisible(kind != ROLL)
        self._page_words.setVisible(kind != ROLL)

    def _complain(self, about: NumberField) -> None:
        """Tell what is wrong: with the field that is judged now, or else with the first that still is."""
        wrong = [field for field in (about, *self.fields.values()) if field.wrong() and not field.isHidden()]
        if not wrong:
            self.complained.emit("")
            return
        name = next(name for name, field in self.fields.items() if field is wrong[0])
        self.complained.emit(_named(_lengths()[name], wrong[0].wrong()).in_words(self._terms))

    def mark(self, refusal: Refusal) -> None:
        """Mark what a refusal is about, and take the keyboard there."""
        text = str(refusal.facts.get("why", "")) or refusal.in_words(self._terms)
        name = str(refusal.facts.get("field", "")) or _MEANT_BY.get(refusal.code, "")
        if refusal.code in ("stock_without_name", "stock_there"):
            self.name.setFocus(Qt.FocusReason.OtherFocusReason)
            self.name.selectAll()
        elif name in self.fields and not self.fields[name].isHidden():
            self.fields[name].refuse(text)
            self.fields[name].line.setFocus(Qt.FocusReason.OtherFocusReason)
            self.fields[name].line.selectAll()

    def said(self) -> SaidStock:
        """Return what was typed. Refusals: ``not_measured`` (a length is missing), those of a field that is wrong."""
        kind = str(self.kind.currentData())
        numbers = {}
        for name in _ASKED[kind]:
            what = _lengths()[name]
            try:
                value = self.fields[name].value()
            except Refusal as refusal:
                raise _named(what, refusal.in_words(self._terms), name) from refusal
            if value is None and name not in _MAY_BE_EMPTY:
                raise Refusal(
                    "not_measured", N_("Nothing was entered for “{what}”: measure it."), what=what, field=name
                )
            numbers[name] = value or 0
        return SaidStock(kind, self.name.text().strip(), str(self.page.currentData()), numbers, self._instead)

    def space(self, gap: int) -> None:
        """Set the gap between the parts, in pixels."""
        for flow in self._flows:
            flow.set_gaps(gap, gap)
        self._grid.setHorizontalSpacing(gap)
        self._grid.setVerticalSpacing(gap)
        self.name.setMinimumWidth(self.theme.px(200))
        self._page_words.setMinimumHeight(self.page.sizeHint().height())
        for field in self.fields.values():
            field.line.setFixedWidth(self.theme.px(80))

    def _line(self, *parts: QWidget) -> QWidget:
        holder, flow = QWidget(), FlowLayout()
        holder.setLayout(flow)
        holder.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        for part in parts:
            flow.addWidget(part)
        self._flows.append(flow)
        return holder


def _named(what: str, why: str, field: str = "") -> Refusal:
    """Return what is wrong with a length together with what the length is called."""
    return Refusal("length_wrong", N_("“{what}”: {why}"), what=what, why=why, field=field)


def _kinds() -> tuple[tuple[str, str], ...]:
    return (
        (SHEET, _("Sheet of labels")),
        (CARD, _("Card of tags to cut")),
        (ROLL, _("Roll of single labels")),
        (CUT, _("Plain paper to cut")),
    )


def _lengths() -> dict[str, str]:
    return {
        "columns": _("Labels across"),
        "rows": _("Labels down"),
        "width": _("Width of a label"),
        "height": _("Height of a label"),
        "left": _("From the left edge of the paper to the first label"),
        "top": _("From the top edge of the paper to the first label"),
        "last_left": _("From the left edge of the paper to the last column"),
        "last_top": _("From the top edge of the paper to the last row"),
        "gap": _("Gap between two labels"),
        "corner": _("Radius of the corners"),
    }


def _measure(name: str) -> Measure:
    many = name in ("columns", "rows")
    measure = Measure(partial(read_whole), _("labels"), 1) if many else steel_rule()
    return replace(measure, read=partial(_read_some, measure.read)) if name in _AT_LEAST_ONE else measure


def _read_some(read: Callable[[str], int], text: str) -> int:
    """Read a number of labels, or a length of one, which is never nothing: refuses ``none_at_all``."""
    value = read(text)
    if value < 1:
        raise Refusal("none_at_all", N_("That is none at all. Type more than 0."))
    return value
