"""Tables brought in: what it holds is said, the file chosen, its columns matched, its rows looked at and taken in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.setting_up import seasons
from findsdesk.desk.table_kinds_known import IN_A_SEASON
from findsdesk.desk.table_looks import TableAsk
from findsdesk.desk.tables_taken import TableTaken, take_in_table, write_questions
from findsdesk.desk.tables_taken_back import TableHere, last_table, take_back_table
from findsdesk.domain.table_kinds import TableKind
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.background import Job
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.set_up.given_texts import GivenTexts
from findsdesk.ui.benches.set_up.rows_followed import RowsFollowed
from findsdesk.ui.benches.set_up.tables_state import (
    TableLooked,
    answered,
    column_choices,
    kind_choices,
    looked,
    table_state,
    taken_answer,
)
from findsdesk.ui.table_preview import PreviewState, TablePreview
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _, plural

_KINDS = N_("Tables (*.csv *.tsv *.txt *.xlsx *.xlsm *.ods)")


@dataclass(frozen=True, slots=True)
class _Looked:
    """What one look brings back from the reading lane."""

    at: TableLooked
    state: PreviewState


@dataclass(frozen=True, slots=True)
class _Here:
    """What the store knows beforehand: its seasons, and the table that was taken in last."""

    seasons: tuple[str, ...]
    last: TableHere | None


class TablesPart(QWidget):
    """Nothing is written before "Take in" is pressed; Escape leaves the table at hand."""

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self.bench = bench
        self.at: TableLooked | None = None
        around = WordsAround.of(bench.surroundings.desk)
        self.asked = QVBoxLayout()
        self.kind, self.season = ChoiceBox(), ChoiceBox()
        for key, words in kind_choices(around):
            self.kind.addItem(words, key)
        self.choose = QPushButton(_("Choose a table …"))
        self.of_season = self._beside(_("of the season"), self.season)
        self._hint = _("CSV, XLSX or ODS. You see first what becomes of each row; what is here already stays as it is.")
        self.hint = labels.muted(self._hint)
        self.given = GivenTexts(bench.theme)
        self.preview = TablePreview(bench.theme, self.given)
        self.questions = QPushButton(_("Write the questions as a list …"))
        self.preview.foot.insertWidget(1, self.questions)
        self.preview.hide()
        self.rows = RowsFollowed(bench.theme)
        self.last: TableHere | None = None
        self.last_said = labels.muted()
        self.back = QPushButton(_("Take it back"))
        self.before = QWidget()
        self._lay_out()
        self._wire()
        self._show_season()

    def refresh(self) -> None:
        """Read the seasons and the last table again; the table at hand stays as it was looked at."""
        desk = self.bench.surroundings.desk

        def work() -> _Here:
            return _Here(tuple(one.name for one in seasons(desk)), last_table(desk))

        self.bench.read(work, self._show_here, "tables")

    def take_back(self) -> None:
        """Take the last table back, after asking."""
        desk, last = self.bench.surroundings.desk, self.last
        if last is not None:
            self.bench.deed(
                lambda: take_back_table(desk, last.file_name),
                sure=lambda: take_back_table(desk, last.file_name, sure=True),
                then=self._taken_back,
                button=self.back,
            )

    def choose_file(self) -> None:
        """Let somebody choose a table, and look at it."""
        surroundings = self.bench.surroundings
        path = surroundings.notices.file_to_open(_("Table"), surroundings.words(_KINDS))
        if path is not None:
            self.begin(Path(path))

    def begin(self, path: Path) -> None:
        """Look at a table as what the choice above says it holds."""
        self.given.forget()
        self._look(TableAsk(path, self._kind(), self._season_chosen()))

    def write_list(self) -> None:
        """Write the rows that wait as a list with their questions."""
        look = self.at.look if self.at else None
        if look is None:
            return
        proposal = look.ask.path.with_name(f"{look.ask.path.stem}-questions.csv")
        kinds = _("Table as text (*.csv)")
        path = self.bench.surroundings.notices.file_to_write(_("Rows with a question"), proposal, kinds)
        if path is not None:
            self.bench.read(lambda: write_questions(look, Path(path)), lambda n: self._written(Path(path), n))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self.at is not None:
            if self.rows.job is None:
                self.leave()
        else:
            super().keyPressEvent(event)

    def leave(self) -> None:
        """Put the table at hand away; nothing of it was written."""
        self.at = None
        self.preview.hide()
        self.hint.setText(self._hint)
        self.hint.show()
        self.choose.setFocus()
        self.refresh()

    def _kind(self) -> TableKind:
        return TableKind(str(self.kind.currentData()))

    def _season_chosen(self) -> str | None:
        return self.season.currentText() or None if self._kind() in IN_A_SEASON else None

    def _look(self, ask: TableAsk, *, taking: str = "") -> None:
        """Look at a table; where as much goes in as ``taking``, the words on the button, it is taken in at once."""
        desk = self.bench.surroundings.desk

        lanes = self.bench.surroundings.lanes
        job = lanes.job("long", topic=f"{self.bench.key}/table", progress=self.rows.tell)

        def work() -> _Looked:
            at = looked(desk, ask, job.follow)
            return _Looked(at, table_state(at, WordsAround.of(desk)))

        self.bench.refusals.clear()
        self.preview.take.setEnabled(False)
        self.choose.setEnabled(False)
        self.hint.setText(_("The table is being read and checked …"))
        self.hint.show()
        self.before.hide()
        self._follow(job)

        def then(one: _Looked) -> None:
            self._show(one)
            if one.state.can_take and one.state.act == taking:
                self._take()

        lanes.read(work, then=then, refused=self.bench.refuse, job=job)

    def _follow(self, job: Job) -> None:
        """Show how far a piece of work is: beside the buttons of the table, or where one is looked at first."""
        (self.hint_line if self.preview.isHidden() else self.preview.foot).addWidget(self.rows)
        self.rows.begin(job)

    def _is_off(self) -> None:
        """Go back to the table at hand, or to none: what looked at another one was called off."""
        if self.rows.job is None or self.rows.job.lane == "deed":
            return  # The act says itself whether it was called off in time.
        self.rows.end()
        self.choose.setEnabled(True)
        if self.at is None:
            self.leave()
        else:
            self.hint.hide()
            self.preview.take.setEnabled(self.preview.state is not None and self.preview.state.can_take)

    def _show(self, one: _Looked) -> None:
        self.rows.end()
        self.at = one.at
        self.choose.setEnabled(True)
        self.hint.hide()
        columns = column_choices(one.at.ask.kind, WordsAround.of(self.bench.surroundings.desk))
        self.given.names = dict(columns)
        self.preview.offer_columns(columns)
        self.preview.show_state(one.state)
        waits = any(row.late for row in one.state.rows)
        self.questions.setVisible(waits)
        self.preview.show()
        self._focus_next(one.state)

    def _focus_next(self, state: PreviewState) -> None:
        """Put the keyboard where something is to be done next."""
        buttons, fields = self.preview.question.buttons, list(self.given.fields.values())
        if state.can_take:
            self.preview.take.setFocus()
        elif state.question and buttons:
            buttons[0].setFocus()
        elif fields and state.refusal:
            fields[0].setFocus()
        elif not self.questions.isHidden():
            self.questions.setFocus()
        else:
            self.preview.leave.setFocus()

    def _take(self) -> None:
        """Take in what is shown; what was typed for all rows without Enter is looked at with it first."""
        desk, look = self.bench.surroundings.desk, self.at.look if self.at else None
        if look is not None and self.given.typed() != dict(look.ask.told.given):
            self._look(self._as_typed(look.ask), taking=self.preview.take.text())
        elif look is not None:
            job = self.bench.surroundings.lanes.job("deed", progress=self.rows.tell)
            self._follow(job)
            self._rest(True)
            self.bench.deed(
                lambda: take_in_table(desk, look, follow=job.follow),
                then=self._taken,
                lost=lambda: self._rest(False),
                button=self.preview.take,
            )

    def _rest(self, resting: bool) -> None:
        """Let the form rest while a table goes in, or wake it."""
        self.preview.rest(resting)
        for part in (self.kind, self.season, self.choose, self.questions):
            part.setEnabled(not resting)
        if not resting:
            self.rows.end()

    def _taken(self, taken: TableTaken) -> None:
        self._rest(False)
        self.bench.surroundings.say(taken_answer(taken, WordsAround.of(self.bench.surroundings.desk)))
        if taken.waiting and self.at is not None:
            self._look(self.at.ask)
        else:
            self.leave()

    def _written(self, path: Path, rows: int) -> None:
        said = plural(": {n} row with its question", ": {n} rows with their questions", rows)
        self.bench.surroundings.say(Answer(Tone.DONE, path.name, said))

    def _show_here(self, here: _Here) -> None:
        chosen = self.season.currentText()
        self.season.clear()
        self.season.addItems(list(here.seasons))
        if chosen in here.seasons:
            self.season.setCurrentText(chosen)
        self.last = here.last
        self.before.setVisible(here.last is not None and self.at is None)
        if here.last is not None:
            when = here.last.taken_at.astimezone(self.bench.surroundings.desk.facts.zone)
            rows = plural("{n} row", "{n} rows", here.last.rows)
            text = _("Taken in last: {file}, {rows}, {when}.")
            self.last_said.setText(text.format(file=here.last.file_name, rows=rows, when=f"{when:%Y-%m-%d %H:%M}"))

    def _taken_back(self, table: TableHere) -> None:
        rows = plural(": {n} row taken back", ": {n} rows taken back", table.rows)
        self.bench.surroundings.say(Answer(Tone.DONE, table.file_name, rows))
        self.refresh()
        self.choose.setFocus()

    def _show_season(self) -> None:
        self.of_season.setVisible(self._kind() in IN_A_SEASON)

    # What a person changes before it goes in

    def _again(self) -> None:
        """Look again as another kind, or as of another season."""
        self._show_season()
        if self.at is not None:
            self.given.forget()
            same = self.at.ask.kind is self._kind()
            ask = replace(self.at.ask, kind=self._kind(), season=self._season_chosen())
            self._look(ask if same else TableAsk(ask.path, ask.kind, ask.season, ask.encoding, ask.sheet))

    def _match(self, columns: Mapping[str, str]) -> None:
        if self.at is not None:
            self._look(replace(self.at.ask, columns=columns))

    def _answer(self, code: str, choice: str) -> None:
        if self.at is not None:
            self._look(answered(self.at.ask, code, choice))

    def _give(self) -> None:
        """Look again with all that is typed for all rows."""
        if self.at is not None:
            self._look(self._as_typed(self.at.ask))

    def _as_typed(self, ask: TableAsk) -> TableAsk:
        return replace(ask, told=replace(ask.told, given=self.given.typed()))

    def _sheet(self, sheet: str) -> None:
        if self.at is not None:
            self._look(replace(self.at.ask, sheet=sheet, columns={}))

    def _wire(self) -> None:
        preview = self.preview
        self.kind.activated.connect(lambda _place: self._again())
        self.season.activated.connect(lambda _place: self._again())
        self.choose.clicked.connect(self.choose_file)
        self.questions.clicked.connect(self.write_list)
        self.back.clicked.connect(self.take_back)
        preview.taken.connect(self._take)
        preview.left.connect(self.leave)
        preview.matched.connect(self._match)
        preview.answered.connect(self._answer)
        preview.sheet_chosen.connect(self._sheet)
        self.rows.off.connect(self._is_off)
        self.given.given.connect(lambda _column, _value: self._give())

    def _beside(self, text: str, box: ChoiceBox) -> QWidget:
        """Return a box with its label before it, as high as a button."""
        pair = QWidget()
        row = QHBoxLayout(pair)
        row.setContentsMargins(0, 0, 0, 0)
        label: QLabel = labels.plain(text, wrap=False)
        label.setBuddy(box)
        row.addWidget(label)
        row.addWidget(box)
        pair.setMinimumHeight(self.choose.sizeHint().height())
        return pair

    def _lay_out(self) -> None:
        px = self.bench.theme.px
        above, line = QWidget(), FlowLayout(px(14), px(6))
        above.setLayout(line)
        self.kind.setAccessibleName(_("What the table holds"))
        self.season.setAccessibleName(_("Season of the table"))
        line.addWidget(self._beside(_("The table holds"), self.kind))
        line.addWidget(self.of_season)
        line.addWidget(self.choose)
        row = QVBoxLayout(self.before)
        row.setContentsMargins(0, px(14), 0, 0)
        row.addWidget(self.last_said)
        row.addWidget(self.back, alignment=Qt.AlignmentFlag.AlignLeft)
        self.before.hide()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(px(10))
        layout.addWidget(above)
        layout.addLayout(self.asked)
        self.hint_line = QHBoxLayout()
        self.hint_line.addWidget(self.hint, 1)
        layout.addLayout(self.hint_line)
        layout.addWidget(self.before)
        layout.addWidget(self.preview, 1)
        layout.addStretch(0)
