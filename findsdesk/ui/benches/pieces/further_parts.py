"""A short form for a sample taken of the piece, and what became of those that were taken."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QApplication, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.piece_pages import PiecePage
from findsdesk.desk.samples import SampleFacts, take_sample
from findsdesk.domain.refusals import Refusal
from findsdesk.ui import moments_in_words as times
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench
from findsdesk.ui.models.cells import Cell, Column, TableRow
from findsdesk.ui.models.short import ShortTable
from findsdesk.ui.sample_follow import SampleFollow
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.field_form import Field, FieldForm, FieldKind
from findsdesk.ui.widgets.table_view import TableView
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _

_MOST_ROWS = 5
"""So many samples stand in sight at once."""


class SamplesPart(QWidget):
    """What was taken off the piece, and the form for one more."""

    done = Signal()

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self.bench = bench
        self.page: PiecePage | None = None
        self._typed: dict[int, dict[str, Any]] = {}
        """What is typed and not written, by the id of the piece."""
        around = WordsAround.of(bench.surroundings.desk)
        purposes = tuple(
            (term.key, around.listed("sample_purposes", term.key)) for term in around.lists["sample_purposes"].in_use
        )
        self.form = FieldForm(
            bench.theme,
            (
                Field("what_for", _("For"), FieldKind.CHOICE_OR_NEW, 200, choices=purposes),
                Field("taken_tenths", _("Grams taken"), FieldKind.GRAMS, 80),
                Field("pieces_used", _("Whole sherds used up"), FieldKind.WHOLE, 60, beside=True),
                Field("laboratory", _("Laboratory")),
                Field("permit", _("Permit"), width=160),
            ),
            bench.surroundings.terms,
        )
        self.model = ShortTable(
            (
                Column(_("Sample"), figures=True),
                Column(_("For")),
                Column(_("Grams"), figures=True),
                Column(_("Where it is")),
                Column(_("Result"), grows=True),
            )
        )
        self.table = TableView(bench.theme, _("Samples"))
        self.table.setModel(self.model)
        self.button = QPushButton(_("Write the sample"))
        self.follow = SampleFollow(bench)
        self.follow.hide()
        card = self.card = Card(bench.theme, _("A sample of this piece"))
        card.body.addWidget(self.form)
        card.body.addWidget(self.button, alignment=Qt.AlignmentFlag.AlignLeading)
        card.body.addWidget(labels.muted(_("What is taken off stays in the balance, as used up."), small=True))
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.table)
        layout.addWidget(card)
        layout.addWidget(self.follow)
        bench.theme.changed.connect(self._fit_table)
        self.button.clicked.connect(self.write)
        self.form.entered.connect(self.write)
        self.table.opened.connect(self.open_sample)
        self.follow.left.connect(self.leave_sample)
        self.follow.done.connect(lambda _sample: self._followed())

    def open_sample(self, sample_id: object) -> None:
        """Show what became of a sample of the list, in the place of the form for a new one."""
        found = [one for one in self.page.samples if one.id == sample_id] if self.page else []
        if found:
            self.follow.show_sample(found[0])
            self.card.hide()
            self.follow.show()
            self.follow.form.focus_first()

    def focus_first(self) -> None:
        """Give the keyboard to the first field of the form that is open."""
        (self.follow.form if self.follow.isVisible() else self.form).focus_first()

    def leave_sample(self) -> None:
        """Show the form for a new sample again."""
        focus = QApplication.focusWidget()
        had = focus is not None and self.follow.isAncestorOf(focus)
        self.follow.hide()
        self.card.show()
        if had:
            self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def _followed(self) -> None:
        self.leave_sample()
        self.done.emit()

    def show_piece(self, page: PiecePage | None, around: WordsAround) -> None:
        """Show the samples of a piece."""
        if self.page is None or page is None or self.page.piece.id != page.piece.id:
            self.leave_sample()
            self._keep_typed(page)
        self.page = page
        samples = page.samples if page else ()
        self.model.show_rows([_sample_row(one, around) for one in samples])
        self.table.setVisible(bool(samples))
        self._fit_table()

    def _keep_typed(self, page: PiecePage | None) -> None:
        """Keep what is typed for a sample with its piece, and bring back what was typed at the other one."""
        if self.page is not None:
            self._typed[self.page.piece.id] = self.form.as_typed()
        self.form.clear()
        if page is not None:
            self.form.show_values(self._typed.pop(page.piece.id, {}))

    def _fit_table(self) -> None:
        """Let the table be as high as its rows: the room it took beyond them would be missing in the forms below."""
        rows = min(max(self.model.rowCount(), 1), _MOST_ROWS)
        head = self.table.horizontalHeader().sizeHint().height()
        self.table.setFixedHeight(head + rows * self.table.verticalHeader().defaultSectionSize() + 2)

    def write(self) -> None:
        """Write the sample."""
        values = self.form.read()
        if self.page is None or values is None:
            return
        desk, code = self.bench.surroundings.desk, self.page.piece.code
        said: dict[str, Any] = values | {"pieces_used": values["pieces_used"] or 0}
        self.bench.deed(
            lambda: take_sample(desk, code, **said),
            then=self._written,
            button=self.button,
            lost=self.form.focus_first,
            no=lambda refusal: self._mark_refused(refusal, said),
        )

    def _mark_refused(self, refusal: Refusal, said: dict[str, Any]) -> None:
        """Go back to the field that was refused."""
        if refusal.code == "more_than_there":
            too_many = said["pieces_used"] > int(str(refusal.facts["pieces"]))
            self.form.refuse_field("pieces_used" if too_many else "taken_tenths")
        elif refusal.code == "nothing_taken":
            self.form.refuse_field("taken_tenths")

    def _written(self, sample: SampleFacts) -> None:
        self.form.clear()
        self.form.focus_first()
        said = self.bench.surroundings.words(N_("Sample {number}"), number=sample.number)
        self.bench.surroundings.say(Answer(Tone.DONE, said, f" {sample.piece}"))
        self.done.emit()


def _sample_row(sample: SampleFacts, around: WordsAround) -> TableRow:
    grams = "" if sample.taken_tenths is None else f"{sample.taken_tenths / 10:g}"
    cells = (
        Cell(str(sample.number), strong=True),
        Cell(around.listed("sample_purposes", sample.what_for)),
        Cell(grams),
        Cell(_where(sample, around)),
        Cell(sample.result),
    )
    return TableRow(sample.id, cells)


def _where(sample: SampleFacts, around: WordsAround) -> str:
    """Return where a sample is: here, sent to a laboratory on a day, or back."""
    if sample.back_on is not None:
        return around.say(N_("back {day}"), day=times.day_in_words(sample.back_on, around.today()))
    if sample.sent_on is not None:
        day = times.day_in_words(sample.sent_on, around.today())
        return around.say(N_("sent {day}, {laboratory}"), day=day, laboratory=sample.laboratory or "?")
    return around.say(N_("here"))
