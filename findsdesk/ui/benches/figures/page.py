"""Figures: what sorted pottery amounts to and when it is of; each figure opens to its rows; deposits are compared."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QWidget

from findsdesk.desk.dossiers import DepositDossier, Dossier
from findsdesk.desk.figure_scopes import Of
from findsdesk.desk.profile_drawing import scope_in_words
from findsdesk.desk.reading_rows import count_waiting
from findsdesk.desk.rows_behind import Behind
from findsdesk.desk.ware_table import sherds_sorted
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.figures.behind_part import BehindPart
from findsdesk.ui.benches.figures.compare_part import ComparePart
from findsdesk.ui.benches.figures.state import Shown
from findsdesk.ui.benches.figures.whole_part import WholePart
from findsdesk.ui.paper_out import hand_over, paper_folder
from findsdesk.ui.reading_part import ReadingPart
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets.one_of import OneOf
from findsdesk.ui.widgets.tab_row import TabRow
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _, plural

if TYPE_CHECKING:
    from pathlib import Path

    from findsdesk.desk.comparing import Comparison
    from findsdesk.desk.desk import Desk
    from findsdesk.desk.sheets import PrintedList

_WHOLE, _COMPARE = "whole", "compare"


class FiguresBench(Bench):
    """The bench of whoever asks what the pottery says."""

    key = "figures"
    kinds = frozenset(
        {"sherd_group", "piece", "sherd_join", "vessel", "found_object", "ware", "form", "deposit", "pottery_reading"}
    )

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(surroundings, parent)
        self.tabs = TabRow(_("Figures"))
        self.whole = WholePart(self)
        self.behind = BehindPart(self)
        self.compare = ComparePart(self)
        self.reading = ReadingPart(self)
        self.pages = OneOf()
        for page in (self.whole, self.behind, self.compare, self.reading):
            self.pages.add_page(page)
        self.body.addWidget(self.tabs)
        self.body.addWidget(self.pages, 1)
        self._wire()
        self._show_tabs(_WHOLE)

    def title(self) -> str:
        return _("Figures")

    def what_waits(self) -> str:
        """Return how many readings somebody has to look at again, or how many sherds the figures are of."""
        waiting = count_waiting(self.surroundings.desk)
        if waiting:
            return plural("{n} to look at again", "{n} to look at again", waiting)
        some = sherds_sorted(self.surroundings.desk)
        return plural("{n} sherd sorted", "{n} sherds sorted", some) if some else ""

    def fit(self, width: int, height: int) -> None:
        self.whole.give_room(height)

    def keys(self) -> tuple[tuple[str, str], ...]:
        return (
            (_("Tab"), _("to the next figure")),
            (_("Enter"), _("open the rows behind it")),
            (_("← →"), _("along the bars of the date profile, or the figures of a ware")),
            (_("Esc"), _("back to the figures")),
        )

    def first_focus(self) -> QWidget | None:
        """Return the choice of what the figures are of."""
        return self.whole.of

    def refresh(self) -> None:
        if not self.whole.offered:
            self.whole.offer(self.in_hand)
        elif self.pages.shown() is self.compare:
            self.compare.read_again()
        elif self.pages.shown() is self.reading:
            self.reading.read_again()
        else:
            self.whole.read_again()
            self.behind.reload()

    def show_in_hand(self, in_hand: object) -> None:
        """Show the figures of something new in hand; of what is in hand already the page stays."""
        before = self.in_hand
        super().show_in_hand(in_hand)
        if _is_same(before, in_hand):
            self.refresh()
        else:
            self._show_page(self.whole)
            self.whole.offer(in_hand)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        # After the window told the bench what is in hand, which turns it back to its first page.
        QTimer.singleShot(0, self, self._open_wished)

    def hideEvent(self, event: QHideEvent) -> None:
        # A long sum would keep the bench that is shown now waiting for the same lane.
        super().hideEvent(event)
        if self.whole.call_off():
            self.stale = True

    # Pages

    def _show_tabs(self, shown: str) -> None:
        say = self.surroundings.words
        self.tabs.show_tabs(((_WHOLE, _("Of one thing")), (_COMPARE, say(N_("{Deposits} compared")))), shown)

    def _choose_tab(self, key: str) -> None:
        self._show_page(self.compare if key == _COMPARE else self.whole)
        if key == _COMPARE:
            self.compare.read_again()
        else:
            self.whole.read_again()

    def _show_page(self, page: QWidget) -> None:
        self.refusals.clear()
        self.pages.show_page(page)
        self._show_tabs(_COMPARE if page is self.compare else _WHOLE)

    def _open_rows(self, behind: object) -> None:
        shown = self.whole.shown
        if shown is not None and isinstance(behind, Behind):
            self._show_page(self.behind)
            self.behind.show_rows(shown.scope, behind, shown.name)

    def _open_wished(self) -> None:
        """Show the rows that somebody asked for at another bench."""
        if self.surroundings.reading_wished:
            self.surroundings.reading_wished = False
            self.reading.focus_answer()
            self._open_reading()
            return
        wished, self.surroundings.rows_wished = self.surroundings.rows_wished, None
        if wished is not None:
            scope, behind = wished
            self.whole.choose(scope)
            self._show_page(self.behind)
            self.behind.show_rows(scope, behind, scope_in_words(scope, self.surroundings.words))

    def _open_reading(self) -> None:
        chosen = self.whole.chosen()
        if chosen is None or chosen.of not in (Of.CONTAINER, Of.DEPOSIT):
            text = N_("Readings are of a {container} or a {deposit}: choose one first.")
            self.surroundings.say(Answer(Tone.PLAIN, self.surroundings.words(text)))
            return
        self._show_page(self.reading)
        self.reading.show_for(chosen.of, chosen.which)
        self.reading.form.focus_first()

    def _back(self) -> None:
        self._show_page(self.whole)
        self.whole.read_again()
        self.whole.of.setFocus()

    def _open_deposit(self, number: object) -> None:
        self.surroundings.take_in_hand.emit(str(number))

    # What leaves

    def _print_whole(self) -> None:
        desk, shown = self.surroundings.desk, self.whole.shown
        if shown is not None:
            self.read(lambda: _sheet(desk, shown), self._keep_paper, topic="print")

    def _print_comparison(self) -> None:
        desk, found = self.surroundings.desk, self.compare.found
        if found is not None:
            self.read(lambda: _comparison(desk, found), self._keep_paper, topic="print")

    def _keep_paper(self, made: PrintedList) -> None:
        hand_over(self.surroundings, made.pdf, self._name())

    def _name(self) -> str:
        day = WordsAround.of(self.surroundings.desk).today().isoformat()
        shown = self.whole.shown
        of = shown.name.lower().replace(" ", "-") if shown else _("figures")
        return f"{day}-{of}"

    def _keep_file(self) -> None:
        desk, shown = self.surroundings.desk, self.whole.shown
        if shown is None:
            return
        kinds = _("Spreadsheet (*.xlsx);;Table as text (*.csv)")
        proposal = paper_folder(desk) / f"{self._name()}.xlsx"
        chosen = self.surroundings.notices.file_to_write(_("Keep the figures as"), proposal, kinds)
        if chosen is not None:
            path = chosen if chosen.suffix else chosen.with_suffix(".xlsx")
            self.read(lambda: _kept(desk, shown, path), self._say_kept, topic="file")

    def _say_kept(self, path: Path) -> None:
        self.surroundings.say(Answer(Tone.DONE, path.name, _(" lies in {folder}").format(folder=path.parent)))

    def _wire(self) -> None:
        self.tabs.chosen.connect(self._choose_tab)
        self.whole.opened.connect(self._open_rows)
        self.whole.read_wanted.connect(self._open_reading)
        self.whole.paper_wanted.connect(self._print_whole)
        self.whole.file_wanted.connect(self._keep_file)
        self.behind.left.connect(self._back)
        self.reading.left.connect(self._back)
        self.compare.opened.connect(self._open_deposit)
        self.compare.paper_wanted.connect(self._print_comparison)


def _is_same(one: object, other: object) -> bool:
    """Return whether two dossiers are of one thing, so that what is shown of it stays."""
    if isinstance(one, Dossier) and isinstance(other, Dossier):
        return one.container_id == other.container_id and one.deposit == other.deposit
    if isinstance(one, DepositDossier) and isinstance(other, DepositDossier):
        return one.deposit_id == other.deposit_id
    return False


# Paper and files are loaded when something leaves: their libraries would hold up the window at the start.


def _sheet(desk: Desk, shown: Shown) -> PrintedList:
    from findsdesk.desk.figure_papers import figures_sheet

    return figures_sheet(desk, shown.figures)


def _comparison(desk: Desk, found: Comparison) -> PrintedList:
    from findsdesk.desk.figure_papers import comparison_sheet

    return comparison_sheet(desk, found)


def _kept(desk: Desk, shown: Shown, path: Path) -> Path:
    from findsdesk.desk.figure_papers import write_figures

    write_figures(desk, shown.figures, path)
    return path
