"""The page of a discard list: what is known of it, its lines, what can be done with it, and the act at hand."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QBoxLayout, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.desk import Desk
from findsdesk.desk.discard_lists import WholeList, discard_list
from findsdesk.desk.photos import pictures_of
from findsdesk.desk.setting_up import people
from findsdesk.domain.discards import SIGNERS, Stage
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.registers.discard_acts import ACTS, DiscardAct
from findsdesk.ui.benches.registers.discard_form import DiscardForm
from findsdesk.ui.benches.registers.discard_words import done_in_words, facts_in_words, head_of, line_columns, line_row
from findsdesk.ui.models.short import ShortTable
from findsdesk.ui.photo_strip import PhotoStrip, Pictures
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.form_rows import FormRows
from findsdesk.ui.widgets.table_view import TableView
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _

_SIDE = 56
"""Pixels of a small picture at 100 per cent."""


@dataclass(frozen=True, slots=True)
class _Read:
    """What one reading brings: the list, who of the team may sign, the photographs of it."""

    whole: WholeList
    signers: tuple[str, ...]
    pictures: Pictures = ()


class DiscardPart(QWidget):
    """Shows one discard list; its acts are worked by keyboard, on the page."""

    left = Signal()
    paper_wanted = Signal(object)
    """Somebody wants the list on paper: its ``ListFacts``."""

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self.bench = bench
        self.whole: WholeList | None = None
        self._signers: tuple[str, ...] = ()
        self.back = QPushButton(_("Back"))
        self.paper = QPushButton(_("Print …"))
        self.acts: dict[str, QPushButton] = {}
        self.known = Card(bench.theme)
        self.form = DiscardForm(bench)
        self.photos = PhotoStrip(bench, _SIDE, in_a_row=True)
        self.model = ShortTable(line_columns(self._around()))
        self.table = TableView(bench.theme, _("Lines of the list"))
        self.table.setModel(self.model)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.table.may_leave_out([7, 2, 5])
        self._wire()
        self._lay_out()

    def show_list(self, number: int, season: str) -> None:
        """Read a list and show it."""
        desk = self.bench.surroundings.desk
        self.bench.read(lambda: _read(desk, number, season), self._show, topic="discard")

    def reload(self) -> None:
        """Read the list again, where there is one; a form that somebody fills in stays."""
        if self.whole is not None:
            self.show_list(self.whole.facts.number, self.whole.facts.season)

    def chosen(self) -> list[int]:
        """Return the ids of the chosen lines that still stand."""
        standing = {line.id for line in self.whole.standing} if self.whole else set()
        rows = sorted({index.row() for index in self.table.selectionModel().selectedIndexes()})
        ids = (self.model.rows[row].row_id for row in rows)
        return [row_id for row_id in ids if isinstance(row_id, int) and row_id in standing]

    def _show(self, read: _Read) -> None:
        other = self.whole is None or self.whole.facts.id != read.whole.facts.id
        self.whole, self._signers = read.whole, read.signers
        around = self._around()
        if other:
            self.form.leave()
        self.say_going_on()
        while (item := self._facts.takeAt(0)) is not None:
            if (label := item.widget()) is not None:
                label.hide()
                label.deleteLater()
        for what, said in facts_in_words(read.whole, around):
            self._facts.add_row(labels.muted(what, wrap=False), labels.plain(said))
        self._show_photos(read)
        self.model.show_rows([line_row(line, read.whole.facts, around) for line in read.whole.lines])
        self.table.fit_columns()
        settings = self.bench.surroundings.desk.facts.settings
        for act in ACTS:
            self.acts[act.key].setVisible(act.allowed(read.whole.facts.stage, settings))
        if other:
            self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def _show_photos(self, read: _Read) -> None:
        """Show the photographs of what is thrown away and where; they are asked for from the signing on."""
        facts = read.whole.facts
        name = head_of(facts, self._around())
        self.photos.show_pictures(("discard_list", facts.id), name, read.pictures)
        self.photos.setVisible(facts.stage is not Stage.PROPOSED or bool(read.pictures))

    def say_going_on(self) -> None:
        """Write beside the bench's title which list this is."""
        self.bench.say_going_on(head_of(self.whole.facts, self._around()) if self.whole else "")

    # What somebody does

    def choose(self, act: DiscardAct) -> None:
        """Open the form of an act."""
        if self.whole is not None:
            self.bench.refusals.clear()
            self.form.begin(act, self.whole, self._signers)
            self._say_lines()

    def _write(self) -> None:
        act, values, whole = self.form.act, self.form.read(), self.whole
        if act is None or values is None or whole is None:
            return
        desk, lines = self.bench.surroundings.desk, self.chosen() if act.of_lines else []
        if act.of_lines and not lines and len(whole.standing) > 1:
            text = N_("Choose the lines first, below. Ctrl+A in the table chooses all.")
            self.bench.refuse(Refusal("no_lines_chosen", text))
            return
        self.bench.deed(
            lambda: act.do(desk, whole, values, lines),
            then=self._written,
            button=self.form.write,
            lost=self.form.forget_pin,
        )

    def _written(self, whole: WholeList) -> None:
        act, before, around = self.form.act, self.whole, self._around()
        self.form.leave_written()
        self._show(_Read(whole, self._signers, self.photos.pictures))
        if act is not None and before is not None:
            head = around.say(N_("Discard list {number}"), number=whole.facts.number)
            self.bench.surroundings.say(Answer(Tone.DONE, head, f": {done_in_words(act.done, before, whole, around)}"))
        self.back.setFocus(Qt.FocusReason.OtherFocusReason)

    def _want_paper(self) -> None:
        if self.whole is not None:
            self.paper_wanted.emit(self.whole.facts)

    def _say_lines(self) -> None:
        if self.whole is not None:
            self.form.say_lines(len(self.chosen()), len(self.whole.standing))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() != Qt.Key.Key_Escape:
            super().keyPressEvent(event)
        elif self.form.act is not None:
            self._leave_form()
        else:
            self.left.emit()

    def _leave_form(self) -> None:
        self.form.leave()
        self.bench.refusals.clear()
        self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    # Frame

    def make_wide(self, wide: bool) -> None:
        """Set the form beside what is known, or below it."""
        directions = QBoxLayout.Direction
        self._parts.setDirection(directions.LeftToRight if wide else directions.TopToBottom)

    def _around(self) -> WordsAround:
        return WordsAround.of(self.bench.surroundings.desk)

    def _wire(self) -> None:
        self.back.clicked.connect(self.left)
        self.paper.clicked.connect(self._want_paper)
        self.form.left.connect(self._leave_form)
        self.photos.done.connect(self.reload)
        self.form.wanted.connect(self._write)
        self.table.selectionModel().selectionChanged.connect(self._say_lines)
        for act in ACTS:
            button = QPushButton(self.bench.surroundings.words(act.button))
            button.clicked.connect(self._chooser(act))
            self.acts[act.key] = button

    def _chooser(self, act: DiscardAct) -> Callable[[], None]:
        return lambda: self.choose(act)

    def _lay_out(self) -> None:
        px = self.bench.theme.px
        acts = QWidget()
        flow = FlowLayout(px(8), px(6))
        acts.setLayout(flow)
        for button in (self.back, *self.acts.values(), self.paper):
            flow.addWidget(button)
        self._facts = FormRows()
        self._facts.set_gaps(px(14), px(8))
        self.known.body.addLayout(self._facts)
        self.known.body.addWidget(self.photos)
        self.known.body.addStretch(1)
        self._parts = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._parts.addWidget(self.known, 4)
        self._parts.addWidget(self.form, 5)
        self.table.setMinimumHeight(px(140))
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(px(10))
        whole.addWidget(acts)
        whole.addLayout(self._parts)
        whole.addWidget(self.table, 1)


def _read(desk: Desk, number: int, season: str) -> _Read:
    signers = tuple(person.name for person in people(desk) if person.active and person.role in SIGNERS)
    whole = discard_list(desk, number, season=season)
    concerned = {whole.facts.made_by, *(name for name, _pieces in whole.deciders)}
    others = tuple(name for name in signers if name not in concerned)
    return _Read(whole, others or signers, pictures_of(desk, ("discard_list", whole.facts.id)))
