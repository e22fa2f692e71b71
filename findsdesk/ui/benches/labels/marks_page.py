"""Marks to ink: the mark over a sherd with its length, the solvents, the marking list ticked off by scan and key."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QBoxLayout, QCheckBox, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from findsdesk.desk.mark_lines import DepositMarks, MarkLine, progress_of
from findsdesk.desk.marking_sheet import IN_THREE_COATS, TOO_SMALL, WHERE_TO_WRITE
from findsdesk.desk.shipped import cautions_at
from findsdesk.domain.cautions import At
from findsdesk.domain.marking import Tick
from findsdesk.ui.bench import act_button
from findsdesk.ui.benches.labels import mark_words
from findsdesk.ui.benches.labels.tick_strip import KEYS, TickStrip
from findsdesk.ui.models.cells import Column
from findsdesk.ui.models.short import ShortTable
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.dossier_facts import Caution
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.marked_sherd import MarkedSherd
from findsdesk.ui.widgets.slips import CautionSlip, EmptySlip
from findsdesk.ui.widgets.table_view import TableView
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _

_SIDE_BY_SIDE = 470
"""Pixels of width, at 100 per cent, under which the words stand below the sherd."""
_SPARE = (1, 5, 4)
"""The columns of deposit (most marks name it), slips and written, which fall away where there is little room."""


class MarkTable(TableView):
    """The marking list: letters and digits typed in it mean ticks, and never search."""

    typed = Signal(str)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        back = event.key() == Qt.Key.Key_Backspace
        plain = not event.modifiers() & ~(Qt.KeyboardModifier.KeypadModifier | Qt.KeyboardModifier.ShiftModifier)
        text = event.text().casefold()
        if plain and (back or text in KEYS or (text.isdecimal() and text.isascii())):
            self.typed.emit("back" if back else text)
            return
        super().keyPressEvent(event)


class MarksPage(QWidget):
    """The line under the cursor is the mark that is drawn, and the one that is ticked; a scan leads to its line."""

    list_wanted = Signal(object)
    """The number of a deposit, or None for all."""
    tick_wanted = Signal(object, object)
    """(MarkLine, Ticked)."""
    back_wanted = Signal(object)
    """The MarkLine whose newest tick is taken back."""

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.surroundings, self.theme = surroundings, surroundings.theme
        theme, say = surroundings.theme, surroundings.words
        self._every: tuple[MarkLine, ...] = ()
        self._marks: tuple[MarkLine, ...] = ()
        self._progress: tuple[DepositMarks, ...] = ()
        self._current = ""
        self._in_hand = ""
        self._around: WordsAround | None = None
        self.sherd = MarkedSherd(theme)
        self.caption = labels.headed()
        self.where = labels.muted(small=True)
        self.caution = CautionSlip(theme)
        self.beside = QWidget()
        """Where to write, with what, and the caution; it stands below the list of the bench."""
        self.deposit = ChoiceBox()
        self.deposit.setAccessibleName(say(N_("{Deposit}")))
        self.deposit.setSizeAdjustPolicy(ChoiceBox.SizeAdjustPolicy.AdjustToContents)
        self.done_too = QCheckBox(_("done too"))
        self.progress = labels.muted(wrap=False)
        self.model = ShortTable(
            (
                Column(say(N_("{Container}"))),
                Column(say(N_("{Deposit}"))),
                Column(_("Mark"), grows=True),
                Column(_("To mark"), figures=True),
                Column(_("Written"), figures=True),
                Column(_("Slips"), figures=True),
                Column(_("Checked"), figures=True),
            ),
            self,
        )
        self.table = MarkTable(theme, _("Marks to ink"))
        self.table.setModel(self.model)
        self.table.may_leave_out(_SPARE)
        self.strip = TickStrip(surroundings)
        self.hint = labels.muted(small=True)
        self.print_all, self.print_one = act_button(_("Print the list")), QPushButton()
        self.empty = EmptySlip(
            theme, say(N_("No sorted {container} has kept pieces to mark. What is to be inked stands here."))
        )
        self._whole = QWidget()
        self._lay_out()
        self._wire()

    def _lay_out(self) -> None:
        card = Card(self.theme)
        side = QVBoxLayout()
        side.addWidget(self.caption)
        side.addStretch(1)
        self._top = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._top.addWidget(self.sherd, 3)
        self._top.addLayout(side, 2)
        card.body.addLayout(self._top, 1)
        beside = QVBoxLayout(self.beside)
        beside.setContentsMargins(0, 0, 0, 0)
        beside.addWidget(self.where)
        beside.addWidget(self.caution)
        self._choice = FlowLayout()
        choice = self._flowing(self._choice, self.deposit, self.done_too, self.progress)
        self._foot = FlowLayout()
        foot = self._flowing(self._foot, self.print_all, self.print_one, self.strip.back)
        layout = QVBoxLayout(self._whole)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(card)
        layout.addWidget(choice)
        layout.addWidget(self.table, 1)
        layout.addWidget(self.strip)
        layout.addWidget(self.hint)
        layout.addWidget(foot)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(self._whole, 1)
        outer.addWidget(self.empty, 1)

    @staticmethod
    def _flowing(flow: FlowLayout, *parts: QWidget) -> QWidget:
        holder = QWidget()
        holder.setLayout(flow)
        holder.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        for part in parts:
            flow.addWidget(part)
        return holder

    def _wire(self) -> None:
        self.table.picked.connect(self._picked)
        self.table.opened.connect(lambda _code: self.strip.ask(Tick.WRITTEN))
        self.table.typed.connect(self._typed)
        self.strip.wanted.connect(self._tick)
        self.strip.take_back.connect(self._take_back)
        self.strip.put_aside.connect(self.table.setFocus)
        self.deposit.activated.connect(lambda _place: self._show())
        self.done_too.toggled.connect(lambda _on: self._show())
        self.print_all.clicked.connect(lambda: self.list_wanted.emit(None))
        self.print_one.clicked.connect(self._print_one)

    # Showing

    def show_marks(self, lines: tuple[MarkLine, ...], people: Sequence[str], in_hand: str, around: WordsAround) -> None:
        """Show the marking list; the cursor stays on its line, or on the next where that is done.

        What came in hand since (its code) leads to its line.
        """
        self._every, self._around = lines, around
        if in_hand != self._in_hand:
            self._in_hand = in_hand
            its_lines = [one.code for one in lines if in_hand in (one.code, one.container_code)]
            self._current = next(iter(its_lines), self._current)
        self._progress = progress_of(lines)
        self._whole.setVisible(bool(lines))
        self.empty.setVisible(not lines)
        self.where.setText(" ".join(around.say(text) for text in (WHERE_TO_WRITE, IN_THREE_COATS, TOO_SMALL)))
        self.caution.show_caution(next(iter(_cautions(around)), None))
        self.strip.show_people(people, self.surroundings.desk.person.name)
        self._show_deposits(around)
        self._show()

    def _show_deposits(self, around: WordsAround) -> None:
        chosen = self.deposit.currentData()
        every = around.say(N_("Every {deposit}"))
        offered: list[tuple[str, str | None]] = [(every, None)]
        offered += [(mark_words.deposit_in_words(one, around), one.deposit) for one in self._progress]
        if [self.deposit.itemText(place) for place in range(self.deposit.count())] != [text for text, _key in offered]:
            self.deposit.clear()
            for text, deposit in offered:
                self.deposit.addItem(text, deposit)
        place = next((n for n, (_text, deposit) in enumerate(offered) if deposit == chosen), 0)
        self.deposit.setCurrentIndex(place)

    def _show(self) -> None:
        """Show the lines by what is chosen above them."""
        if self._around is None:
            return
        deposit, done_too = self.deposit.currentData(), self.done_too.isChecked()
        of = [one for one in self._progress if deposit is None or one.deposit == deposit]
        self.progress.setText(mark_words.progress(of, self._around))
        self._marks = tuple(
            one for one in self._every if (deposit is None or one.deposit == deposit) and (done_too or not one.is_done)
        )
        current, before = self._current, max(0, self.table.currentIndex().row())
        common = mark_words.in_common(self._every)
        self.model.show_rows([mark_words.mark_row(one, common) for one in self._marks])
        place = next((n for n, one in enumerate(self._marks) if one.code == current), before)
        if self._marks:
            self._stand_at(min(place, len(self._marks) - 1))
        else:
            self._draw(None)

    def _stand_at(self, place: int) -> None:
        self.table.selectRow(place)
        self._draw(self._marks[place])

    def go_to(self, code: str) -> None:
        """Lead to the line of what was scanned (a container's or a piece's code), and take the keyboard there."""
        self.table.setFocus(Qt.FocusReason.OtherFocusReason)
        place = self._place_of(code)
        if place is None and any(code in (one.code, one.container_code) for one in self._every):
            self.deposit.setCurrentIndex(0)
            self.done_too.setChecked(self.done_too.isChecked() or self._is_done(code))
            self._show()
            place = self._place_of(code)
        if place is not None:
            self._stand_at(place)
        elif self._around is not None:
            self.hint.setText(
                self._around.say(N_("It has no line here: it is not settled, or nothing of it is kept or inked."))
            )

    def _is_done(self, code: str) -> bool:
        return all(one.is_done for one in self._every if code in (one.code, one.container_code))

    def _place_of(self, code: str) -> int | None:
        found = [n for n, one in enumerate(self._marks) if one.code == code]
        found += [n for n, one in enumerate(self._marks) if one.container_code == code]
        return next(iter(found), None)

    def _line(self) -> MarkLine | None:
        return next((one for one in self._marks if one.code == self.table.row_id()), None)

    def _picked(self, code: object) -> None:
        one = next((mark for mark in self._marks if mark.code == code), None)
        if one is not None:
            self._draw(one)

    def _draw(self, one: MarkLine | None) -> None:
        self.strip.show_line(one)
        self.print_one.setVisible(bool(one and one.deposit) and len(self._progress) > 1)
        self.hint.setText(_("Enter written, C checked, W wrong, S slip bag; a number first."))
        if one is None:
            return
        self._current = one.code
        lettering = self.surroundings.desk.facts.settings.lettering_tenths_mm
        self.sherd.show_mark(one.lines, one.length_tenths / 10, one.smallest_mm)
        self.caption.setText(labels.rich(one.text, mark_words.caption(one, lettering)))
        self.print_one.setText(_("Only of {number}").format(number=one.deposit))

    # What is done here

    def _typed(self, text: str) -> None:
        if text == "back":
            self._take_back()
        elif text in KEYS:
            self.strip.ask(KEYS[text])
        else:
            self.strip.type_number(text)

    def _tick(self, ticked: object) -> None:
        line = self._line()
        if line is not None:
            self.tick_wanted.emit(line, ticked)

    def _take_back(self) -> None:
        line = self._line()
        if line is not None:
            self.back_wanted.emit(line)

    def written(self) -> None:
        """Empty the number once a tick is written, and go back to the list."""
        self.strip.clear_number()
        self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def _print_one(self) -> None:
        line = self._line()
        if line is not None:
            self.list_wanted.emit(line.deposit)

    def fit(self, width: int) -> None:
        """Put the words beside the sherd where there is room."""
        wide = width >= self.theme.px(_SIDE_BY_SIDE)
        directions = QBoxLayout.Direction
        self._top.setDirection(directions.LeftToRight if wide else directions.TopToBottom)
        self.table.setMinimumHeight(self.theme.px(140))
        self.strip.space()
        height = self.print_all.sizeHint().height()
        for part in (self.deposit, self.done_too, self.progress):
            part.setMinimumHeight(height)
        for flow in (self._choice, self._foot):
            flow.set_gaps(self.theme.px(10), self.theme.px(6))


def _cautions(around: WordsAround) -> Sequence[Caution]:
    return [Caution(around.say(one.lead), around.say(one.text)) for one in cautions_at(At.MARK)]
