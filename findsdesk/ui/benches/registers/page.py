"""The bench of registers: a list, the page of a deposit, or one act of the journal."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget

from findsdesk.desk.deposit_facts import DepositFacts
from findsdesk.desk.discard_lists import ListFacts, WholeList
from findsdesk.desk.discard_sheet import discard_sheet
from findsdesk.desk.discards import make_list
from findsdesk.desk.dossiers import DepositDossier, Dossier
from findsdesk.desk.joins_sheet import joins_sheet
from findsdesk.desk.labels_waiting import labels_waiting
from findsdesk.desk.redoing import redo_done
from findsdesk.desk.register_files import print_register, write_register
from findsdesk.desk.registers import Register
from findsdesk.desk.sheets import PrintedList, concordance_sheet, redo_sheet
from findsdesk.desk.whole_papers import Asked
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.registers.act_part import ActPart
from findsdesk.ui.benches.registers.deposit_part import DepositPart
from findsdesk.ui.benches.registers.discard_part import DiscardPart
from findsdesk.ui.benches.registers.list_kinds import FilterKind
from findsdesk.ui.benches.registers.list_part import ListPart
from findsdesk.ui.benches.registers.lists import (
    BETWEEN,
    CONCORDANCE,
    DEPOSITS,
    DISCARDS,
    EVERYWHERE,
    JOURNAL,
    REDO,
)
from findsdesk.ui.benches.registers.object_part import ObjectPart
from findsdesk.ui.benches.registers.row_opening import open_row
from findsdesk.ui.benches.registers.row_part import LeftPart, SamplePart
from findsdesk.ui.benches.registers.state import Chip, ListState, narrowing_words
from findsdesk.ui.export_page import ExportPage
from findsdesk.ui.paper_out import hand_over, paper_folder
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets.one_of import OneOf
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _, grouped, plural

_SIDE_BY_SIDE = 760
"""Pixels of width, at 100 per cent, under which a form stands below what is known."""
_LOW, _NARROW = 430, 560
"""Pixels of height and width, at 100 per cent, under which a list does with less beside its rows."""
_OF_VESSEL = FilterKind("vessel", "", N_("vessel {value}"))
_ROW = FilterKind("row", "", "{value}")


class RegistersBench(Bench):
    """Everything that was ever written down can be found here."""

    key = "registers"

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(surroundings, parent)
        self.lists = ListPart(self)
        self.deposit = DepositPart(self)
        self.act = ActPart(self)
        self.discard = DiscardPart(self)
        self.sample, self.object, self.left_entry = SamplePart(self), ObjectPart(self), LeftPart(self)
        self.export = ExportPage(self, _("Back to the list"))
        self._whole = OneOf()
        further = (self.sample, self.object, self.left_entry)
        for part in (self.lists, self.deposit, self.act, self.discard, *further, self.export):
            self._whole.add_page(part)
        self.body.addWidget(self._whole, 1)
        self._list_shown = False
        self._wire()

    def title(self) -> str:
        return _("Registers")

    def what_waits(self) -> str:
        """Return how much is to be written again, as the labels bench counts it: each mark for itself."""
        waiting = labels_waiting(self.surroundings.desk).again
        return plural("{n} to write again", "{n} to write again", waiting) if waiting else ""

    def keys(self) -> tuple[tuple[str, str], ...]:
        return (
            (_("F3"), _("to the search")),
            (_("F4"), _("narrow the list")),
            (_("F6"), _("saved views, and the columns")),
            (_("Enter"), _("show the row")),
            (_("Home  End"), _("to the first row, to the last")),
            (_("Esc"), _("back to the list")),
        )

    def first_focus(self) -> QWidget | None:
        """Return the search of the list that is shown."""
        """Return the search field, or the part that is open."""
        return self.lists.search if self._whole.shown() is self.lists else None

    def refresh(self) -> None:
        if not self._list_shown:
            self._list_shown = True
            self.lists.show_list(DEPOSITS.key)
        else:
            self.lists.reload()
        if self._whole.shown() is self.deposit:
            self.deposit.reload()
        if self._whole.shown() is self.discard:
            self.discard.reload()

    def begin_anew(self) -> None:
        """Show the first list; a form that somebody fills in stays."""
        if not self.deposit.is_filling_in():
            self.show_list(DEPOSITS.key)

    def show_in_hand(self, in_hand: object) -> None:
        """Show the page of a deposit; tick a container where some are being split off; what is typed is left alone."""
        super().show_in_hand(in_hand)
        if isinstance(in_hand, Dossier) and self._whole.shown() is self.deposit:
            self.deposit.take_container(in_hand.number, in_hand.deposit)
        elif isinstance(in_hand, DepositDossier) and not self.deposit.is_filling_in():
            focus = QApplication.focusWidget()
            keyboard = focus is not None and self.lists.isAncestorOf(focus)
            self._whole.show_page(self.deposit)
            if keyboard:
                self.deposit.back.setFocus(Qt.FocusReason.OtherFocusReason)
            self.deposit.show_deposit(in_hand.named)

    def refuse(self, refusal: Refusal) -> None:
        super().refuse(refusal)
        if self._whole.shown() is self.deposit:
            self.deposit.refuse(refusal)

    def show_list(self, key: str, state: ListState | None = None) -> None:
        """Show a list, narrowed as ``state`` says."""
        self._whole.show_page(self.lists)
        self._list_shown = True
        if state is not None:
            self.lists.states[key] = state
        self.lists.show_list(key)

    def show_act(self, act_id: str) -> None:
        """Show one act of the journal, with all that it changed."""
        self._whole.show_page(self.act)
        self.say_going_on(_("one act of the journal"))
        self.act.show_act(act_id)

    def show_further(self, kind: str, *which: Any) -> None:
        """Show a sample by its number and container, an object by its and season, what was left by id and deposit."""
        # Each names itself in its heading; beside the title stood what was shown before, another page's list perhaps.
        self.say_going_on("")
        if kind == "sample":
            self._whole.show_page(self.sample)
            self.sample.show_sample(*which)
        elif kind == "object":
            self._whole.show_page(self.object)
            self.object.show_object(*which)
        else:
            self._whole.show_page(self.left_entry)
            self.left_entry.show_entry(*which)

    def show_words(self, words: str) -> None:
        """Show what holds these words, anywhere."""
        self.show_list(EVERYWHERE.key, ListState(EVERYWHERE, words))

    def _begin(self) -> None:
        kind = self.lists.kind
        if kind is DEPOSITS:
            self._whole.show_page(self.deposit)
            self.deposit.begin()
        elif kind is DISCARDS:
            self._make_discard_list()
        elif kind.act_bench:
            self.surroundings.open_bench.emit(kind.act_bench)

    def _back(self) -> None:
        self.refusals.clear()
        self._whole.show_page(self.lists)
        self.say_going_on(self.lists.counted)
        if not self._list_shown:
            self.refresh()
        self.lists.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def _show_done_with(self, facts: object) -> None:
        """Show the acts of the journal that touched a deposit."""
        if isinstance(facts, DepositFacts):
            words = self.surroundings.words(N_("{deposit} {number}"), number=facts.number)
            chip = Chip(_ROW, f"deposit {facts.id}", words)
            self.show_list(JOURNAL.key, ListState(JOURNAL, "", (chip,)))

    def _take_object_in_hand(self) -> None:
        if self.object.found is not None:
            self.surroundings.take_in_hand.emit(self.object.found.container_code)

    def _show_where_left(self) -> None:
        if self.left_entry.entry is not None:
            self.surroundings.open_thing.emit("deposit", self.left_entry.entry.deposit)

    # Discards

    def show_discard_list(self, number: int, season: str) -> None:
        """Show the page of a discard list."""
        self._whole.show_page(self.discard)
        self.discard.show_list(number, season)

    def _make_discard_list(self) -> None:
        desk = self.surroundings.desk
        self.deed(lambda: make_list(desk), then=self._say_made, button=self.lists.foot.begin)

    def _say_made(self, made: WholeList) -> None:
        head = self.surroundings.words(N_("Discard list {number}"), number=made.facts.number)
        wait = plural("{n} sherd waits for a second person", "{n} sherds wait for a second person", made.facts.pieces)
        self.surroundings.say(Answer(Tone.DONE, head, f": {wait}"))
        self.show_discard_list(made.facts.number, made.facts.season)

    def _print_discard_list(self, facts: object) -> None:
        if isinstance(facts, ListFacts):
            desk, number, season = self.surroundings.desk, facts.number, facts.season
            name = f"{WordsAround.of(desk).today().isoformat()}-discard-list-{number}"

            def keep(made: PrintedList) -> None:
                hand_over(self.surroundings, made.pdf, name)

            self.read(lambda: discard_sheet(desk, number, season=season), keep, topic="print")

    def _print_deposit_sheet(self, facts: object) -> None:
        if isinstance(facts, DepositFacts):
            desk, number = self.surroundings.desk, facts.number
            name = f"{WordsAround.of(desk).today().isoformat()}-{number}"
            job = self.surroundings.lanes.job("long", topic="registers/sheet")

            def make() -> PrintedList:
                from findsdesk.desk.deposit_sheet import deposit_sheet

                return deposit_sheet(desk, Asked(deposit=number, follow=job.follow))

            def keep(made: PrintedList) -> None:
                hand_over(self.surroundings, made.pdf, name)

            self.surroundings.lanes.read(make, then=keep, refused=self.refuse, job=job)

    # What was written again, and what leaves

    def open_export(self) -> None:
        """Show the export of everything."""
        self._whole.show_page(self.export)
        self.say_going_on(_("everything there is, as files"))
        self.export.open_with("xlsx")

    def _redone(self, ids: object) -> None:
        desk = self.surroundings.desk
        wanted = [row_id[0] for row_id in ids if isinstance(row_id, tuple)] if isinstance(ids, list) else []
        self.deed(
            lambda: redo_done(desk, wanted),
            then=self._say_redone,
            button=self.lists.foot.redo,
            sure=lambda: redo_done(desk, wanted, sure=True),
        )

    def _say_redone(self, done: int) -> None:
        words = self.surroundings.words(N_("Written again: {n}"), n=grouped(done))
        self.surroundings.say(Answer(Tone.DONE, words))
        self.lists.reload()

    def _name(self) -> str:
        around = WordsAround.of(self.surroundings.desk)
        title = around.say(self.lists.kind.title).lower().replace(" ", "-")
        return f"{around.today().isoformat()}-{title}"

    def _keep_file(self) -> None:
        desk, kind, state = self.surroundings.desk, self.lists.kind, self.lists.state
        register = kind.register
        if register is None:
            return
        proposal = paper_folder(desk) / f"{self._name()}.xlsx"
        kinds = _("Spreadsheet (*.xlsx);;Table as text (*.csv)")
        chosen = self.surroundings.notices.file_to_write(_("Keep the list as"), proposal, kinds)
        if chosen is None:
            return
        path = chosen if chosen.suffix else chosen.with_suffix(".xlsx")
        sort, falling = self.lists.sorting()
        query, words = state.query(sort, falling=falling), narrowing_words(state, WordsAround.of(desk))
        columns = state.columns
        job = self.surroundings.lanes.job("long", topic="registers/file")

        def work() -> tuple[int, Path]:
            return write_register(
                desk, register, query, path=path, filter_words=words, columns=columns, called_off=job.called_off
            ), path

        self.lists.foot.file.setEnabled(False)
        self.surroundings.lanes.read(
            work, then=self._say_kept, refused=self._not_kept, failed=self._file_failed, job=job
        )

    def _say_kept(self, kept: tuple[int, Path]) -> None:
        self.lists.foot.file.setEnabled(True)
        rows, path = kept
        said = self.surroundings.words(N_(": rows {n}, in {folder}"), n=grouped(rows), folder=path.parent)
        self.surroundings.say(Answer(Tone.DONE, path.name, said))

    def _not_kept(self, refusal: Refusal) -> None:
        self.lists.foot.file.setEnabled(True)
        self.refuse(refusal)

    def _file_failed(self, fault: BaseException) -> None:
        self.lists.foot.file.setEnabled(True)
        self.surroundings.notices.failed(fault)

    def _print(self) -> None:
        name = self._name()
        job = self.surroundings.lanes.job("long", topic="registers/print")

        def keep(made: PrintedList) -> None:
            hand_over(self.surroundings, made.pdf, name)

        self.surroundings.lanes.read(self._printing(), then=keep, refused=self.refuse, job=job)

    def _printing(self) -> Callable[[], PrintedList]:
        """Return the work that prints the list as it is shown now, whatever is shown when it is done."""
        desk, kind, state = self.surroundings.desk, self.lists.kind, self.lists.state
        if kind is REDO:
            return lambda: redo_sheet(desk)
        if kind is CONCORDANCE:
            return lambda: concordance_sheet(desk)
        if kind is BETWEEN:
            return lambda: joins_sheet(desk)
        sort, falling = self.lists.sorting()
        register = kind.register or Register.DEPOSITS
        words = narrowing_words(state, WordsAround.of(desk))
        query = state.query(sort, falling=falling)
        return lambda: print_register(desk, register, query, filter_words=words, columns=state.columns)

    # Frame

    def _wire(self) -> None:
        self.lists.opened.connect(lambda row_id: open_row(self, row_id))
        self.lists.begun.connect(self._begin)
        self.lists.redone.connect(self._redone)
        self.lists.file_wanted.connect(self._keep_file)
        self.lists.paper_wanted.connect(self._print)
        self.lists.foot.export_wanted.connect(self.open_export)
        self.deposit.left.connect(self._back)
        self.deposit.to_redo.connect(lambda: self.show_list(REDO.key))
        self.deposit.to_journal.connect(self._show_done_with)
        self.deposit.sheet_wanted.connect(self._print_deposit_sheet)
        self.act.left.connect(self._back)
        self.discard.left.connect(self._back)
        self.discard.paper_wanted.connect(self._print_discard_list)
        for part in (self.sample, self.object, self.left_entry, self.export):
            part.left.connect(self._back)
        self.object.wanted.connect(self._take_object_in_hand)
        self.sample.wanted.connect(lambda: self.surroundings.take_in_hand.emit(self.sample.code))
        self.left_entry.wanted.connect(self._show_where_left)

    def fit(self, width: int, height: int) -> None:
        self.deposit.make_wide(width >= self.theme.px(_SIDE_BY_SIDE))
        self.discard.make_wide(width >= self.theme.px(_SIDE_BY_SIDE))
        self.lists.make_small(low=height < self.theme.px(_LOW), narrow=width < self.theme.px(_NARROW))
